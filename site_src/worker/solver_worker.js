// @ts-check
/**
 * Why this file exists: the thread that HiGHS lives in. It is started for a search and ended with it, so that a start
 * of the app carries nothing of it, and a search is stopped by ending the thread.
 */
import { readCacheFirst } from './cache_first.js';
import { solve } from './solver.js';

/** @typedef {import('./solver.js').Highs} Highs */
/** @typedef {{cache: string | null, text: string}} ToSolver */
/**
 * @typedef {{kind: 'so far', news: import('./solver.js').SoFar} | {kind: 'solved', solved: import('./solver.js').Solved}
 *   | {kind: 'failed', message: string}} FromSolver
 */

/** @type {Promise<Highs> | null} */
let starting = null;

/** @param {string | null} cache @returns {Promise<Highs>} */
async function start(cache) {
  readCacheFirst(cache);
  const { default: loadHighs } = await import('../vendor/highs/highs.mjs');
  const wasm = new URL('../vendor/highs/highs.wasm', import.meta.url).href;
  return loadHighs({ locateFile: () => wasm });
}

/** @param {FromSolver} message */
const send = (message) => postMessage(message);

addEventListener('message', async ({ data }) => {
  const { cache, text } = /** @type {ToSolver} */ (data);
  try {
    starting ??= start(cache);
    send({ kind: 'solved', solved: solve(await starting, text, (news) => send({ kind: 'so far', news })) });
  } catch (fault) {
    send({ kind: 'failed', message: fault instanceof Error ? fault.message : String(fault) });
  }
});
