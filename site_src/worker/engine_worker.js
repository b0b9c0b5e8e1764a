// @ts-check
/**
 * Why this file exists: the thread the engine lives in. It starts the engine when
 * told, hands it one request after the other and sends back whatever comes,
 * faults included, as data.
 */
import { readCacheFirst } from './cache_first.js';

/** @typedef {import('./protocol.js').ToWorker} ToWorker */
/** @typedef {import('./protocol.js').FromWorker} FromWorker */

/** @type {import('./runtime.js').RunningEngine | null} */
let engine = null;
/** The request being computed, 0 while starting. */
let current = 0;
/** How long nobody must have asked before the rest of the engine is loaded, a piece at a time. */
const PAUSE_MS = 300;
let pause = 0;
let isMore = true;

/** @param {FromWorker} message */
const send = (message) => postMessage(message);

/** Called by the runtime while it starts and by the engine while it computes. @param {any} news */
function report(news) {
  const { step = '', done = 0 } = typeof news === 'string' ? { step: news } : news;
  send(current ? { kind: 'progress', id: current, progress: { step, done } } : { kind: 'starting', step });
}

/** @param {string | null} cache */
async function start(cache) {
  const reads = readCacheFirst(cache);
  try {
    // Not a static import: a file that is missing must be told in words.
    const { startEngine } = await import('./runtime.js');
    engine = await startEngine(report);
    send({ kind: 'ready', fromCache: reads.allFromCache() ? cache : null });
    loadMoreInPause();
  } catch (fault) {
    send({ kind: 'failed', sentence: 'The engine could not start.', trace: traceOf(fault) });
  }
}

/** So that no tap waits for what the first answers did not need. */
function loadMoreInPause() {
  clearTimeout(pause);
  if (isMore) pause = setTimeout(loadMore, PAUSE_MS);
}

function loadMore() {
  try {
    isMore = engine?.loadMore() ?? false;
  } catch {
    isMore = false; // whoever asks for it is told
  }
  loadMoreInPause();
}

/** @param {number} id @param {string} text */
async function ask(id, text) {
  current = id;
  try {
    if (!engine) throw new Error('asked before the engine was up');
    send({ kind: 'reply', id, reply: JSON.parse(engine.handle(text)) });
  } catch (fault) {
    const { name = 'Error', message = String(fault) } = /** @type {any} */ (fault) ?? {};
    send({ kind: 'reply', id, reply: { reply: 'fault', name, message, trace: traceOf(fault) } });
  }
  loadMoreInPause();
}

/** @param {unknown} fault */
const traceOf = (fault) => (fault instanceof Error ? fault.stack ?? fault.message : String(fault));

addEventListener('message', ({ data }) => {
  const message = /** @type {ToWorker} */ (data);
  void (message.kind === 'start' ? start(message.cache) : ask(message.id, message.text));
});
