// @ts-check
/**
 * Why this file exists: distances read on the laid floor are only ever added, as a survey's readings are. Pure: from a
 * job to what stands in it and to the edits that add to it.
 */

/** @typedef {import('./store/index.js').Edit} Edit */
/** @typedef {any} LaidReading as in engine/model/laid.py */

/** @param {any} doc @returns {LaidReading[]} */
const all = (doc) => doc?.laid?.readings ?? [];

/** The readings that none corrects or withdraws. @param {any} doc @returns {LaidReading[]} */
export function standingOnFloor(doc) {
  const corrected = new Set(all(doc).map(({ corrects }) => corrects));
  return all(doc).filter(({ id, corrects, typed }) => !corrected.has(id) && !(corrects != null && typed.trim() === ''));
}

/**
 * @param {any} doc @param {LaidReading} reading without its id @param {import('./survey_edits.js').Instrument} [instrument]
 * @returns {Edit[]}
 */
export function addLaidReading(doc, reading, instrument) {
  const known = doc.survey?.instruments ?? [];
  const isNew = instrument !== undefined && !known.some((/** @type {any} */ { name }) => name === instrument.name);
  return [
    ...(isNew ? [{ path: ['survey', 'instruments', known.length], value: instrument }] : []),
    { path: ['laid', 'readings', all(doc).length], value: { ...reading, id: freeId(doc) } },
  ];
}

/** It stays in the file. @param {any} doc @param {LaidReading} reading @param {string} time @returns {Edit[]} */
export const withdrawLaidReading = (doc, reading, time) =>
  addLaidReading(doc, { ...reading, typed: '', time, corrects: reading.id });

/**
 * Cut the rest from the floor as it lies: what was cut and fits its place no more is to be cut again.
 * @param {any} doc @param {any} take as the engine gives it @param {string} time @returns {Edit[]}
 */
export const takeAsItLies = (doc, take, time) => [
  { path: ['laid', 'taken', takings(doc).length], value: { ...take, time } },
  ...Object.keys(take.spare ?? {}) // what is empty is left out
    .filter((id) => doc.progress?.[id]?.cut)
    .map((id) => ({ path: ['progress', id, 'cut'], value: false })),
];

/** Back to the list before: what was cut from it is cut again. @param {any} doc @returns {Edit[]} */
export const takeBackLast = (doc) => [
  { path: ['laid', 'taken', takings(doc).length - 1], remove: true },
  ...Object.keys(takings(doc).at(-1)?.spare ?? {})
    .filter((id) => doc.progress?.[id]?.cut === false)
    .map((id) => ({ path: ['progress', id, 'cut'], value: true })),
];

/** @param {any} doc @returns {any[]} */
const takings = (doc) => doc?.laid?.taken ?? [];

/** @param {any} doc */
function freeId(doc) {
  const ids = new Set(all(doc).map(({ id }) => id));
  let number = all(doc).length + 1;
  while (ids.has(`d${number}`)) number += 1;
  return `d${number}`;
}
