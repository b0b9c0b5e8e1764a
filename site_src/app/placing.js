// @ts-check
/**
 * Why this file exists: what the engine says of the pattern's place: where it is, where it sits best, and the map
 * of all places. One question at a time, the picture's before all others; of a finger that moves only the last place
 * is asked.
 */
import { desk, redraw, setting } from './desk.js';
import { knowFormulas } from './parts/figure.js';
import { wishes } from './wishes.js';
import { askEngine } from './thinking.js';

/** @typedef {import('./messages.js').MovedReply} MovedReply */
/** @typedef {import('./messages.js').BestPlaceReply} BestPlaceReply */
/** @typedef {import('./messages.js').PlaceMapReply} PlaceMapReply */

/**
 * `of` is what the reply, or the question that is out, hangs on; `wanted` is to be asked next.
 * @typedef {{of: string, reply: any, wrong: string, asking: boolean, wanted: {of: string, doc: any, at: number[] | null} | null}} Answer
 */

/** @returns {Answer} */
const nothingYet = () => ({ of: '', reply: null, wrong: '', asking: false, wanted: null });

/** What was asked last of each sort; what stands before others is asked before them. */
const answers = {
  moved: nothingYet(),
  place: nothingYet(),
  slivers: nothingYet(),
  kept: nothingYet(),
  'best place': nothingYet(),
  'place counts': nothingYet(),
  'place map': nothingYet(),
};

/** @typedef {keyof typeof answers} Sort */
const SORTS = /** @type {Sort[]} */ (Object.keys(answers));

/** The job with its pattern at another place. @param {{anchor: number[], axis: number}} place */
export const docAt = ({ anchor, axis }) => ({
  ...desk.job?.doc,
  floor: { ...desk.job?.doc.floor, anchor, axis, count_from: undefined },
});

/** Ask again when what was asked of has changed. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export function askPlace(sort, doc = desk.job?.doc, at = null) {
  if (!doc || desk.engine === 'failed') return;
  const of = stateOf(sort, doc, at);
  answers[sort].wanted = answers[sort].of === of ? null : { of, doc, at };
  askNext();
}

function askNext() {
  if (SORTS.some((sort) => answers[sort].asking)) return;
  const next = SORTS.find((sort) => answers[sort].wanted);
  if (next) void send(next, answers[next]);
}

/** How long the hand rests before what takes longer is asked: it would stand in the way of the next move. */
const REST_MS = 500;
let resting = { of: '', timer: 0 };

/** Ask once the hand has rested. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export function askAtRest(sort, doc = desk.job?.doc, at = null) {
  const of = stateOf(sort, doc, at);
  if (resting.of === of) return;
  clearTimeout(resting.timer);
  resting = { of, timer: window.setTimeout(() => askPlace(sort, doc, at), REST_MS) };
}

/** What an answer hangs on. @param {Sort} sort @param {any} doc @param {number[] | null} at */
function stateOf(sort, doc, at) {
  const { room, survey, cutting, floor = {}, setting_out: { edges, measure, through, axis_within } = {} } = doc ?? {};
  const always = [desk.job?.id, room, survey, cutting, edges, measure, setting('decimal', '.')];
  // The map shows all places, wherever the pattern is.
  const { anchor, count_from: _, ...pattern } = floor;
  return JSON.stringify(sort === 'place map' ? [always, pattern] : [always, pattern, anchor, through, axis_within, at]);
}

/** @param {Sort} sort @param {Answer} answer */
async function send(sort, answer) {
  const { of, doc, at } = /** @type {NonNullable<Answer['wanted']>} */ (answer.wanted);
  Object.assign(answer, { of, asking: true, wanted: null });
  const ask = sort === 'kept' ? 'place' : sort;
  const reply = /** @type {any} */ (await askEngine({ ask, job: doc, decimal: setting('decimal', '.'), ...(at ? { at } : {}) }));
  const isAnswer = reply.reply === ask;
  answer.asking = false;
  answer.reply = isAnswer ? reply : null;
  answer.wrong = isAnswer ? '' : (reply.findings?.map((/** @type {any} */ { sentence }) => sentence).join(' ') ?? reply.message);
  if (isAnswer && reply.formulas) knowFormulas(reply.formulas);
  askNext();
  redraw();
}

/** The answer, and whether it is of the job as it stands. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export const answerTo = (sort, doc = desk.job?.doc, at = null) => {
  const { of, reply, wrong, asking, wanted } = answers[sort];
  return { reply, wrong, asking: asking || wanted !== null, isOld: asking || of !== stateOf(sort, doc, at) };
};

/** Where boards meet when the pattern is put at a point of the map; null when the engine says nothing. @param {number[]} at */
export async function anchorAt(at) {
  const reply = /** @type {any} */ (await askEngine({ ask: 'moved', job: desk.job?.doc, at }));
  return reply.reply === 'moved' ? /** @type {MovedReply} */ (reply).anchor : null;
}

/** The other place that is kept to be compared. */
export function keptDoc() {
  const { kept } = wishes();
  return kept ? docAt(kept) : null;
}
