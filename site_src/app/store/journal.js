// @ts-check
/**
 * Why this file exists: every accepted reading is one entry that is only ever
 * added. Undo and redo add entries too, so the story of a job stays whole and
 * steps back survive a restart.
 */
import { refused } from '../refused.js';
import { ofJob, write } from './database.js';
import { applyEdits } from './edits.js';
import { mustBeWritable, soundHead } from './heads.js';
import { faultOf, sealed } from './records.js';

/** @typedef {import('./heads.js').Head} Head */
/** @typedef {import('./edits.js').Edit} Edit */
/**
 * `of` is the change that an undo takes back or a redo makes again, else 0. `edits` is what was done to the
 * document, whatever the kind, so that a replay needs no other entry; `back` leads the other way.
 * @typedef {{job: string, seq: number, kind: 'change' | 'undo' | 'redo', of: number, at: number, words: string,
 *   edits: Edit[], back: Edit[], schema: number, checksum: number}} Entry
 */

/** How many steps back are kept. */
export const UNDO_STEPS = 200;
/** A base every so many entries keeps a replay short; the first and the last few are kept. */
const BASE_EVERY = 50;
const LAST_BASES = 3;
export const STORES = ['jobs', 'journal', 'bases'];

/**
 * @typedef {{db: import('./database.js').Database, writable: () => boolean, now: () => number}} Desk
 */

/**
 * Change a job: one transaction, on the disk when this resolves.
 * @param {Desk} desk @param {string} id @param {Edit[]} edits @param {string} words
 */
export function change(desk, id, edits, words) {
  if (edits.length === 0) throw refused('no edits', 'There is nothing to change.');
  return write(desk.db, STORES, async (tx) => {
    const head = await headToWrite(desk, tx, id);
    return add(desk, tx, head, { kind: 'change', of: 0, words, edits });
  });
}

/** Take the last change back. @param {Desk} desk @param {string} id */
export const undo = (desk, id) => step(desk, id, 'undo');
/** Make the change again that was taken back last. @param {Desk} desk @param {string} id */
export const redo = (desk, id) => step(desk, id, 'redo');

/** @param {Desk} desk @param {string} id @param {'undo' | 'redo'} kind */
function step(desk, id, kind) {
  return write(desk.db, STORES, async (tx) => {
    const head = await headToWrite(desk, tx, id);
    const of = (kind === 'undo' ? head.done : head.undone).at(-1);
    if (of === undefined) throw refused('no step', kind === 'undo' ? 'There is nothing to take back.' : 'There is nothing to make again.');
    const entry = await soundEntry(tx, id, of);
    return add(desk, tx, head, { kind, of, words: entry.words, edits: kind === 'undo' ? entry.back : entry.edits });
  });
}

/** @param {Desk} desk @param {any} tx @param {string} id */
export async function headToWrite(desk, tx, id) {
  const head = soundHead(await tx.objectStore('jobs').get(id));
  mustBeWritable(head, desk.writable());
  return head;
}

/** @param {any} tx @param {string} id @param {number} seq @returns {Promise<Entry>} */
async function soundEntry(tx, id, seq) {
  const entry = await tx.objectStore('journal').get([id, seq]);
  if (faultOf(entry)) throw refused('damaged', 'This step can no longer be read. Open the job again.');
  return entry;
}

/**
 * @param {Desk} desk @param {any} tx @param {Head} head
 * @param {{kind: Entry['kind'], of: number, words: string, edits: Edit[]}} done
 * @returns {Promise<Head>}
 */
export async function add(desk, tx, head, done) {
  const at = desk.now();
  const { next, back } = after(head, { ...done, seq: head.seq + 1, at });
  await tx.objectStore('journal').add(sealed({ job: head.id, seq: next.seq, at, ...done, back }));
  await tx.objectStore('jobs').put(next);
  if (next.seq % BASE_EVERY === 0) await keepBase(tx.objectStore('bases'), next);
  return next;
}

/** @param {any} bases @param {Head} head */
async function keepBase(bases, head) {
  await bases.put(baseOf(head));
  const old = head.seq - LAST_BASES * BASE_EVERY;
  if (old > 0) await bases.delete([head.id, old]);
}

/**
 * The head after one more entry. The same for a new entry and for a replay.
 * @param {Head} head @param {Pick<Entry, 'kind' | 'of' | 'seq' | 'at' | 'edits'>} entry
 * @returns {{next: Head, back: Edit[]}}
 */
export function after(head, { kind, of, seq, at, edits }) {
  const { doc, back } = applyEdits(head.doc, edits);
  const stacks = stacksAfter(head, kind, kind === 'change' ? seq : of);
  return { next: sealed({ ...head, ...stacks, doc, seq, changed: at }), back };
}

/** @param {Head} head @param {Entry['kind']} kind @param {number} step */
function stacksAfter({ done, undone }, kind, step) {
  if (kind === 'undo') return { done: done.slice(0, -1), undone: [...undone, step] };
  const kept = [...done, step].slice(-UNDO_STEPS);
  return { done: kept, undone: kind === 'redo' ? undone.slice(0, -1) : [] };
}

/** @param {Head} head */
export const baseOf = (head) => sealed({ ...head, job: head.id });

/**
 * The words of the next step back and forward.
 * @param {any} tx any transaction that covers the journal
 * @param {Head} head
 */
export async function nextSteps(tx, head) {
  const [undo, redo] = await Promise.all([head.done, head.undone].map((steps) => wordsOf(tx, head.id, steps.at(-1))));
  return { undo, redo };
}

/** @param {any} tx @param {string} id @param {number | undefined} seq @returns {Promise<string | null>} */
async function wordsOf(tx, id, seq) {
  if (seq === undefined) return null;
  const entry = await tx.objectStore('journal').get([id, seq]);
  return faultOf(entry) ? null : entry.words;
}

/**
 * What was done, newest first.
 * @param {Desk} desk @param {string} id
 * @returns {Promise<{seq: number, at: number, kind: Entry['kind'], words: string}[]>}
 */
export async function history(desk, id) {
  const entries = await desk.db.getAll('journal', ofJob(id));
  return entries.filter((entry) => !faultOf(entry)).map(({ seq, at, kind, words }) => ({ seq, at, kind, words })).reverse();
}
