// @ts-check
/**
 * Why this file exists: all that a screen may ask of the store, in one place.
 *
 * Whatever resolves is on the disk. Whatever cannot be done rejects with a
 * `Refused` whose `findings` are sentences for the user, and has changed nothing.
 */
import { openDatabase } from './database.js';
import { shownJob } from './heads.js';
import * as journal from './journal.js';
import * as jobs from './jobs.js';
import { quarantineText } from './mend.js';
import { loadResult, openSettings, saveResult } from './beside.js';
import { addPhoto, readPhoto } from './photos.js';
import { plainName } from './plain_text.js';
import { jobText } from './job_text.js';
import { askForPen } from './one_writer.js';

/** @typedef {import('./edits.js').Edit} Edit */
/** @typedef {import('./heads.js').OpenJob} OpenJob */
/** @typedef {import('./heads.js').JobLine} JobLine */
/** @typedef {Awaited<ReturnType<typeof openStore>>} Store */
/**
 * `written`: another tab changed that job · `writable`: this tab may write from now on · `closed`: storage was taken away.
 * @typedef {{kind: 'written', id: string} | {kind: 'writable'} | {kind: 'closed', sentence: string}} StoreEvent
 */

/** Open the store of this phone. */
export async function openStore() {
  const news = newsBetweenTabs();
  const db = await openDatabase({ onClosed: (sentence) => news.here({ kind: 'closed', sentence }) });
  const pen = await askForPen(() => news.here({ kind: 'writable' }));
  const settings = await openSettings(db);
  const desk = { db, writable: () => pen.writable, now: () => Date.now() };
  // It may never answer, and nothing depends on the answer.
  void navigator.storage?.persist?.().catch(() => false);

  /** @param {string} id @param {Promise<import('./heads.js').Head>} work @returns {Promise<OpenJob>} */
  const written = async (id, work) => {
    const head = await work;
    news.others({ kind: 'written', id });
    return shownJob(head, pen.writable, await journal.nextSteps(db.transaction('journal'), head));
  };
  /** @template Result @param {string} id @param {Promise<Result>} work */
  const told = async (id, work) => {
    const result = await work;
    news.others({ kind: 'written', id });
    return result;
  };
  /** @param {string} text */
  const importJob = async (text) => {
    const kept = await jobs.keepText(desk, text);
    settings.note('current job', kept.id);
    news.others({ kind: 'written', id: kept.id });
    return kept;
  };

  return {
    settings,
    /** May this tab write? */
    writable: () => pen.writable,
    /** @param {(event: StoreEvent) => void} hear @returns {() => void} stop hearing */
    onEvent: news.onEvent,

    /** @returns {Promise<JobLine[]>} */
    listJobs: () => jobs.jobLines(desk, false),
    /** @returns {Promise<JobLine[]>} */
    listBin: () => jobs.jobLines(desk, true),
    /** Keep a new job; it becomes `settings.get('current job')`. @param {any} doc @returns {Promise<{id: string, notes: string[]}>} */
    createJob: (doc) => importJob(jobText(doc)),
    /** Keep a job file as a new job. @param {string} text @returns {Promise<{id: string, notes: string[]}>} */
    importJob,
    /** @param {string} id @returns {Promise<OpenJob>} */
    openJob: (id) => jobs.openJob(desk, id),

    /** @param {string} id @param {Edit[]} edits @param {string} words what a user calls this change */
    change: async (id, edits, words) => written(id, journal.change(desk, id, edits, words)),
    /**
     * Keep a photo with a job, and the change that names it, in one transaction.
     * @param {string} id @param {Blob} jpeg @param {import('./photos.js').PhotoOf} of @param {string} words
     */
    addPhoto: async (id, jpeg, of, words) => written(id, addPhoto(desk, id, jpeg, of, words)),
    /** The picture, null when it cannot be read. @param {string} id @param {string} photo */
    readPhoto: (id, photo) => readPhoto(db, id, photo),
    /** @param {string} id */
    undo: async (id) => written(id, journal.undo(desk, id)),
    /** @param {string} id */
    redo: async (id) => written(id, journal.redo(desk, id)),
    /** What was done, newest first. @param {string} id */
    history: (id) => journal.history(desk, id),
    /** @param {string} id @param {string} name */
    renameJob: async (id, name) => {
      const plain = plainName(name);
      return written(id, journal.change(desk, id, [{ path: ['name'], value: plain }], `Name: ${plain}`));
    },

    /** @param {string} id */
    binJob: async (id) => told(id, jobs.binJob(desk, id)),
    /** @param {string} id */
    restoreJob: async (id) => told(id, jobs.restoreJob(desk, id)),
    emptyBin: () => jobs.emptyBin(desk),

    /** @param {string} id @returns {Promise<{text: string, name: string, seq: number}>} */
    exportJob: (id) => jobs.exportJob(desk, id),
    /** Say that the file of state `seq` has left the phone. @param {string} id @param {number} seq */
    markExported: async (id, seq) => jobs.markExported(desk, id, seq),
    /** All records that could not be read, as they were found. */
    exportQuarantine: () => quarantineText(desk),
    /** How many there are. @returns {Promise<number>} */
    countQuarantine: () => db.count('quarantine'),

    /** @param {string} id @param {string} key @param {any} value @param {number} seq */
    saveResult: (id, key, value, seq) => saveResult(db, id, key, value, seq),
    /** @param {string} id @param {string} key */
    loadResult: (id, key) => loadResult(db, id, key),

    /** Give the pen and the database back. */
    close: () => {
      pen.lay();
      news.close();
      db.close();
    },
  };
}

/** What happens to the store, told to whoever listens here and in other tabs. */
function newsBetweenTabs() {
  const channel = new BroadcastChannel('out-of-true store');
  /** @type {Set<(event: StoreEvent) => void>} */
  const listeners = new Set();
  /** @param {StoreEvent} event */
  const here = (event) => listeners.forEach((hear) => hear(event));
  channel.onmessage = ({ data }) => here(data);
  return {
    here,
    /** @param {StoreEvent} event */
    others: (event) => channel.postMessage(event),
    /** @param {(event: StoreEvent) => void} hear */
    onEvent: (hear) => {
      listeners.add(hear);
      return () => void listeners.delete(hear);
    },
    close: () => channel.close(),
  };
}
