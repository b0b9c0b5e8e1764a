// @ts-check
/**
 * Why this file exists: two tabs that write the same job would each undo the
 * other. One tab holds the pen; the others read, and take it over when it is laid down.
 */

/** @typedef {{writable: boolean, lay: () => void}} Pen */

const LOCK = 'out-of-true writer';

/**
 * Ask for the pen. Resolves as soon as it is known whether this tab has it.
 * @param {() => void} onTaken called when this tab gets it later, because the other was closed
 * @returns {Promise<Pen>}
 */
export async function askForPen(onTaken) {
  /** @type {Pen} */
  const pen = { writable: false, lay: () => {} };
  // Without locks (a page that is not secure) the journal's unique numbers still refuse a second writer.
  if (!navigator.locks) return Object.assign(pen, { writable: true });
  const got = await new Promise((answer) => void hold(pen, { ifAvailable: true }, answer));
  if (!got) void hold(pen, {}, onTaken);
  return pen;
}

/**
 * Hold the lock for as long as the page lives.
 * @param {Pen} pen @param {LockOptions} options @param {(got: boolean) => void} answer
 */
function hold(pen, options, answer) {
  return navigator.locks.request(LOCK, options, (lock) => {
    pen.writable = lock !== null;
    answer(pen.writable);
    return lock && new Promise((release) => { pen.lay = () => { pen.writable = false; release(undefined); }; });
  });
}
