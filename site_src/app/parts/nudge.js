// @ts-check
/** Why this file exists: four buttons that move the pattern by a step, and how long that is. */
import { change, redraw, setSetting, setting } from '../desk.js';
import { numberField, written } from './field.js';
import { icon } from './icons.js';
import { html } from './lit.js';

const WAYS = /** @type {const} */ ([
  ['left', 'Move left', 0, -1],
  ['up', 'Move up', 1, 1],
  ['down', 'Move down', 1, -1],
  ['right', 'Move right', 0, 1],
]);

/** @param {any} floor */
export function nudge(floor) {
  const step = setting('nudge', 10);
  return html` <div class="tools" role="group" aria-label="Move the pattern">
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
    </div>
    ${numberField({ id: 'nudge', label: 'Move the pattern by', value: step, take: (value) => (value !== null && value > 0 ? setSetting('nudge', value) : false) })}`;
}

/** @param {[number, number]} anchor @param {0 | 1} which @param {number} by @param {string} words */
const move = (anchor, which, by, words) =>
  change(
    [{ path: ['floor', 'anchor', which], value: sum(anchor[which], by) }],
    `${words} ${written(Math.abs(by))}`,
  ).then(redraw);

/** Decimals as written add up as written: 0.1 and 0.2 are 0.3. @param {number} one @param {number} other */
const sum = (one, other) => Number((one + other).toPrecision(12));
