// @ts-check
/**
 * Why this file exists: what the engine says of the pattern's place: where it is, where it sits best, and the map
 * of all places. One question at a time; of a finger that moves only the last place is asked.
 */
import { desk, redraw, setting } from './desk.js';
import { knowFormulas } from './parts/figure.js';
import { wishes } from './wishes.js';
import { askEngine } from './thinking.js';

/** @typedef {import('./messages.js').PlaceReply} PlaceReply */
/** @typedef {import('./messages.js').BestPlaceReply} BestPlaceReply */
/** @typedef {import('./messages.js').PlaceMapReply} PlaceMapReply */

/** @typedef {{of: string, reply: any, wrong: string, asking: boolean}} Answer */

/** @returns {Answer} */
const nothingYet = () => ({ of: '', reply: null, wrong: '', asking: false });

/** What was asked last of each sort. */
const answers = {
  place: nothingYet(),
  slivers: nothingYet(),
  kept: nothingYet(),
  'best place': nothingYet(),
  'place counts': nothingYet(),
  'place map': nothingYet(),
};

/** @typedef {keyof typeof answers} Sort */

/** The job with its pattern at another place. @param {{anchor: number[], axis: number}} place */
export const docAt = ({ anchor, axis }) => ({
  ...desk.job?.doc,
  floor: { ...desk.job?.doc.floor, anchor, axis, count_from: undefined },
});

/** Ask again when what was asked of has changed. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export function askPlace(sort, doc = desk.job?.doc, at = null) {
  const answer = answers[sort];
  const of = stateOf(sort, doc, at);
  if (!doc || answer.asking || answer.of === of || desk.engine === 'failed') return;
  Object.assign(answer, { of, asking: true });
  void send(sort, answer, doc, at);
}

/** What an answer hangs on. @param {Sort} sort @param {any} doc @param {number[] | null} at */
function stateOf(sort, doc, at) {
  const { room, survey, cutting, floor = {}, setting_out: { edges, measure, through, axis_within } = {} } = doc ?? {};
  const always = [desk.job?.id, room, survey, cutting, edges, measure, setting('decimal', '.')];
  // The map shows all places, wherever the pattern is.
  const { anchor, count_from: _, ...pattern } = floor;
  return JSON.stringify(sort === 'place map' ? [always, pattern] : [always, pattern, anchor, through, axis_within, at]);
}

/** @param {Sort} sort @param {Answer} answer @param {any} doc @param {number[] | null} at */
async function send(sort, answer, doc, at) {
  const ask = sort === 'kept' || sort === 'slivers' ? 'place' : sort;
  const reply = /** @type {any} */ (
    await askEngine({ ask, job: doc, decimal: setting('decimal', '.'), ...(sort === 'slivers' ? { slivers: true } : {}), ...(at ? { at } : {}) })
  );
  answer.asking = false;
  const isAnswer = reply.reply === ask;
  answer.reply = isAnswer ? reply : null;
  answer.wrong = isAnswer ? '' : (reply.findings?.map((/** @type {any} */ { sentence }) => sentence).join(' ') ?? reply.message);
  if (isAnswer && reply.formulas) knowFormulas(reply.formulas);
  redraw();
}

/** The answer, and whether it is of the job as it stands. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export const answerTo = (sort, doc = desk.job?.doc, at = null) => ({
  ...answers[sort],
  isOld: answers[sort].of !== stateOf(sort, doc, at) || answers[sort].asking,
});

/** The answer for a finger that was lifted there, once it has come; null when there is none. @param {number[]} at */
export async function placeAt(at) {
  while (answerTo('place', undefined, at).isOld && desk.engine !== 'failed') {
    askPlace('place', undefined, at);
    await new Promise((soon) => setTimeout(soon, 20));
  }
  return /** @type {PlaceReply | null} */ (answers.place.reply);
}

/** The other place that is kept to be compared. */
export function keptDoc() {
  const { kept } = wishes();
  return kept ? docAt(kept) : null;
}
