// @ts-check
/**
 * Why this file exists: it starts Python and GEOS side by side, from our own origin,
 * and hands out the engine as one function from text to text. The checks run it
 * too, in Node, to prove that what the builder packed starts.
 */
import { loadPyodide } from '../runtime/pyodide.mjs';
import { forPython, startGeos } from './geos_kernel.js';
import { layPackages, readPackages } from './packages.js';

const FOLDER = new URL('../runtime/', import.meta.url).href;

/**
 * `loadMore` loads what one more kind of request needs and tells whether more is left to load.
 * @typedef {{step: string, done?: number}} News
 * @typedef {{python: string, pyodide: string}} Facts
 * @typedef {{handle: (text: string) => string, loadMore: () => boolean, facts: Facts}} RunningEngine
 */

/**
 * @param {(news: News) => void} report told what is being done, while starting and while computing
 * @param {string} [folder] where the runtime lies; Node wants a path
 * @param {import('./packages.js').Read} [read] Node reads from the disk
 * @returns {Promise<RunningEngine>}
 */
export async function startEngine(report, folder = FOLDER, read = fetched) {
  report({ step: 'Starting Python' });
  const [python, batch] = await Promise.all([startPython(folder, read), startGeometry()]);
  report({ step: 'Starting the engine' });
  const entry = python.pyimport('engine.entry');
  entry.start(forPython(batch));
  /** @param {string} text Progress as the engine writes it */
  const tell = (text) => report(JSON.parse(text));
  return { handle: (text) => entry.handle(text, tell), loadMore: () => entry.load_more(), facts: factsOf(python) };
}

/** @param {string} folder @param {import('./packages.js').Read} read */
async function startPython(folder, read) {
  const lock = read(`${folder}pyodide-lock.json`, '').then((bytes) => JSON.parse(new TextDecoder().decode(bytes)));
  const archives = lock.then((found) => readPackages(found, folder, read));
  // Python says nothing on the console: what it has to say comes as data.
  const options = { indexURL: folder, packageBaseUrl: folder, lockFileContents: lock, stdout: () => {} };
  const [python, packages] = await Promise.all([loadPyodide(options), archives]);
  layPackages(python, packages);
  return python;
}

/** @type {import('./packages.js').Read} */
async function fetched(address, integrity) {
  const answer = await fetch(address, { integrity });
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** Not a static import: Python would wait for the whole of it to be read. */
const startGeometry = async () => startGeos((await import('../vendor/geos-wasm/geos.esm.js')).default);

/** @param {any} python @returns {Facts} */
function factsOf(python) {
  const { major, minor, micro } = python.pyimport('sys').version_info;
  return { python: [major, minor, micro].join('.'), pyodide: python.version };
}
