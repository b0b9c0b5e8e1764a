// @ts-check
/**
 * Why this file exists: a search has a thread of its own that solves its programmes; that there is a worker, and that
 * it is ended with the search, is known here alone.
 */
import { cacheInUse } from './offline.js';
import { solverAddress } from './trusted.js';

/** @typedef {import('../worker/solver.js').SoFar} SoFar */
/** @typedef {import('../worker/solver.js').Solved} Solved */
/** @typedef {ReturnType<typeof openSolver>} Solver */

export function openSolver() {
  const worker = new Worker(solverAddress(), { type: 'module', name: 'solver' });
  /** @type {(fault: unknown) => void} */
  let giveUp = () => {};

  /**
   * @param {string} text the programme as the engine wrote it @param {(news: SoFar) => void} onNews
   * @returns {Promise<Solved>} rejects when it cannot be solved, or was ended
   */
  async function solve(text, onNews) {
    const cache = await cacheInUse();
    return new Promise((resolve, reject) => {
      giveUp = reject;
      worker.onerror = ({ message }) => reject(new Error(message || 'it did not start'));
      worker.onmessage = ({ data }) => {
        const message = /** @type {import('../worker/solver_worker.js').FromSolver} */ (data);
        if (message.kind === 'so far') onNews(message.news);
        else if (message.kind === 'solved') resolve(message.solved);
        else reject(new Error(message.message));
      };
      worker.postMessage({ cache, text });
    });
  }

  /** Also in the middle of a programme. */
  function end() {
    worker.terminate();
    giveUp(new Error('ended'));
  }

  return { solve, end };
}
