// @ts-check
/** Why this file exists: four buttons that move the pattern by a step, and how long that is. */
import { change, desk, redraw, setSetting, setting } from '../desk.js';
import { numberField, written } from './field.js';
import { icon } from './icons.js';
import { html } from './lit.js';

const WAYS = /** @type {const} */ ([
  ['left', 'Move left', 0, -1],
  ['up', 'Move up', 1, 1],
  ['down', 'Move down', 1, -1],
  ['right', 'Move right', 0, 1],
]);

/** Where taps have moved the pattern that are not saved yet. @type {[number, number] | null} */
let ahead = null;

/** The job with all taps, the saved and the others: a picture need not wait for the disk. */
export const docAhead = () =>
  ahead && desk.job ? { ...desk.job.doc, floor: { ...desk.job.doc.floor, anchor: ahead } } : desk.job?.doc;

/** How far a tap moves the pattern, mm. @returns {number} */
export const tapStep = () => setting('nudge', 10);

export const nudge = () => html`${tapButtons()} ${tapField()}`;

/** @param {() => unknown} [onMove] called before the move is saved */
export const tapButtons = (onMove = () => {}) =>
  html` <div class="tools" role="group" aria-label="Move the pattern">
    ${WAYS.map(
      ([picture, words, which, sign]) =>
        html` <button class="button" aria-label="${words} ${written(tapStep())} mm" @click=${() => move(which, sign * tapStep(), words, onMove)}>
          ${icon(picture)}
        </button>`,
    )}
  </div>`;

export const tapField = () =>
  numberField({ id: 'nudge', label: 'Move the pattern by', value: tapStep(), take: (value) => (value !== null && value > 0 ? setSetting('nudge', value) : false) });

/** Counted on from the tap before, saved or not. @param {0 | 1} which @param {number} by @param {string} words @param {() => unknown} onMove */
async function move(which, by, words, onMove) {
  const [x, y] = docAhead()?.floor.anchor ?? [0, 0];
  /** @type {[number, number]} */
  const there = which ? [x, sum(y, by)] : [sum(x, by), y];
  ahead = there;
  onMove();
  await change([{ path: ['floor', 'anchor', which], value: there[which] }], `${words} ${written(Math.abs(by))}`);
  if (ahead === there) ahead = null;
  redraw();
}

/** Decimals as written add up as written: 0.1 and 0.2 are 0.3. @param {number} one @param {number} other */
const sum = (one, other) => Number((one + other).toPrecision(12));
