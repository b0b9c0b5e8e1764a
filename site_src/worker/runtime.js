// @ts-check
/**
 * Why this file exists: it starts Python and GEOS side by side, from our own origin,
 * and hands out the engine as one function from text to text. The checks run it
 * too, in Node, to prove that what the builder packed starts.
 */
import { loadPyodide } from '../runtime/pyodide.mjs';
import { forPython, startGeos } from './geos_kernel.js';

const FOLDER = new URL('../runtime/', import.meta.url).href;
/** As in runtime/pyodide-lock.json, which also says what they must hash to. */
const PACKAGES = ['out-of-true'];

/**
 * @typedef {{step: string, done?: number}} News
 * @typedef {{python: string, pyodide: string}} Facts
 * @typedef {{handle: (text: string) => string, facts: Facts}} RunningEngine
 */

/**
 * @param {(news: News) => void} report told what is being done, while starting and while computing
 * @param {string} [folder] where the runtime lies; Node wants a path
 * @returns {Promise<RunningEngine>}
 */
export async function startEngine(report, folder = FOLDER) {
  report({ step: 'Starting Python' });
  const [python, batch] = await Promise.all([startPython(folder), startGeometry()]);
  report({ step: 'Starting the engine' });
  const entry = python.pyimport('engine.entry');
  entry.start(forPython(batch));
  /** @param {string} text Progress as the engine writes it */
  const tell = (text) => report(JSON.parse(text));
  return { handle: (text) => entry.handle(text, tell), facts: factsOf(python) };
}

/** @param {string} folder */
function startPython(folder) {
  // Python says nothing on the console: what it has to say comes as data.
  return loadPyodide({ indexURL: folder, packages: PACKAGES, stdout: () => {} });
}

/** Not a static import: Python would wait for the whole of it to be read. */
const startGeometry = async () => startGeos((await import('../vendor/geos-wasm/geos.esm.js')).default);

/** @param {any} python @returns {Facts} */
function factsOf(python) {
  const { major, minor, micro } = python.pyimport('sys').version_info;
  return { python: [major, minor, micro].join('.'), pyodide: python.version };
}
