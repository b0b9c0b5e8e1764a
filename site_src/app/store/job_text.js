// @ts-check
/**
 * Why this file exists: a job leaves and enters the app as text. The same job
 * always gives the same text, and no text gets in unchecked. What the numbers
 * mean is the engine's to judge; this looks at form alone and needs no Python.
 */
import { liftJpegs } from './photo_text.js';
import { faultsOfValue } from './safe_values.js';
import { plainTexts } from './plain_text.js';
import { MOST_JPEG_BYTES, MOST_PHOTOS } from './photo_limits.js';

/** @typedef {import('../refused.js').Finding} Finding */
/** @typedef {import('./photo_text.js').Jpeg} Jpeg */
/** @typedef {{doc: any, notes: string[], findings: [], jpegs: Jpeg[]} | {doc: null, notes: [], findings: Finding[], jpegs: []}} JobRead */

export const FORMAT = 'out-of-true job';
export const VERSION = 1;
/** Without its photos. */
export const MOST_BYTES = 5 * 1024 * 1024;
const MOST_WITH_PHOTOS = MOST_BYTES + MOST_PHOTOS * 1.5 * MOST_JPEG_BYTES;

const FIRST = ['format', 'version', 'name', 'room', 'floor', 'cutting', 'from', 'to'];

/** @param {any} doc a job document is newer when only a newer app understands all of it */
export const isNewer = (doc) => doc.version > VERSION;

/** @param {any} doc @returns {string} the job file, keys in a fixed order, one line feed at the end */
export const jobText = (doc) => `${JSON.stringify(inOrder(doc, ''), null, 1).replace(LIST_OF_NUMBERS, onOneLine)}\n`;

// A real line feed never stands inside a JSON text, so this meets lists alone.
const LIST_OF_NUMBERS = /\[\n[\s\d.,eE+-]*\]/g;
/** @param {string} list */
const onOneLine = (list) => list.replace(/\s+/g, '').replace(/,/g, ', ');

/**
 * Corners keep their order, for it is the order round the room; all else is
 * ordered by FIRST and then by letter.
 * @param {any} value @param {string} key @returns {any}
 */
function inOrder(value, key) {
  if (Array.isArray(value)) return value.map((item) => inOrder(item, ''));
  if (typeof value !== 'object' || value === null) return value;
  const keys = Object.keys(value);
  if (key !== 'corners') keys.sort(byRank);
  return Object.fromEntries(keys.map((name) => [name, inOrder(value[name], name)]));
}

/** @param {string} a @param {string} b */
function byRank(a, b) {
  const [rankA, rankB] = [a, b].map((key) => (FIRST.includes(key) ? FIRST.indexOf(key) : FIRST.length));
  return rankA - rankB || (a < b ? -1 : 1);
}

/**
 * Read a job file.
 * @param {string} text
 * @returns {JobRead} the document made plain, with notes on what was taken out; or all that is wrong with it
 */
export function readJobText(text) {
  if (text.length > MOST_WITH_PHOTOS) return refusal(TOO_LARGE);
  const { value: whole, fault } = parse(text);
  if (fault) return refusal(fault);
  const { value, jpegs, notes, characters } = liftJpegs(whole);
  if (isTooLarge(text, characters)) return refusal(TOO_LARGE);
  const faults = faultsOfValue(value);
  if (faults.length) return refusal(...faults);
  const form = faultsOfForm(value);
  if (form.length) return refusal(...form);
  return plain(value, jpegs, notes);
}

/** @param {any} value @param {Jpeg[]} jpegs @param {string[]} photoNotes @returns {JobRead} */
function plain(value, jpegs, photoNotes) {
  const { value: doc, changed, clash } = plainTexts(value);
  if (clash) return refusal({ path: '', code: 'same name', sentence: 'Two names in this file differ only in characters that are not seen. Rename one.' });
  const unseen = changed ? [`Characters that are not seen were taken out of ${changed} ${changed === 1 ? 'text' : 'texts'}.`] : [];
  return { doc, notes: [...unseen, ...photoNotes], findings: [], jpegs };
}

/** @param {...Finding} findings @returns {JobRead} */
const refusal = (...findings) => ({ doc: null, notes: [], findings, jpegs: [] });

const TOO_LARGE = { path: '', code: 'too large', sentence: 'This file holds more than 5 MB beside its photos. A job file is far smaller; choose another file.' };

/** @param {string} text @param {number} characters of it that are pictures, one byte each */
function isTooLarge(text, characters) {
  // A character is at least one byte, so a text of that many characters need not be encoded to be too large.
  return text.length - characters > MOST_BYTES || new TextEncoder().encode(text).length - characters > MOST_BYTES;
}

/** @param {string} text @returns {{value: unknown, fault: Finding | null}} */
function parse(text) {
  try {
    return { value: JSON.parse(text.replace(/^\ufeff/, '')), fault: null };
  } catch {
    const sentence = text.trim() === '' ? 'This file is empty.' : 'This file cannot be read as a job. It is not JSON, or it was cut short on its way.';
    return { value: null, fault: { path: '', code: 'not json', sentence } };
  }
}

/** @param {any} doc @returns {Finding[]} */
function faultsOfForm(doc) {
  if (!isObject(doc) || doc.format !== FORMAT) {
    return [{ path: 'format', code: 'not a job', sentence: `This is not a job file: it does not say "format": "${FORMAT}".` }];
  }
  if (!Number.isInteger(doc.version) || doc.version < 1) {
    return [{ path: 'version', code: 'no version', sentence: 'The file does not say which version it is. It needs "version": 1.' }];
  }
  return isNewer(doc) ? [] : SHAPE.filter(([, , fits]) => !fits(doc)).map(([path, sentence]) => ({ path, code: 'shape', sentence }));
}

/** @param {unknown} value */
const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/** What the screens rely on before the engine is up. @type {[string, string, (doc: any) => boolean][]} */
const SHAPE = [
  ['name', 'The name must be a text.', (doc) => doc.name === undefined || typeof doc.name === 'string'],
  ['room', 'The file has no room. A job needs one.', (doc) => isObject(doc.room)],
  ['room.walls', 'The room has no list of walls. A job needs one.', (doc) => !isObject(doc.room) || listOfObjects(doc.room.walls)],
  ['room.corners', 'The corners must be named values.', (doc) => doc.room?.corners === undefined || doc.room.corners === null || isObject(doc.room.corners)],
  ['room.ties', 'The ties must be a list.', (doc) => doc.room?.ties === undefined || listOfObjects(doc.room.ties)],
  ['room.fixed', 'The fixed things must be a list.', (doc) => doc.room?.fixed === undefined || listOfObjects(doc.room.fixed)],
  ['floor', 'The file has no floor. A job needs one.', (doc) => isObject(doc.floor)],
  ['cutting', 'The cutting section must be named values.', (doc) => doc.cutting === undefined || isObject(doc.cutting)],
  ['photos', 'The photos must be a list.', (doc) => doc.photos === undefined || listOfObjects(doc.photos)],
  ['progress', 'The progress section must be named values.', (doc) => doc.progress === undefined || isObject(doc.progress)],
];

/** @param {unknown} value */
const listOfObjects = (value) => Array.isArray(value) && value.every(isObject);
