// @ts-check
/**
 * Why this file exists: a screen asks and gets a reply; that there is a worker, how
 * it starts, ends and starts again, is known here alone. Errors cross as data.
 *
 * A plain protocol: one request at a time goes to the worker, so that a request
 * that still waits is cancelled without ending anything.
 */
import { engineAddress } from './trusted.js';

/** @typedef {import('../worker/protocol.js').FromWorker} FromWorker */
/** @typedef {import('../worker/protocol.js').Reply} Reply */
/** @typedef {import('../worker/protocol.js').Progress} Progress */
/**
 * `fromCache` is the cache every file of the engine came from, null when one came by network.
 * @typedef {{state: 'asleep' | 'starting' | 'ready' | 'failed', sentence: string, step: string, fromCache: string | null}} EngineState
 */
/** @typedef {{id: number, text: string, answer: (reply: Reply) => void, onProgress: (progress: Progress) => void}} Waiting */
/** @typedef {ReturnType<typeof openEngine>} Engine */

/** Longest silence before the engine is given up; a first visit over a thin signal takes its time. */
const LONGEST_SILENCE_MS = 120_000;
const ASLEEP = /** @type {EngineState} */ ({ state: 'asleep', sentence: '', step: '', fromCache: null });

/**
 * @param {{cacheInUse?: () => Promise<string | null>}} [options] where the engine looks for its files first
 */
export function openEngine({ cacheInUse = async () => null } = {}) {
  /** @type {Worker | null} */
  let worker = null;
  let now = ASLEEP;
  let lastId = 0;
  let silence = 0;
  /** The first is with the worker when `asked`, the others wait. @type {Waiting[]} */
  let queue = [];
  let asked = false;
  /** @type {Set<(state: EngineState) => void>} */
  const listeners = new Set();

  /** @param {Partial<EngineState>} change */
  function tell(change) {
    now = { ...now, ...change };
    listeners.forEach((hear) => hear(now));
  }

  function start() {
    if (worker) return;
    const mine = new Worker(engineAddress(), { type: 'module', name: 'engine' });
    worker = mine;
    // What an ended one still says is about nothing.
    mine.onmessage = ({ data }) => worker === mine && hear(data);
    mine.onerror = (event) => worker === mine && failed('The engine stopped.', event.message ?? '');
    mine.onmessageerror = () => worker === mine && failed('The engine sent what cannot be read.', '');
    tell({ ...ASLEEP, state: 'starting' });
    watchSilence();
    void cacheInUse().then((cache) => worker === mine && mine.postMessage({ kind: 'start', cache }));
  }

  function end() {
    clearTimeout(silence);
    worker?.terminate();
    worker = null;
    asked = false;
    tell(ASLEEP);
  }

  /** A thread that the phone has ended says no word of it. */
  function watchSilence() {
    clearTimeout(silence);
    const sentence = now.state === 'starting' ? 'The engine did not start in two minutes.' : 'The engine has said nothing for two minutes.';
    silence = window.setTimeout(() => failed(sentence, ''), LONGEST_SILENCE_MS);
  }

  /** @param {FromWorker} message */
  function hear(message) {
    switch (message.kind) {
      case 'starting':
        watchSilence();
        return tell({ step: message.step });
      case 'ready':
        clearTimeout(silence);
        tell({ state: 'ready', step: '', fromCache: message.fromCache });
        return askNext();
      case 'progress':
        watchSilence();
        return queue[0]?.id === message.id ? queue[0].onProgress(message.progress) : undefined;
      case 'reply':
        return replied(message.id, message.reply);
      case 'failed':
        return failed(message.sentence, message.trace);
    }
  }

  /** @param {number} id @param {Reply} reply */
  function replied(id, reply) {
    if (queue[0]?.id !== id) return;
    clearTimeout(silence);
    asked = false;
    queue.shift()?.answer(reply);
    askNext();
  }

  function askNext() {
    if (!queue.length) return;
    if (!worker) start();
    if (asked || now.state !== 'ready') return;
    asked = true;
    watchSilence();
    worker?.postMessage({ kind: 'ask', id: queue[0].id, text: queue[0].text });
  }

  /**
   * A failed start answers all that waited; a request that broke a running engine is answered alone.
   * @param {string} sentence @param {string} trace
   */
  function failed(sentence, trace) {
    const broken = now.state === 'ready' ? queue.splice(0, asked ? 1 : 0) : queue.splice(0);
    end();
    tell({ state: 'failed', sentence: `${sentence} Readings are saved all the same. Try again, or load the page again.` });
    for (const { answer } of broken) answer({ reply: 'fault', name: 'EngineStopped', message: sentence, trace });
    askNext();
  }

  /** @param {Waiting} waiting */
  function cancel(waiting) {
    const isRunning = asked && queue[0] === waiting;
    queue = queue.filter((other) => other !== waiting);
    if (!isRunning) return;
    end();
    start(); // at once, so that the next question finds it ready
  }

  /**
   * @param {object} request as in engine/wire/requests.py
   * @param {{onProgress?: (progress: Progress) => void, signal?: AbortSignal}} [options]
   * @returns {Promise<Reply>} also what was refused and the engine's faults; rejects only when cancelled
   */
  function ask(request, { onProgress = () => {}, signal } = {}) {
    return new Promise((resolve, reject) => {
      signal?.throwIfAborted();
      const stop = () => {
        cancel(waiting);
        reject(signal?.reason);
      };
      /** @param {Reply} reply */
      const answer = (reply) => {
        signal?.removeEventListener('abort', stop);
        resolve(reply);
      };
      const waiting = { id: (lastId += 1), text: JSON.stringify(request), answer, onProgress };
      signal?.addEventListener('abort', stop, { once: true });
      queue.push(waiting);
      askNext();
    });
  }

  return {
    ask,
    /** Start when the page has painted and has nothing else to do. */
    startWhenIdle: () => void afterPaint().then(start),
    /** End it and start it again; what waits is asked again. */
    restart: () => {
      end();
      start();
    },
    state: () => now,
    isIdle: () => queue.length === 0,
    /** @param {(state: EngineState) => void} hear @returns {() => void} stop hearing */
    onState: (hear) => {
      listeners.add(hear);
      return () => void listeners.delete(hear);
    },
  };
}

/** @returns {Promise<void>} */
function afterPaint() {
  const idle = /** @type {any} */ (globalThis).requestIdleCallback ?? ((/** @type {() => void} */ work) => setTimeout(work, 50));
  return new Promise((resolve) => requestAnimationFrame(() => idle(() => resolve(), { timeout: 1000 })));
}
