// @ts-check
/**
 * Why this file exists: the head of a job is its present state, the one record a
 * screen needs. This file makes heads, reads them and says what a page is shown.
 */
import { refused } from '../refused.js';
import { isNewer } from './job_text.js';
import { faultOf, sealed } from './records.js';

/**
 * `done` and `undone` are the numbers of the changes that can be taken back and made again.
 * @typedef {{id: string, seq: number, doc: any, done: number[], undone: number[], made: number, changed: number,
 *   binned: number | null, exported: number}} HeadFields
 */
/** @typedef {HeadFields & {schema: number, checksum: number}} Head */
/** @typedef {'' | 'other tab' | 'newer version' | 'in the bin'} WhyReadOnly */
/**
 * A job as a page gets it. `undo` and `redo` are the words of the next step back and forward, `sinceExport` the
 * number of changes no exported file has, `notes` sentences to show once.
 * @typedef {{id: string, doc: any, seq: number, readOnly: boolean, why: WhyReadOnly, sentence: string,
 *   undo: string | null, redo: string | null, sinceExport: number, notes: string[]}} OpenJob
 */
/**
 * @typedef {{id: string, name: string, made: number, changed: number, binned: number | null, seq: number,
 *   sinceExport: number, damaged: boolean}} JobLine
 */

const SENTENCES = {
  '': '',
  'other tab': 'This job is open for writing in another tab. Here it can only be read.',
  'newer version': 'This job was made by a newer version of the app. It can be read and exported, not changed.',
  'in the bin': 'This job is in the bin. Take it out to change it.',
};

/** @param {string} id @param {any} doc @param {number} now @returns {Head} */
export const newHead = (id, doc, now) =>
  sealed({ id, seq: 0, doc, done: [], undone: [], made: now, changed: now, binned: null, exported: -1 });

/**
 * The head as stored, if it can be believed.
 * @param {any} record
 * @returns {Head}
 */
export function soundHead(record) {
  switch (faultOf(record)) {
    case '':
      return record;
    case 'missing':
      throw refused('no job', 'This job is no longer on this phone.');
    case 'newer':
      throw refused('newer schema', 'This job was stored by a newer version of the app. Load the page again to use that version.');
    default:
      throw refused('damaged', 'The stored job is damaged. Open it again: what can be read is put together anew.');
  }
}

/** @param {Head} head @param {boolean} writable @returns {WhyReadOnly} */
export function whyReadOnly(head, writable) {
  if (isNewer(head.doc)) return 'newer version';
  if (head.binned !== null) return 'in the bin';
  return writable ? '' : 'other tab';
}

/** @param {Head} head @param {boolean} writable */
export function mustBeWritable(head, writable) {
  const why = whyReadOnly(head, writable);
  if (why) throw refused(why, SENTENCES[why]);
}

/** @param {boolean} writable */
export function mustHoldPen(writable) {
  if (!writable) throw refused('other tab', SENTENCES['other tab']);
}

/**
 * @param {Head} head @param {boolean} writable
 * @param {{undo: string | null, redo: string | null}} words @param {string[]} [notes]
 * @returns {OpenJob}
 */
export function shownJob(head, writable, { undo, redo }, notes = []) {
  const why = whyReadOnly(head, writable);
  return {
    id: head.id, doc: head.doc, seq: head.seq, readOnly: why !== '', why, sentence: SENTENCES[why],
    undo, redo, sinceExport: sinceExport(head), notes,
  };
}

/** A job never exported counts its making as well. @param {Head} head */
const sinceExport = (head) => head.seq - head.exported;

/** @param {any} record @param {string} id @returns {JobLine} */
export function jobLine(record, id) {
  if (faultOf(record)) {
    return { id, name: '', made: 0, changed: 0, binned: null, seq: 0, sinceExport: 0, damaged: true };
  }
  const { doc, made, changed, binned, seq } = /** @type {Head} */ (record);
  return { id, name: doc.name ?? '', made, changed, binned, seq, sinceExport: sinceExport(record), damaged: false };
}
