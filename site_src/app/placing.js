// @ts-check
/**
 * Why this file exists: what the engine says of the pattern's place: where it is, where it sits best, and the map
 * of all places. One question at a time, the picture's before all others; of a finger that moves only the last place
 * is asked.
 */
import { desk, redraw, setting } from './desk.js';
import { knowFormulas } from './parts/figure.js';
import { tapStep } from './parts/nudge.js';
import { wishes } from './wishes.js';
import { askEngine } from './thinking.js';

/** @typedef {import('./messages.js').MovedReply} MovedReply */
/** @typedef {import('./messages.js').MovedTo} MovedTo */
/** @typedef {import('./messages.js').BestPlaceReply} BestPlaceReply */
/** @typedef {import('./messages.js').PlaceMapReply} PlaceMapReply */

/** A question, and `of` what its answer hangs on. @typedef {{of: string, doc: any, at: number[] | null}} Question */
/**
 * `of` is what the reply hangs on; `out` has been put and not been answered in full, `wanted` is put next.
 * @typedef {{of: string, reply: any, wrong: string, out: Question | null, wanted: Question | null}} Answer
 */

/** @returns {Answer} */
const nothingYet = () => ({ of: '', reply: null, wrong: '', out: null, wanted: null });

/** What was asked last of each sort; what stands before others is asked before them. */
const answers = {
  moved: nothingYet(),
  place: nothingYet(),
  slivers: nothingYet(),
  kept: nothingYet(),
  'best place': nothingYet(),
  'place counts': nothingYet(),
  'kept counts': nothingYet(),
  'place map': nothingYet(),
};

/** @typedef {keyof typeof answers} Sort */
const SORTS = /** @type {Sort[]} */ (Object.keys(answers));

/** What a question carries beside the place. Long answers come in slices, so that a move gets in between. */
const CARRIED = /** @type {Partial<Record<Sort, () => object>>} */ ({
  moved: () => ({ step: tapStep() }),
  place: () => ({ in_slices: true }),
  slivers: () => ({ in_slices: true }),
  'best place': () => ({ in_slices: true }),
  kept: () => ({ ask: 'place', in_slices: true }),
  'kept counts': () => ({ ask: 'place counts' }),
  'place map': () => ({ in_slices: true }),
});

/** The job with its pattern at another place. @param {{anchor: number[], axis: number}} place */
export const docAt = ({ anchor, axis }) => ({
  ...desk.job?.doc,
  floor: { ...desk.job?.doc.floor, anchor, axis, count_from: undefined },
});

/** Ask again when what was asked of has changed. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export function askPlace(sort, doc = desk.job?.doc, at = null) {
  if (!doc || desk.engine === 'failed') return;
  const answer = answers[sort];
  const of = stateOf(sort, doc, at);
  answer.wanted = of === (answer.out ?? answer).of ? null : { of, doc, at };
  void askNext();
}

let isAsking = false;

/** One question is put at a time. What was begun is brought to its end, so that figures follow a finger that never rests. */
async function askNext() {
  const sort = SORTS.find((each) => answers[each].out ?? answers[each].wanted);
  if (isAsking || !sort) return;
  const answer = answers[sort];
  if (!answer.out) Object.assign(answer, { out: answer.wanted, wanted: null });
  const { of, doc, at } = /** @type {Question} */ (answer.out);
  const place = at ? { job: doc, at } : { job: doc };
  isAsking = true;
  const reply = /** @type {any} */ (await askEngine({ ask: sort, ...place, decimal: setting('decimal', '.'), ...CARRIED[sort]?.() }));
  isAsking = false;
  if (reply.reply !== 'more') take(answer, of, reply);
  void askNext();
}

/** @param {Answer} answer @param {string} of @param {any} reply */
function take(answer, of, reply) {
  const wrong = faultIn(reply);
  Object.assign(answer, { of, wrong, reply: wrong ? null : reply, out: null });
  if (reply.formulas) knowFormulas(reply.formulas);
  redraw();
}

/** What a reply says is wrong, if that is all it says. @param {any} reply */
function faultIn({ reply, findings, name, message }) {
  if (reply === 'refused') return findings.map((/** @type {any} */ { sentence }) => sentence).join(' ');
  return reply === 'fault' ? message || name : '';
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
  const always = [desk.job?.id, room, survey, cutting, edges, measure, setting('decimal', '.'), sort === 'moved' && tapStep()];
  // The map shows all places, wherever the pattern is.
  const { anchor, count_from: _, ...pattern } = floor;
  return JSON.stringify(sort === 'place map' ? [always, pattern] : [always, pattern, anchor, through, axis_within, at]);
}

/** The answer, and whether it is of the job as it stands. @param {Sort} sort @param {any} [doc] @param {number[] | null} [at] */
export const answerTo = (sort, doc = desk.job?.doc, at = null) => {
  const { of, reply, wrong, out, wanted } = answers[sort];
  return { reply, wrong, asking: (out ?? wanted) !== null, isOld: of !== stateOf(sort, doc, at) };
};

/**
 * Where the boards lie, as far as is known: where one tap leads has been told before, so that it need not be asked.
 * @param {any} doc @param {number[] | null} at
 */
export function movedNow(doc, at) {
  const { reply, wrong, isOld } = answerTo('moved', doc, at);
  const tapped = isOld && !at && reply?.taps.find((/** @type {MovedTo} */ { anchor }) => `${anchor}` === `${doc.floor.anchor}`);
  return { wrong, moved: tapped ? { ...reply, ...tapped } : reply };
}

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
