// @ts-check
/**
 * Why this file exists: a screen that goes dark while both hands hold a board is
 * no use. The browser drops the wake lock whenever the page is hidden, so it is
 * asked for again on each return.
 */

/** @type {WakeLockSentinel | null} */
let held = null;
let wanted = false;

/** Keep the screen on from now. Resolves to false where the browser cannot or will not. */
export async function keepAwake() {
  wanted = true;
  document.addEventListener('visibilitychange', renew);
  return take();
}

/** Let the screen go dark again. */
export async function letSleep() {
  wanted = false;
  document.removeEventListener('visibilitychange', renew);
  await held?.release();
  held = null;
}

function renew() {
  if (wanted && document.visibilityState === 'visible') void take();
}

async function take() {
  if (!('wakeLock' in navigator)) return false;
  if (held && !held.released) return true;
  try {
    held = await navigator.wakeLock.request('screen');
    // Asked to let sleep while the browser was still answering.
    if (!wanted) await letSleep();
    return wanted;
  } catch {
    return false; // low battery or no permission: the work goes on without it
  }
}
