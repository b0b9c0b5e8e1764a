// @ts-check
/**
 * Why this file exists: Firefox may pass the service worker by when a worker
 * fetches without a signal (Mozilla bug 2067202), so the engine's files are looked
 * for in the cache first. It also tells whether all of them came from there.
 */

/**
 * From now on `fetch` in this thread looks into `cache` first.
 * @param {string | null} cache name of the cache of the running version, null when there is none yet
 * @returns {{allFromCache: () => boolean}}
 */
export function readCacheFirst(cache) {
  if (cache === null) return { allFromCache: () => false };
  const network = globalThis.fetch.bind(globalThis);
  let missed = 0;
  globalThis.fetch = async (resource, options) => {
    const request = new Request(resource, options);
    const found = isOurs(request) ? await caches.match(request.url, { cacheName: cache }) : undefined;
    if (found) return found;
    missed += 1;
    return network(resource, options);
  };
  return { allFromCache: () => missed === 0 };
}

/** @param {Request} request */
const isOurs = ({ method, url }) => method === 'GET' && new URL(url).origin === location.origin;
