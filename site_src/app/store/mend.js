// @ts-check
/**
 * Why this file exists: a damaged record must cost no more than itself. It is set
 * aside, never deleted, and the job is put together anew from what can be read.
 */
import { refused } from '../refused.js';
import { ofJob, write } from './database.js';
import { faultOf, sealed } from './records.js';
import { after } from './journal.js';

/** @typedef {import('./heads.js').Head} Head */
/** @typedef {import('./journal.js').Entry} Entry */
/** @typedef {import('./journal.js').Desk} Desk */

const STORES = ['jobs', 'journal', 'bases', 'quarantine'];

/**
 * Look at every record of a job and mend what can be mended.
 * @param {Desk} desk @param {string} id
 * @returns {Promise<string[]>} sentences for the user, none when all is well
 */
export async function mendJob(desk, id) {
  if (!(await isDamaged(desk, id))) return [];
  const outcome = await write(desk.db, STORES, async (tx) => mend(desk, tx, id));
  if (outcome.lost) throw refused('lost', outcome.notes.join(' '));
  return outcome.notes;
}

/** @param {Desk} desk @param {string} id */
async function isDamaged({ db }, id) {
  const tx = db.transaction(STORES);
  const [head, entries] = await Promise.all([tx.objectStore('jobs').get(id), tx.objectStore('journal').getAll(ofJob(id))]);
  return faultOf(head) === 'damaged' || entries.some((entry) => faultOf(entry) === 'damaged');
}

/** @param {Desk} desk @param {any} tx @param {string} id @returns {Promise<{lost: boolean, notes: string[]}>} */
async function mend(desk, tx, id) {
  const head = await tx.objectStore('jobs').get(id);
  if (faultOf(head) === 'damaged') return rebuild(desk, tx, id, head);
  const damaged = await setAsideDamaged(desk, tx, 'journal', id);
  const limit = Math.max(...damaged.map((key) => key[1]));
  await tx.objectStore('jobs').put(sealed({ ...head, ...stepsAbove(head, limit) }));
  return { lost: false, notes: [`${counted(damaged.length)} of the past of this job could not be read and set aside. No measure is lost; steps before it can no longer be taken back.`] };
}

/**
 * Steps are taken back one by one, newest first, so none below an unreadable one can be reached.
 * @param {Head} head @param {number} limit
 */
const stepsAbove = (head, limit) => ({
  done: head.done.slice(head.done.findLastIndex((seq) => seq <= limit) + 1),
  undone: head.undone.some((seq) => seq <= limit) ? [] : head.undone,
});

/** @param {Desk} desk @param {any} tx @param {string} id @param {any} head */
async function rebuild(desk, tx, id, head) {
  await setAside(desk, tx, 'jobs', id, head);
  await setAsideDamaged(desk, tx, 'bases', id);
  const base = (await tx.objectStore('bases').getAll(ofJob(id))).at(-1);
  if (!base) return { lost: true, notes: ['This job is damaged and could not be put together. All its records were set aside and can be exported as they are.'] };
  const entries = (await tx.objectStore('journal').getAll(ofJob(id))).filter((/** @type {Entry} */ { seq }) => seq > base.seq);
  const { job: _, ...start } = base;
  const { head: rebuilt, rest } = replay(sealed(start), entries);
  for (const entry of rest) await setAside(desk, tx, 'journal', [id, entry.seq], entry);
  await tx.objectStore('jobs').put(sealed({ ...rebuilt, exported: Math.min(rebuilt.exported, rebuilt.seq) }));
  return { lost: false, notes: [rebuiltNote(rest.length)] };
}

/**
 * @param {Head} base @param {Entry[]} entries in order
 * @returns {{head: Head, rest: Entry[]}} `rest` is what stands after the first entry that cannot be believed
 */
function replay(base, entries) {
  let head = base;
  for (const [index, entry] of entries.entries()) {
    if (faultOf(entry) || entry.seq !== head.seq + 1) return { head, rest: entries.slice(index) };
    head = /** @type {Head} */ (after(head, entry).next);
  }
  return { head, rest: [] };
}

/** @param {number} lost */
function rebuiltNote(lost) {
  if (lost === 0) return 'The stored job was damaged. It was put together anew from its journal; nothing is lost.';
  return `The stored job was damaged. It was put together anew, but its last ${counted(lost)} could not be made again and set aside. Look through the last readings.`;
}

/** @param {number} count */
const counted = (count) => `${count} ${count === 1 ? 'entry' : 'entries'}`;

/** @param {Desk} desk @param {any} tx @param {string} store @param {string} id @returns {Promise<[string, number][]>} */
async function setAsideDamaged(desk, tx, store, id) {
  const damaged = [];
  for (let cursor = await tx.objectStore(store).openCursor(ofJob(id)); cursor; cursor = await cursor.continue()) {
    if (faultOf(cursor.value) !== 'damaged') continue;
    const { primaryKey, value } = cursor;
    await setAside(desk, tx, store, primaryKey, value);
    damaged.push(primaryKey);
  }
  return damaged;
}

/** @param {Desk} desk @param {any} tx @param {string} store @param {any} key @param {any} raw */
async function setAside(desk, tx, store, key, raw) {
  await tx.objectStore('quarantine').add({ store, key, raw, at: desk.now() });
  await tx.objectStore(store).delete(key);
}

/**
 * All that was set aside, as text, just as it was found.
 * @param {Desk} desk
 */
export async function quarantineText({ db }) {
  return `${(await db.getAll('quarantine')).map(rawText).join('\n')}\n`;
}

/** @param {any} item */
function rawText(item) {
  try {
    return JSON.stringify(item);
  } catch {
    return JSON.stringify({ ...item, raw: String(item.raw) }); // what JSON cannot write
  }
}
