// @ts-check
/**
 * Why this file exists: "ready for use without signal" is a promise. It is given
 * only when every file of this version is in the cache and the engine has started
 * from there, and it says what is missing otherwise. New versions are offered here.
 */
import { offlineAddress } from './trusted.js';

/** @typedef {import('./engine_client.js').Engine} Engine */
/** @typedef {{build: string, cache: string, files: string[]}} Description */
/**
 * @typedef {{state: 'cannot' | 'fetching' | 'failed' | 'incomplete' | 'unproven' | 'ready', ready: boolean,
 *   sentence: string, missing: string[]}} Readiness
 */
/** @typedef {'readiness' | 'new version' | 'replaced'} OfflineEvent */

/** How long to leave an engine alone that is at work. */
const WAIT_FOR_IDLE_MS = 500;

const SENTENCES = {
  cannot: 'This browser cannot keep the app for use without signal. Open it over https, not in a private window.',
  fetching: 'Fetching what is needed without signal. Keep the page open.',
  failed: 'The app could not be fetched whole, so it does not work without signal yet. Load the page again with a signal.',
  incomplete: 'Files are missing, so the app does not work without signal. Load the page again with a signal.',
  unproven: 'Every file is here. The engine has not started from them yet.',
  ready: 'Ready for use without signal.',
};

/** @param {Readiness['state']} state @param {string[]} [missing] @returns {Readiness} */
const readinessOf = (state, missing = []) => ({ state, ready: state === 'ready', sentence: SENTENCES[state], missing });

const container = () => navigator.serviceWorker;

/**
 * The cache of the version this page came from, null when it came by network or the cache is not whole.
 * @returns {Promise<string | null>}
 */
export async function cacheInUse() {
  const described = await describe(container()?.controller);
  if (!described || (await missingFrom(described)).length) return null;
  return described.cache;
}

/** @typedef {ReturnType<typeof openOffline>} Offline */

/** @param {Engine} engine */
export function openOffline(engine) {
  /** @type {ServiceWorkerRegistration | null} */
  let registration = null;
  /** @type {'' | 'cannot' | 'failed'} */
  let trouble = container() ? '' : 'cannot';
  let asked = false;
  let proved = false;
  let controlled = Boolean(container()?.controller);
  /** @type {Set<(event: OfflineEvent) => void>} */
  const listeners = new Set();
  /** @param {OfflineEvent} event */
  const tell = (event) => listeners.forEach((hear) => hear(event));

  /** Begin to keep the app, once the page has loaded. Never rejects. */
  async function keep() {
    if (!container()) return;
    container().addEventListener('controllerchange', replaced);
    try {
      registration = await container().register(offlineAddress(), { updateViaCache: 'none' });
    } catch {
      registration = (await container().getRegistration()) ?? null; // no signal: the one from before serves
    }
    if (registration) return follow(registration);
    trouble = 'failed';
    tell('readiness');
  }

  /** @param {ServiceWorkerRegistration} registered */
  function follow(registered) {
    if (registered.installing) watch(registered.installing);
    registered.addEventListener('updatefound', () => registered.installing && watch(registered.installing));
    if (registered.waiting && registered.active) tell('new version');
    void settle();
  }

  /** @param {ServiceWorker} arriving */
  function watch(arriving) {
    arriving.addEventListener('statechange', () => {
      if (arriving.state === 'redundant' && !registration?.active) trouble = 'failed';
      if (arriving.state === 'installed' && registration?.active) tell('new version');
      if (arriving.state === 'activated') trouble = '';
      void settle();
    });
  }

  /** Get what the browser dropped, prove what is there, tell what came of it. */
  async function settle() {
    const { state } = await readiness();
    if (state === 'incomplete') await askWorker(registration?.active, 'refill');
    if (state === 'unproven') prove();
    tell('readiness');
  }

  /** On a first visit the engine came by network: start it once more, from the cache, when nobody needs it. */
  function prove() {
    if (proved || !controlled || engine.state().state !== 'ready') return;
    if (!engine.isIdle()) return void setTimeout(() => void settle(), WAIT_FOR_IDLE_MS);
    proved = true;
    engine.restart();
  }

  /** Another version answers from now on. The first to come replaces nothing. */
  function replaced() {
    const isFirst = !controlled;
    controlled = true;
    if (asked) location.reload();
    else if (isFirst) void settle();
    else tell('replaced');
    asked = false;
  }

  /** @returns {Promise<Readiness>} */
  async function readiness() {
    if (trouble) return readinessOf(trouble);
    const described = await describe(registration?.active);
    if (!described) return readinessOf('fetching');
    const missing = await missingFrom(described);
    if (missing.length) return readinessOf('incomplete', missing);
    return readinessOf(engine.state().fromCache === described.cache ? 'ready' : 'unproven');
  }

  /** Look for a new version. @returns {Promise<'coming' | 'newest' | 'no signal'>} */
  async function look() {
    try {
      const looked = await registration?.update();
      if (!looked) return 'no signal';
      return looked.installing || looked.waiting ? 'coming' : 'newest';
    } catch {
      return 'no signal';
    }
  }

  /**
   * Change to the version that waits, then load the page once.
   * @param {() => Promise<unknown>} [flush] saves what is still in a form
   */
  async function useNewVersion(flush = async () => {}) {
    await flush();
    await engineLoaded();
    asked = true;
    registration?.waiting?.postMessage('use this version');
  }

  /** Asked while the engine is being loaded through it, Chromium keeps the old version until minutes later. */
  async function engineLoaded() {
    while (engine.state().state === 'starting') await new Promise((go) => setTimeout(go, 100));
  }

  engine.onState(({ state }) => state === 'ready' && void settle());

  return {
    keep,
    readiness,
    useNewVersion,
    isNewVersionWaiting: () => Boolean(registration?.waiting && registration.active),
    look,
    /** @param {(event: OfflineEvent) => void} hear @returns {() => void} stop hearing */
    onEvent: (hear) => {
      listeners.add(hear);
      return () => void listeners.delete(hear);
    },
  };
}

/** @param {Description} described */
async function missingFrom({ cache, files }) {
  if (!(await caches.has(cache))) return files;
  const kept = new Set((await (await caches.open(cache)).keys()).map(({ url }) => url));
  return files.filter((file) => !kept.has(file));
}

/** @param {ServiceWorker | null | undefined} worker @returns {Promise<Description | null>} */
const describe = (worker) => askWorker(worker, 'describe');

/** @param {ServiceWorker | null | undefined} worker @param {string} question @returns {Promise<any>} null when nobody answers */
function askWorker(worker, question) {
  if (!worker || worker.state === 'redundant') return Promise.resolve(null);
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(question, [port2]);
    setTimeout(() => resolve(null), question === 'describe' ? 5000 : 120_000);
  });
}
