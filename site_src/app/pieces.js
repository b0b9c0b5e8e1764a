// @ts-check
/**
 * Why this file exists: which pieces are shown, in which order, and what has been done with each: the list and the
 * card go through them alike.
 */
import { change, desk, setSetting, setting } from './desk.js';
import { pieceState } from './parts/drawing.js';

export const STATES = /** @type {const} */ ([
  ['to-cut', 'To cut'],
  ['cut', 'Cut'],
  ['fitted', 'Fitted'],
  ['all', 'All'],
]);

export const ORDERS = /** @type {const} */ ([
  ['walls', 'Along the walls'],
  ['laying', 'As laid'],
  ['sawing', 'As the saw is set'],
]);

export const filter = { wall: '', state: 'to-cut', search: '' };

/** @typedef {{cut?: boolean, fitted?: boolean, spoiled?: number, board?: string, cut_at?: string, fitted_at?: string}} Done */

/** @param {string} id @returns {Done} */
export const doneWith = (id) => desk.job?.doc.progress?.[id] ?? {};

/** @param {any} card */
export const stateOf = (card) => pieceState('cut', doneWith(card.id));
const stateKey = (/** @type {any} */ card) =>
  ({ 'to-cut': 'to-cut', whole: 'to-cut', cut: 'cut', fitted: 'fitted' })[stateOf(card)];

export const order = () => setting('piece order', 'walls');
/** @param {string} next */
export const setOrder = (next) => setSetting('piece order', next);

/** A card, and for which of its cuts on the saw its turn has come. @typedef {{card: any, at: number}} Turn */

/** All cards in the order that was chosen; as the saw is set, one that needs two settings comes twice. @returns {Turn[]} */
export const turnsInOrder = () => {
  const cards = desk.plan?.cards ?? [];
  const turns = /** @type {Turn[]} */ (cards.flatMap(order() === 'sawing' ? turnsOf : (/** @type {any} */ card) => ({ card, at: 0 })));
  if (order() === 'walls') return turns;
  const place = order() === 'sawing' ? numberOf : (/** @type {Turn} */ { card }) => card.laying;
  // One that is glued to another has no turn of its own at the saw, but can be searched for.
  return turns.filter((turn) => place(turn) > 0 || filter.search.trim()).sort((one, other) => place(one) - place(other));
};

/** Two cuts at one setting are one turn. @param {any} card @returns {Turn[]} */
const turnsOf = (card) =>
  [...new Set(card.saws.map(numberAt))].map((number) => ({ card, at: card.saws.map(numberAt).indexOf(number) }));
const numberAt = (/** @type {any} */ saw) => saw.number;
/** @param {Turn} turn */
const numberOf = ({ card, at }) => card.saws[at].number;

/** Does it lie along the wall that was chosen? @param {any} card */
export const isAlong = (card) => !filter.wall || card.wall === filter.wall;

/** @param {any} card */
export const isWanted = (card) =>
  isAlong(card) && (filter.state === 'all' || stateKey(card) === filter.state);

/** Does a number answer to what was typed? A hand writes no dashes and no capitals. @param {string} id */
export const isFound = (id) => plain(id).startsWith(plain(filter.search)) || id.toLowerCase().includes(filter.search.trim().toLowerCase());
/** @param {string} text */
const plain = (text) => text.toLowerCase().replace(/[^0-9a-z]+/g, ' ').trim();

/** The pieces that are cut as one with a piece, itself among them. @param {string} id @returns {string[]} */
const together = (id) => cardOf(id)?.together ?? [id];
/** @param {string} id */
const cardOf = (id) => desk.plan?.cards.find((/** @type {any} */ card) => card.id === id);

/** The same of a piece and those that are cut as one with it, as one step. @param {string} id @param {(one: string) => any} made @param {string} words */
const putAll = (id, made, words) =>
  change(
    together(id).map((one) => ({ path: ['progress', one], value: made(one) })),
    `Piece ${id}: ${words}`,
  );

/** What is fitted was cut; what is not cut is not fitted. The time goes with the mark. @param {string} id @param {'cut' | 'fitted'} what */
export function mark(id, what) {
  const on = !doneWith(id)[what];
  return putAll(id, (one) => marked(one, what, on), on ? what : `not ${what}`);
}

/** @param {string} id @param {'cut' | 'fitted'} what @param {boolean} on */
function marked(id, what, on) {
  const { cut_at, fitted_at, board, ...now } = doneWith(id);
  const time = new Date().toISOString();
  // A piece once cut keeps its board, whatever the plan says later.
  const planned = board ?? cardOf(id)?.board;
  const from = planned ? { board: planned } : {};
  const marks =
    what === 'cut'
      ? { cut: on, fitted: false, ...(on ? { cut_at: time, ...from } : {}) }
      : { cut: true, fitted: on, ...from, ...(cut_at ? { cut_at } : {}), ...(on ? { fitted_at: time } : {}) };
  return { ...now, ...marks };
}

/** The board is lost and the piece is to be cut again. @param {string} id */
export const spoil = (id) => putAll(id, spoiled, 'spoiled');

/** @param {string} id */
function spoiled(id) {
  const { cut_at, fitted_at, board, ...now } = doneWith(id);
  return { ...now, cut: false, fitted: false, spoiled: (now.spoiled ?? 0) + 1 };
}
