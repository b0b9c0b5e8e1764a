// @ts-check
/**
 * Why this file exists: what lies on the desk just now (the open job, its last
 * plan, what the engine is doing) and the ways to change it. Screens read the
 * desk and call these functions; they keep nothing of their own.
 */
import { Refused } from './refused.js';

/** @typedef {import('./store/index.js').Store} Store */
/** @typedef {import('./store/index.js').Edit} Edit */
/** @typedef {import('./store/heads.js').OpenJob} OpenJob */

export const desk = {
  /** @type {Store | null} */ store: null,
  /** @type {import('./routes.js').Route} */ route: { screen: '', job: '', rest: [] },
  /** @type {import('./store/heads.js').JobLine[]} */ jobs: [],
  /** @type {import('./store/heads.js').JobLine[]} */ bin: [],
  /** @type {OpenJob | null} */ job: null,
  /** Room, floor and cards as the engine last gave them. @type {any} */ plan: null,
  /** The state of the job the plan was computed from. */ planSeq: -1,
  /** The plan is the one kept from last time. */ planIsKept: false,
  /** @type {{path: string, code: string, sentence: string, level?: string}[]} */ findings: [],
  /** @type {'starting' | 'ready' | 'failed'} */ engine: 'starting',
  engineSentence: '',
  /** What the engine is doing, in words, or nothing. */ busy: '',
  /** The last thing that happened, in words. */ said: '',
  /** What went wrong last, in words. */ wrong: '',
  /** @type {any} */ offline: null,
  newVersion: false,
  /** @type {(() => unknown) | null} */ useNewVersion: null,
  /** Wants the browser's own install question. @type {any} */ install: null,
};

let redrawing = false;
let draw = () => {};
let afterChange = () => {};

/** @param {() => void} drawing @param {() => void} changed */
export function wireDesk(drawing, changed) {
  draw = drawing;
  afterChange = changed;
}

/** Draw the screen once, soon. */
export function redraw() {
  if (redrawing) return;
  redrawing = true;
  requestAnimationFrame(() => {
    redrawing = false;
    draw();
  });
}

/** @param {string} key @param {any} otherwise */
export const setting = (key, otherwise) => desk.store?.settings.get(key, otherwise) ?? otherwise;

/** @param {string} key @param {any} value */
export async function setSetting(key, value) {
  await attempt(async () => {
    await desk.store?.settings.set(key, value);
    desk.said = 'Saved';
  });
}

/**
 * Change the open job. The screen says "Saved" when it is on the disk, and not before.
 * @param {Edit[]} edits @param {string} words
 * @returns {Promise<boolean>}
 */
export async function change(edits, words) {
  const { store, job } = desk;
  if (!store || !job) return false;
  desk.said = 'Saving…';
  redraw();
  return attempt(async () => takeJob(await store.change(job.id, edits, words), `Saved: ${words}`));
}

/**
 * A change that leaves the plan as it is, such as a mark that a piece is cut.
 * @param {Edit[]} edits @param {string} words
 */
export async function changeBeside(edits, words) {
  const { store, job } = desk;
  if (!store || !job) return false;
  const isCurrent = desk.planSeq === job.seq;
  return attempt(async () => {
    desk.job = await store.change(job.id, edits, words);
    desk.said = `Saved: ${words}`;
    if (isCurrent) desk.planSeq = desk.job.seq;
  });
}

/** @param {(string | number)[]} path @param {any} value @param {string} words */
export const put = (path, value, words) => change([{ path, value }], words);

export const undo = () => step('undo', 'Taken back');
export const redo = () => step('redo', 'Made again');

/** @param {'undo' | 'redo'} way @param {string} words */
async function step(way, words) {
  const { store, job } = desk;
  const what = job?.[way];
  if (!store || !job || what === null) return false;
  return attempt(async () => takeJob(await store[way](job.id), `${words}: ${what}`));
}

/** @param {OpenJob} job @param {string} said */
function takeJob(job, said) {
  desk.job = job;
  desk.said = said;
  afterChange();
}

/**
 * Do something that may be refused; the refusal is shown, never lost.
 * @param {() => Promise<unknown>} work @returns {Promise<boolean>} whether it was done
 */
export async function attempt(work) {
  try {
    desk.wrong = '';
    await work();
    return true;
  } catch (fault) {
    desk.said = '';
    desk.wrong = fault instanceof Refused ? fault.message : 'This did not work, and nothing was changed. Try again.';
    if (!(fault instanceof Refused)) console.warn(fault);
    return false;
  } finally {
    redraw();
  }
}
