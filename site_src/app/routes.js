// @ts-check
/** Why this file exists: every screen has an address, so that back, reload and a restart find it again. */

/** @typedef {{screen: string, job: string, rest: string[]}} Route */

/** @param {string} hash `#/job/ID/SCREEN/…` or `#/SCREEN` @returns {Route} */
export function readRoute(hash) {
  const parts = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .filter(Boolean)
    .map(readPart);
  if (parts[0] !== 'job') return { screen: parts[0] ?? '', job: '', rest: parts.slice(1) };
  return { screen: parts[2] ?? 'plan', job: parts[1] ?? '', rest: parts.slice(3) };
}

/** @param {string} part */
function readPart(part) {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** @param {string} job @param {string} screen @param {...(string | number)} rest */
export const jobAddress = (job, screen, ...rest) =>
  `#/job/${[job, screen, ...rest].map((part) => encodeURIComponent(part)).join('/')}`;

/** @param {string} address */
export const goTo = (address) => {
  location.hash = address;
};

/** Go there without a step back to here. @param {string} address */
export const replaceWith = (address) => {
  history.replaceState(null, '', address);
  dispatchEvent(new HashChangeEvent('hashchange'));
};
