// Why this file exists: bytecode must be made by the Python that will read it, which
// is the one inside Pyodide. Runs in Node; starts the stock runtime, lets Python
// find out which of its modules the engine uses, and compiles those.
//
// Arguments: the Pyodide folder, the geos-wasm module, site_src, a job file, a folder with the
// packages' sources, the folder to write into.
import { mkdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [pyodide, geos, site, job, packages, out] = process.argv.slice(2).map((path) => resolve(path));
const load = (path) => import(pathToFileURL(path).href);

async function main() {
  const { loadPyodide } = await load(`${pyodide}/pyodide.mjs`);
  const { forPython, startGeos } = await load(`${site}/worker/geos_kernel.js`);
  const batch = forPython(await startGeos((await load(geos)).default));
  // A fixed seed: the order of a set must not find its way into the bytecode. Nor do columns: a trace points
  // at them in the source's line, and there are no sources on a phone.
  const env = { PYTHONHASHSEED: '0', PYTHONNODEBUGRANGES: '1', PYTHONDONTWRITEBYTECODE: '1' };
  const python = await loadPyodide({ indexURL: pyodide, env, stdout: () => {} });

  // As on the phone (worker/packages.js): without the runtime's own loader, and what of the library only that one uses.
  python.mountNodeFS('/packages', packages);
  python.pyimport('sys').path.append('/packages');
  mkdirSync(out, { recursive: true });
  python.mountNodeFS('/out', out);
  python.runPython(readFileSync(new URL('in_runtime.py', import.meta.url), 'utf8'));
  python.globals.get('work')(readFileSync(job, 'utf8'), batch);
}

// Only the message: Node would print the runtime's minified source before it.
await main().catch((fault) => {
  console.error(fault.message);
  process.exitCode = 1;
});
