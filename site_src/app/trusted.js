// @ts-check
/**
 * Why this file exists: scripts may be started from exactly three addresses, the
 * engine's worker, the solver's and the service worker. With Trusted Types on, the browser
 * refuses any other; the names allowed by the content policy are `out-of-true`
 * and `lit-html`.
 */

const ENGINE = new URL('../worker/engine_worker.js', import.meta.url).href;
const SOLVER = new URL('../worker/solver_worker.js', import.meta.url).href;
const OFFLINE = new URL('../service_worker.js', import.meta.url).href;

/** @type {{createScriptURL: (address: string) => any} | undefined} */
const policy = /** @type {any} */ (globalThis).trustedTypes?.createPolicy('out-of-true', {
  createScriptURL: (/** @type {string} */ address) => {
    if (![ENGINE, SOLVER, OFFLINE].includes(address)) throw new TypeError(`No script may be started from ${address}.`);
    return address;
  },
});

/** @param {string} address @returns {string} a TrustedScriptURL where the browser knows them */
const trusted = (address) => policy?.createScriptURL(address) ?? address;

export const engineAddress = () => trusted(ENGINE);
export const solverAddress = () => trusted(SOLVER);
export const offlineAddress = () => trusted(OFFLINE);
