// @ts-check
/** Why this file exists: four buttons that move the pattern by a step. */
import { change, redraw } from '../desk.js';
import { written } from './field.js';
import { icon } from './icons.js';
import { html } from './lit.js';

const WAYS = /** @type {const} */ ([
  ['left', 'Move left', 0, -1],
  ['up', 'Move up', 1, 1],
  ['down', 'Move down', 1, -1],
  ['right', 'Move right', 0, 1],
]);

/** @param {any} floor @param {number} step */
export const nudge = (floor, step) =>
  html` <div class="tools" role="group" aria-label="Move the pattern">
    ${WAYS.map(
      ([picture, words, which, sign]) =>
        html` <button
          class="button"
          aria-label="${words} ${written(step)} mm"
          @click=${() => move(floor.anchor, which, sign * step, words)}
        >
          ${icon(picture)}
        </button>`,
    )}
  </div>`;

/** @param {[number, number]} anchor @param {0 | 1} which @param {number} by @param {string} words */
const move = (anchor, which, by, words) =>
  change(
    [{ path: ['floor', 'anchor', which], value: sum(anchor[which], by) }],
    `${words} ${written(Math.abs(by))}`,
  ).then(redraw);

/** Decimals as written add up as written: 0.1 and 0.2 are 0.3. @param {number} one @param {number} other */
export const sum = (one, other) => Number((one + other).toPrecision(12));
