// Why this file exists: bytecode must be made by the Python that will read it, which
// is the one inside Pyodide. Runs in Node; starts the stock runtime, lets Python
// find out which of its modules the engine uses, and compiles those.
//
// Arguments: the Pyodide folder, the geos-wasm module, site_src, a job file, the folder
// to write into, the engine's wheel, the wheels it needs.
import { mkdirSync, readFileSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [pyodide, geos, site, job, out, ...wheels] = process.argv.slice(2).map((path) => resolve(path));
const load = (path) => import(pathToFileURL(path).href);

async function main() {
  const { loadPyodide } = await load(`${pyodide}/pyodide.mjs`);
  const { forPython, startGeos } = await load(`${site}/worker/geos_kernel.js`);
  const batch = forPython(await startGeos((await load(geos)).default));
  // A fixed seed: the order of a set must not find its way into the bytecode.
  const python = await loadPyodide({ indexURL: pyodide, env: { PYTHONHASHSEED: '0' }, stdout: () => {} });
  await python.loadPackage(wheels.map((path) => pathToFileURL(path).href), { messageCallback: () => {} });

  mkdirSync(out, { recursive: true });
  python.mountNodeFS('/out', out);
  for (const wheel of wheels) python.FS.writeFile(`/tmp/${basename(wheel)}`, readFileSync(wheel));
  python.runPython(readFileSync(new URL('in_runtime.py', import.meta.url), 'utf8'));
  const work = python.globals.get('work');
  work(python.toPy(wheels.map((path) => `/tmp/${basename(path)}`)), readFileSync(job, 'utf8'), batch);
}

// Only the message: Node would print the runtime's minified source before it.
await main().catch((fault) => {
  console.error(fault.message);
  process.exitCode = 1;
});
