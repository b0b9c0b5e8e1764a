// @ts-check
/**
 * Why this file exists: what is kept beside the jobs and could be made again: the
 * user's settings and the last results, so that a plan is on the screen before the
 * engine is up.
 */
import { write } from './database.js';
import { faultOf, sealed } from './records.js';

/** @typedef {import('./database.js').Database} Database */

/**
 * Settings, read once so that screens need not wait for them.
 * @param {Database} db
 */
export async function openSettings(db) {
  const records = (await db.getAll('settings')).filter((record) => !faultOf(record));
  const values = new Map(records.map(({ key, value }) => [key, value]));
  return {
    /** @param {string} key @param {any} [otherwise] */
    get: (key, otherwise) => (values.has(key) ? values.get(key) : otherwise),
    /** Know of a value that is on the disk already. @param {string} key @param {any} value */
    note: (key, value) => void values.set(key, value),
    /** @param {string} key @param {any} value plain JSON */
    set: async (key, value) => {
      values.set(key, value);
      await write(db, ['settings'], (tx) => tx.objectStore('settings').put(sealed({ key, value })));
    },
  };
}

/**
 * @param {Database} db @param {string} job
 * @param {string} key such as `plan`
 * @param {any} value plain JSON
 * @param {number} seq the state of the job it was computed from
 */
export async function saveResult(db, job, key, value, seq) {
  await write(db, ['results'], (tx) => tx.objectStore('results').put(sealed({ job, key, seq, value })));
}

/**
 * @param {Database} db @param {string} job @param {string} key
 * @returns {Promise<{value: any, seq: number} | null>} null when there is none that can be believed
 */
export async function loadResult(db, job, key) {
  const record = await db.get('results', [job, key]);
  return faultOf(record) ? null : { value: record.value, seq: record.seq };
}
