// @ts-check
/**
 * Why this file exists: the life of a job as a whole: made or imported, opened,
 * exported, put in the bin, taken out, gone.
 */
import { Refused, refused } from '../refused.js';
import { ofJob, write } from './database.js';
import { jobLine, mustHoldPen, newHead, shownJob, soundHead } from './heads.js';
import { baseOf, nextSteps } from './journal.js';
import { jobText, readJobText } from './job_text.js';
import { mendJob } from './mend.js';
import { keepJpeg, readJpeg } from './photos.js';
import { withJpegs } from './photo_text.js';
import { faultOf, newId, sealed } from './records.js';

/** @typedef {import('./journal.js').Desk} Desk */
/** @typedef {import('./heads.js').JobLine} JobLine */
/** @typedef {import('./heads.js').OpenJob} OpenJob */

const BESIDE_A_JOB = ['journal', 'bases', 'results', 'photos'];
const ALL_OF_A_JOB = ['jobs', ...BESIDE_A_JOB];

/** Jobs, the last changed first. @param {Desk} desk @param {boolean} binned @returns {Promise<JobLine[]>} */
export async function jobLines({ db }, binned) {
  const tx = db.transaction('jobs');
  const [records, ids] = await Promise.all([tx.store.getAll(), tx.store.getAllKeys()]);
  return records
    .map((record, index) => jobLine(record, String(ids[index])))
    .filter((line) => (line.binned !== null) === binned)
    .sort((a, b) => b.changed - a.changed);
}

/**
 * Keep a new job: written under a new id, read back, and only then made the current one, in one transaction.
 * @param {Desk} desk @param {string} text a job file
 * @returns {Promise<{id: string, notes: string[]}>}
 */
export async function keepText(desk, text) {
  mustHoldPen(desk.writable());
  const { doc, notes, findings, jpegs } = readJobText(text);
  if (doc === null) throw new Refused(...findings);
  const id = newId();
  await write(desk.db, [...ALL_OF_A_JOB, 'settings'], async (tx) => {
    const head = newHead(id, doc, desk.now());
    await tx.objectStore('jobs').add(head);
    await tx.objectStore('bases').add(baseOf(head));
    for (const jpeg of jpegs) await keepJpeg(tx, id, jpeg.id, jpeg.bytes);
    if (faultOf(await tx.objectStore('jobs').get(id))) throw refused('read back', 'What was stored does not read back as written, so nothing was changed. Import it again.');
    await tx.objectStore('settings').put(sealed({ key: 'current job', value: id }));
  });
  return { id, notes };
}

/** @param {Desk} desk @param {string} id @returns {Promise<OpenJob>} */
export async function openJob(desk, id) {
  const notes = desk.writable() ? await mendJob(desk, id) : [];
  const tx = desk.db.transaction(['jobs', 'journal']);
  const head = soundHead(await tx.objectStore('jobs').get(id));
  return shownJob(head, desk.writable(), await nextSteps(tx, head), notes);
}

/**
 * The job file with its photos in it, and what `markExported` needs once it has left the phone.
 * @param {Desk} desk @param {string} id
 */
export async function exportJob({ db }, id) {
  const head = soundHead(await db.get('jobs', id));
  const whole = await withJpegs(head.doc, (photo) => readJpeg(db, id, photo));
  return { text: jobText(whole), name: String(head.doc.name ?? ''), seq: head.seq };
}

/** Change what is kept beside the document. @param {Desk} desk @param {string} id @param {(head: any) => object} update */
function setBeside(desk, id, update) {
  mustHoldPen(desk.writable());
  return write(desk.db, ['jobs'], async (tx) => {
    const head = soundHead(await tx.objectStore('jobs').get(id));
    await tx.objectStore('jobs').put(sealed({ ...head, ...update(head) }));
  });
}

/** @param {Desk} desk @param {string} id @param {number} seq */
export const markExported = (desk, id, seq) => setBeside(desk, id, ({ exported }) => ({ exported: Math.max(exported, seq) }));
/** @param {Desk} desk @param {string} id */
export const binJob = (desk, id) => setBeside(desk, id, () => ({ binned: desk.now() }));
/** @param {Desk} desk @param {string} id */
export const restoreJob = (desk, id) => setBeside(desk, id, () => ({ binned: null }));

/** Delete what is in the bin, for good. @param {Desk} desk @returns {Promise<number>} how many jobs */
export async function emptyBin(desk) {
  mustHoldPen(desk.writable());
  const lines = await jobLines(desk, true);
  await write(desk.db, ALL_OF_A_JOB, async (tx) => {
    for (const { id } of lines) {
      await tx.objectStore('jobs').delete(id);
      for (const store of BESIDE_A_JOB) await tx.objectStore(store).delete(ofJob(id));
    }
  });
  return lines.length;
}
