// @ts-check
/**
 * Why this file exists: a photo is a hundred times as large as a reading, so the
 * job only names it and the picture lies beside, under [job, id]. It is written in
 * the same transaction as the change that names it, and stays until the job is
 * deleted, so that taking it out can be undone.
 */
import { refused } from '../refused.js';
import { write } from './database.js';
import { add, headToWrite, STORES } from './journal.js';
import { isJpeg, MOST_JPEG_BYTES, MOST_PHOTOS } from './photo_limits.js';
import { crc32OfBytes, faultOf, newId, sealed } from './records.js';

/** @typedef {import('./journal.js').Desk} Desk */
/** @typedef {import('./database.js').Database} Database */
/** What a photo shows: a wall by its two corners or a fixed thing by its name. @typedef {{wall: [string, string]} | {thing: string}} PhotoOf */
/** @typedef {{id: string, wall?: [string, string] | null, thing?: string | null, time?: string}} Photo */

/**
 * Keep a photo with a job.
 * @param {Desk} desk @param {string} job @param {Blob} jpeg @param {PhotoOf} of @param {string} words
 */
export async function addPhoto(desk, job, jpeg, of, words) {
  const bytes = new Uint8Array(await jpeg.arrayBuffer());
  if (!isJpeg(bytes)) throw refused('no photo', 'This is no JPEG picture, so it was not kept. Take the photo again.');
  if (bytes.length > MOST_JPEG_BYTES) throw refused('large photo', 'This photo is larger than 1 MB even when shrunk. Take it again from further away.');
  return write(desk.db, [...STORES, 'photos'], async (tx) => {
    const head = await headToWrite(desk, tx, job);
    const index = head.doc.photos?.length ?? 0;
    if (index >= MOST_PHOTOS) throw refused('many photos', `A job holds ${MOST_PHOTOS} photos at most. Take one out first.`);
    const photo = { id: newId(), ...of, time: new Date(desk.now()).toISOString() };
    await keepJpeg(tx, job, photo.id, bytes);
    return add(desk, tx, head, { kind: 'change', of: 0, words, edits: [{ path: ['photos', index], value: photo }] });
  });
}

/** @param {any} tx @param {string} job @param {string} id @param {Uint8Array<ArrayBuffer>} jpeg */
export const keepJpeg = (tx, job, id, jpeg) =>
  tx.objectStore('photos').add({ ...sealed({ job, id, crc: crc32OfBytes(jpeg) }), jpeg });

/**
 * @param {Database} db @param {string} job @param {string} id
 * @returns {Promise<Uint8Array<ArrayBuffer> | null>} null when there is none that can be believed
 */
export async function readJpeg(db, job, id) {
  const record = await db.get('photos', [job, id]);
  if (record === undefined) return null;
  const { jpeg, ...rest } = record;
  return !faultOf(rest) && jpeg instanceof Uint8Array && crc32OfBytes(jpeg) === rest.crc ? /** @type {any} */ (jpeg) : null;
}

/** @param {Database} db @param {string} job @param {string} id @returns {Promise<Blob | null>} */
export async function readPhoto(db, job, id) {
  const jpeg = await readJpeg(db, job, id);
  return jpeg && new Blob([jpeg], { type: 'image/jpeg' });
}
