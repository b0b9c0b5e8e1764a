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
  /** The address of what is shown, which the browser's own runs ahead of. */ address: '',
  /** @type {import('./store/heads.js').JobLine[]} */ jobs: [],
  /** @type {import('./store/heads.js').JobLine[]} */ bin: [],
  /** How many stored records could not be read and were set aside. */ unreadable: 0,
  /** @type {OpenJob | null} */ job: null,
  /** Room, floor and cards as the engine last gave them. @type {any} */ plan: null,
  /** What the plan was computed from, as `planKey` gives it. */ planOf: '',
  /** What its room was computed from: while readings are taken, the room is newer than the pieces. */ roomOf: '',
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
  /** @type {import('./offline.js').Offline['look'] | null} */ lookForNewVersion: null,
  /** Wants the browser's own install question. @type {any} */ install: null,
};

/** What the user calls the change that keeps the numbers of the pieces. */
export const NUMBERS_KEPT = 'Piece numbers kept';
/** And the one that keeps what was proved of the boards. */
export const PROOF_KEPT = 'Proof of the boards kept';
const KEPT_BY_ITSELF = new Set([NUMBERS_KEPT, PROOF_KEPT]);

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

/**
 * All of a job that a plan depends on, as one text: a name, a photo, a wish or a mark that a piece is cut changes no plan,
 * a length measured at the wall does, and so does a spoiled board. A distance read on the laid floor changes it only
 * once the floor is taken as it lies.
 * @param {any} doc
 */
export function planKey({ name, progress, photos, floor, laid, setting_out, ...rest }) {
  return JSON.stringify([
    { ...rest, floor: { ...floor, count_from: undefined }, measured: measuredLengths(progress), taken: laid?.taken ?? [] },
    setting('decimal', '.'),
  ]);
}

/** @param {Record<string, {left?: number | null, right?: number | null, spoiled?: number}>} [progress] */
const measuredLengths = (progress = {}) =>
  Object.entries(progress)
    .filter(([, { left, right, spoiled }]) => left != null || right != null || spoiled)
    .map(([id, { left, right, spoiled }]) => [id, left, right, spoiled]);

/** Is the plan on the screen the plan of the job as it stands? */
export const isPlanCurrent = () => desk.plan !== null && desk.job !== null && desk.planOf === planKey(desk.job.doc);

/** Is its room the room of the job as it stands? */
export const isRoomCurrent = () => desk.plan !== null && desk.job !== null && desk.roomOf === planKey(desk.job.doc);

/** @param {string} key @param {any} otherwise */
export const setting = (key, otherwise) => desk.store?.settings.get(key, otherwise) ?? otherwise;

/** @param {string} key @param {any} value */
export async function setSetting(key, value) {
  await attempt(async () => {
    await desk.store?.settings.set(key, value);
    desk.said = 'Saved';
  });
}

/** @type {Promise<unknown>} */
let saving = Promise.resolve();

/** What was changed until now is on the disk, or was refused: a question about the job can be put. */
export const allSaved = () => saving;

/**
 * Change the open job. The screen says "Saved" when it is on the disk, and not before. Edits that hang on what the
 * job says are given as a function of it: it is asked when all that was changed before is saved.
 * @param {Edit[] | ((doc: any) => Edit[])} edits @param {string} words
 * @returns {Promise<boolean>}
 */
export async function change(edits, words) {
  const { store, job } = desk;
  if (!store || !job || !mayChange(job.id, edits)) return false;
  desk.said = 'Saving…';
  redraw();
  const done = saving.then(() => attempt(async () => {
    const { doc } = desk.job?.id === job.id ? desk.job : await store.openJob(job.id);
    const next = await store.change(job.id, typeof edits === 'function' ? edits(doc) : edits, words);
    if (desk.job?.id === job.id) takeJob(next, `Saved: ${words}`);
  }));
  saving = done;
  return done;
}

/** The job of which it was said that its pattern may be changed, until there is a plan of that. */
let allowed = '';

/** A floor that was taken as it lies ends with its pattern: that is asked before. @param {string} job @param {Edit[] | ((doc: any) => Edit[])} edits */
function mayChange(job, edits) {
  if (isPlanCurrent()) allowed = '';
  const words = desk.plan?.setting_out?.before_change;
  if (!words || allowed === job || typeof edits === 'function' || !edits.some(changesPattern)) return true;
  if (!isTakenInUse()) return true;
  if (!confirm(words)) return false;
  allowed = job;
  return true;
}

/** What the engine says of the floor; of one it has not planned yet, whether the pattern lies where it was taken last. */
function isTakenInUse() {
  if (isPlanCurrent()) return Boolean(desk.plan.setting_out.as_it_lies);
  const { floor, laid } = desk.job?.doc ?? {};
  const last = laid?.taken?.at(-1);
  return last !== undefined && `${last.anchor}` === `${floor.anchor}` && last.axis === (floor.axis ?? 90);
}

/** @param {Edit} edit */
const changesPattern = ({ path: [section, field, part] }) => section === 'floor' && field !== 'count_from' && part !== 'thickness';

/**
 * Keep a photo with a job: saved in the same breath as the change that names it.
 * @param {string} job which was open when the photo was taken
 * @param {Blob} jpeg @param {import('./store/photos.js').PhotoOf} of @param {string} words
 */
export const keepPhoto = (job, jpeg, of, words) =>
  attempt(async () => {
    const next = await desk.store?.addPhoto(job, jpeg, of, words);
    if (next && desk.job?.id === job) takeJob(next, `Saved: ${words}`);
  });

/** @param {(string | number)[]} path @param {any} value @param {string} words */
export const put = (path, value, words) => change([{ path, value }], words);

/**
 * Put values into a section of the job, which an older file may not have yet.
 * @param {'cutting' | 'setting_out'} section @param {Record<string, unknown>} values @param {string} words
 */
export const putInto = (section, values, words) =>
  change(Object.entries(values).map(([key, value]) => ({ path: [section, key], value })), words);

export const undo = () => step('undo', 'Taken back');
export const redo = () => step('redo', 'Made again');

/** @param {'undo' | 'redo'} way @param {string} words */
async function step(way, words) {
  const { store, job } = desk;
  if (!store || !job || job[way] === null) return false;
  return attempt(async () => {
    let [done, next] = [String(job[way]), await store[way](job.id)];
    // The user's own change lies behind what the app kept by itself.
    while (KEPT_BY_ITSELF.has(done) && next[way] !== null) [done, next] = [next[way], await store[way](job.id)];
    takeJob(next, `${words}: ${done}`);
  });
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
