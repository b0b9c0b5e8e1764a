// @ts-check
/**
 * Why this file exists: a corner never comes or goes alone; the walls that meet
 * in it change with it, and so do the readings that speak of it. Pure: from a job
 * to its edits.
 */
import { applyEdits } from './store/edits.js';
import { placeReading, standing, withdrawAll } from './survey_edits.js';

/** @typedef {import('./store/index.js').Edit} Edit */

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** The names of the corners in the order round the room. @param {any} doc @returns {string[]} */
export function cornerNames(doc) {
  const { walls = [], corners } = doc.room;
  if (walls.length) return walls.map((/** @type {any} */ { from }) => from);
  const read = standing(doc).filter(({ of }) => of === 'place');
  return [...new Set([...Object.keys(corners ?? {}), ...read.map(({ corner }) => corner)])];
}

/** Has a corner a coordinate, read or from an older file? @param {any} doc @param {string} name @param {'x' | 'y'} axis */
export const hasPlace = (doc, name, axis) =>
  name in (doc.room.corners ?? {}) || placeReading(doc, name, axis) !== undefined;

/** A name no corner has yet. @param {any} doc */
export function freeName(doc) {
  const taken = new Set(cornerNames(doc));
  const names = [...LETTERS, ...LETTERS.flatMap((letter) => [1, 2, 3, 4].map((count) => `${letter}${count}`))];
  return names.find((name) => !taken.has(name)) ?? `Z${taken.size}`;
}

/** A ring of plain walls. @param {string[]} names */
const ring = (names) =>
  names.map((from, index) => ({ from, to: names[(index + 1) % names.length], face: 'wall', gap: 10, curve: 'smooth' }));

/**
 * The walls with a new corner after another one (the last when none is named). What was read on the wall that it
 * splits was read from a line that is no longer a wall's: those readings are taken back.
 * @param {any} doc @param {string} name @param {string} [after] @returns {Edit[]}
 */
export function wallsWith(doc, name, after) {
  const names = cornerNames(doc).filter((other) => other !== name);
  const index = after === undefined ? names.length - 1 : names.indexOf(after);
  if (names.length < 2) return [];
  const { walls = [] } = doc.room;
  const wall = walls.findIndex((/** @type {any} */ { from }) => from === names[index]);
  if (wall < 0) return [{ path: ['room', 'walls'], value: ring(names.toSpliced(index + 1, 0, name)) }];
  const { from, to } = walls[wall];
  const [plain] = ring([name]);
  return [
    ...withdrawAll(doc, (reading) => reading.of === 'offset' && reading.from === from && reading.to === to),
    { path: ['room', 'walls', wall, 'to'], value: name },
    { path: ['room', 'walls', wall + 1], value: { ...plain, to }, insert: true },
  ];
}

/** Take a corner out; the wall before it reaches on to the next. @param {any} doc @param {string} name @returns {Edit[]} */
export function removeCorner(doc, name) {
  const { room } = doc;
  const back = withdrawAll(doc, (reading) => [reading.from, reading.to, reading.corner].includes(name));
  const corner = name in (room.corners ?? {}) ? [{ path: ['room', 'corners', name], remove: true }] : [];
  const ties = (room.ties ?? []).filter((/** @type {any} */ { from, to }) => from !== name && to !== name);
  const tied = { path: ['room', 'ties'], value: ties };
  if (cornerNames(doc).length <= 3) return [...back, ...corner, { path: ['room', 'walls'], value: [] }, tied];
  const before = room.walls.findIndex((/** @type {any} */ { to }) => to === name);
  const after = room.walls.findIndex((/** @type {any} */ { from }) => from === name);
  const joined = withdrawAll(
    applyEdits(doc, back).doc,
    ({ of, from, to }) => of === 'offset' && from === room.walls[before].from && to === name,
  );
  return [
    ...back,
    ...joined,
    ...corner,
    { path: ['room', 'walls', before, 'to'], value: room.walls[after].to },
    { path: ['room', 'walls', after], remove: true },
    tied,
  ];
}

/** A room to start from and correct, with the pattern in its middle. @param {number} wide @param {number} deep @returns {Edit[]} */
export const rectangle = (wide, deep) => [
  { path: ['room', 'corners'], value: { A: [0, 0], B: [wide, 0], C: [wide, deep], D: [0, deep] } },
  { path: ['room', 'walls'], value: ring(['A', 'B', 'C', 'D']) },
  { path: ['floor', 'anchor'], value: [wide / 2, deep / 2] },
];

/** A ring of walls still to be measured. @param {any} doc @param {number} count @returns {Edit[]} */
export const ringOfWalls = ({ room }, count) => [
  ...(room.corners ? [{ path: ['room', 'corners'], remove: true }] : []),
  { path: ['room', 'walls'], value: ring(LETTERS.slice(0, count)) },
];
