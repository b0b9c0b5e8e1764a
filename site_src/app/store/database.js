// @ts-check
/**
 * Why this file exists: the one place that knows how the database is laid out and
 * how a transaction is made safe. Nothing counts as saved before the disk has it.
 */
import { openDB } from '../../vendor/idb/index.js';
import { Refused, refused } from '../refused.js';

/** @typedef {import('idb').IDBPDatabase} Database */
/** @typedef {import('idb').IDBPTransaction<unknown, string[], 'readwrite'>} Transaction */

const NAME = 'out-of-true';
const VERSION = 2;

/**
 * jobs: the present state of each job · journal: every change, never rewritten ·
 * bases: a state now and then, to replay the journal from · results: what can be
 * computed again · quarantine: what could not be read · photos: the pictures that jobs name (since version 2).
 * @param {Database} db @param {number} from the version that is there, 0 for none
 */
function layOut(db, from) {
  if (from < 1) layOutFirst(db);
  db.createObjectStore('photos', { keyPath: ['job', 'id'] });
}

/** @param {Database} db */
function layOutFirst(db) {
  db.createObjectStore('jobs', { keyPath: 'id' });
  db.createObjectStore('journal', { keyPath: ['job', 'seq'] });
  db.createObjectStore('bases', { keyPath: ['job', 'seq'] });
  db.createObjectStore('results', { keyPath: ['job', 'key'] });
  db.createObjectStore('quarantine', { keyPath: 'number', autoIncrement: true });
  db.createObjectStore('settings', { keyPath: 'key' });
}

/**
 * @param {{onClosed: (sentence: string) => void}} hooks called when the browser or a newer tab takes the database away
 * @returns {Promise<Database>}
 */
export async function openDatabase({ onClosed }) {
  try {
    return await openDB(NAME, VERSION, {
      upgrade: layOut,
      blocking: (_old, _new, event) => {
        /** @type {IDBDatabase} */ (event.target).close();
        onClosed('A newer version of the app is open in another tab. Close this tab, or load it again.');
      },
      terminated: () => onClosed('The browser closed its storage. Load the page again; all that was saved is still there.'),
    });
  } catch (fault) {
    throw inWords(fault);
  }
}

/**
 * Run `work` as one transaction that is whole on the disk when this resolves, or did not happen.
 * @template Result
 * @param {Database} db
 * @param {string[]} stores
 * @param {(tx: Transaction) => Promise<Result>} work awaits nothing but the database
 * @returns {Promise<Result>}
 */
export async function write(db, stores, work) {
  const tx = db.transaction(stores, 'readwrite', { durability: 'strict' });
  const complete = tx.done;
  complete.catch(() => {}); // heard below, or replaced there by the fault that caused it
  try {
    const result = await work(tx);
    await complete;
    return result;
  } catch (fault) {
    abort(tx);
    throw inWords(fault);
  }
}

/** @param {Transaction} tx */
function abort(tx) {
  try {
    tx.abort();
  } catch {
    // it had ended already
  }
}

/** Every record of one job in a store with the key [job, …]. @param {string} job */
export const ofJob = (job) => IDBKeyRange.bound([job], [job, []]);

/** @param {unknown} fault */
function inWords(fault) {
  if (fault instanceof Refused || !(fault instanceof DOMException)) return fault;
  switch (fault.name) {
    case 'QuotaExceededError':
      return refused('storage full', 'The phone has no room left, so this was not saved. Free some space, then enter it again.');
    case 'ConstraintError':
      return refused('written elsewhere', 'Another tab has changed this job. Open the job again, then enter it again.');
    case 'VersionError':
      return refused('older app', 'The data on this phone come from a newer version of the app. Load the page again to use that version.');
    default:
      return refused('storage', `The browser could not save (${fault.name}), so nothing was changed. Load the page again, then enter it again.`);
  }
}
