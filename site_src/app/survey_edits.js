// @ts-check
/**
 * Why this file exists: readings are only ever added. A correction is a new
 * reading that names the old one, a withdrawal one with nothing typed. Pure: from
 * a job to what stands in it and to the edits that add to it.
 */

import { applyEdits } from './store/edits.js';

/** @typedef {import('./store/index.js').Edit} Edit */
/** @typedef {{name: string, kind: string, accuracy?: number}} Instrument */
/** @typedef {any} Reading as in engine/model/readings.py */

/** All readings ever taken. @param {any} doc @returns {Reading[]} */
const taken = (doc) => doc?.survey?.readings ?? [];

/** The readings that none corrects or withdraws, in the order in which they were taken. @param {any} doc @returns {Reading[]} */
export function standing(doc) {
  const corrected = new Set(taken(doc).map(({ corrects }) => corrects));
  return taken(doc).filter((reading) => !corrected.has(reading.id) && !isWithdrawal(reading));
}

/** @param {Reading} reading */
const isWithdrawal = ({ corrects, typed }) => corrects != null && typed.trim() === '';

/** @param {any} doc @param {any} wall @returns {Reading[]} */
export const offsetReadings = (doc, { from, to }) =>
  standing(doc).filter((reading) => reading.of === 'offset' && reading.from === from && reading.to === to);

/** Lengths read between two corners, whichever way round. @param {any} doc @param {string} one @param {string} other @returns {Reading[]} */
export const lengthReadings = (doc, one, other) =>
  standing(doc).filter(
    ({ of, from, to }) => of === 'length' && ((from === one && to === other) || (from === other && to === one)),
  );

/** The reading of one coordinate of a corner that counts. @param {any} doc @param {string} corner @param {string} axis @returns {Reading | undefined} */
export const placeReading = (doc, corner, axis) =>
  standing(doc).findLast((reading) => reading.of === 'place' && reading.corner === corner && reading.axis === axis);

/** @param {any} doc @param {string} [side] @returns {Reading[]} */
export const datumReadings = (doc, side) =>
  standing(doc).filter((reading) => reading.of === 'datum' && (side === undefined || reading.side === side));

/** Lengths from corners to a fixed thing. @param {any} doc @param {string} thing @returns {Reading[]} */
export const thingReadings = (doc, thing) =>
  standing(doc).filter((reading) => reading.of === 'thing' && reading.thing === thing);

/**
 * Add a reading, and its instrument where the job does not know it yet.
 * @param {any} doc @param {Reading} reading without its id @param {Instrument} [instrument]
 * @returns {{reading: Reading, edits: Edit[]}}
 */
export function addReading(doc, reading, instrument) {
  const known = doc.survey?.instruments ?? [];
  const isNew = instrument !== undefined && !known.some((/** @type {Instrument} */ { name }) => name === instrument.name);
  const whole = { ...reading, id: freeId(doc) };
  return {
    reading: whole,
    edits: [
      ...(isNew ? [{ path: ['survey', 'instruments', known.length], value: instrument }] : []),
      { path: ['survey', 'readings', taken(doc).length], value: whole },
    ],
  };
}

/** Take a reading back without another in its place; it stays in the file. @param {any} doc @param {Reading} reading @param {string} time @returns {Edit[]} */
export const withdraw = (doc, reading, time) => addReading(doc, { ...reading, typed: '', time, corrects: reading.id }).edits;

/** Take back every reading that is meant; each stays in the file. @param {any} doc @param {(reading: Reading) => boolean} meant @returns {Edit[]} */
export function withdrawAll(doc, meant) {
  /** @type {Edit[]} */
  const edits = [];
  let now = doc;
  for (const reading of standing(doc).filter(meant)) {
    const next = withdraw(now, reading, new Date().toISOString());
    edits.push(...next);
    now = applyEdits(now, next).doc;
  }
  return edits;
}

/**
 * A wall lies otherwise than surveyed: the readings that say so, for those that say something else. A job without a
 * survey takes the wall's offsets as they then are.
 * @param {any} doc @param {any} correction the engine's reply @param {string} instrument what was measured with
 * @returns {Edit[]}
 */
export function correctWall(doc, { wall, offsets, readings, stands_in_for }, instrument) {
  if (!doc.survey) return [{ path: ['room', 'walls', wall, 'offsets'], value: offsets }];
  const time = new Date().toISOString();
  const edits = withdrawAll(doc, ({ id }) => stands_in_for.includes(id));
  let now = applyEdits(doc, edits).doc;
  for (const { from, to, station, typed } of readings) {
    const next = addReading(now, { of: 'offset', by: 'bow', from, to, station, typed, unit: 'mm', instrument, time }, { name: instrument, kind: 'rule' }).edits;
    edits.push(...next);
    now = applyEdits(now, next).doc;
  }
  return edits;
}

/** Readings know their thing by its name. @param {any} doc @param {string} from @param {string} to @returns {Edit[]} */
export const readingsFollow = (doc, from, to) =>
  taken(doc).flatMap(({ of, thing }, index) =>
    of === 'thing' && thing === from ? [{ path: ['survey', 'readings', index, 'thing'], value: to }] : [],
  );

/** @param {any} doc */
function freeId(doc) {
  const ids = new Set(taken(doc).map(({ id }) => id));
  let number = taken(doc).length + 1;
  while (ids.has(`r${number}`)) number += 1;
  return `r${number}`;
}
