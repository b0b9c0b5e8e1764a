// @ts-check
/** Why this file exists: what a wall is read from: the line between its corners, a line in front of it, or a straightedge on it. */
import { redraw, setSetting, setting } from '../desk.js';
import { choice, numberField } from './field.js';
import { html, nothing } from './lit.js';

const WAYS = /** @type {const} */ ([
  ['bow', 'Line from corner to corner'],
  ['line', 'Line in front of the wall'],
  ['straightedge', 'Straightedge on the wall'],
]);
const SIDES = /** @type {const} */ ([
  ['in', 'into the room'],
  ['back', 'back from the line'],
]);

const way = () => setting('wall way', 'bow');
const side = () => setting('wall side', 'in');
/** Where the straightedge touches, when not at both corners. @type {{from: number | null, to: number | null}} */
const touches = { from: null, to: null };

/** @param {string} key @param {any} value */
const keep = async (key, value) => {
  await setSetting(key, value);
  redraw();
};

/** @param {any} wall */
export const lineChoices = ({ from, to }) =>
  html` ${choice({ id: 'way', label: 'Read from', value: way(), options: WAYS, take: (next) => keep('wall way', next) })}
    ${way() === 'bow' ? choice({ id: 'side', label: 'The wall stands', value: side(), options: SIDES, take: (next) => keep('wall side', next) }) : nothing}
    ${way() === 'line' ? standOff(from, to) : nothing} ${way() === 'straightedge' ? touching(from) : nothing}`;

/** @param {string} from @param {string} to */
const standOff = (from, to) =>
  html` <div class="pair">
    ${numberField({ id: 'stand-off', label: `Line stands off ${from}`, value: setting('stand-off', 0), take: (value) => value !== null && keep('stand-off', value) })}
    ${numberField({ id: 'stand-off-end', label: `Line stands off ${to}`, optional: true, value: setting('stand-off end', null), hint: 'Empty: the same.', take: (value) => keep('stand-off end', value) })}
  </div>`;

/** @param {string} from */
const touching = (from) =>
  html` <div class="pair">
    ${numberField({ id: 'touch-from', label: `Touches at, from ${from}`, optional: true, value: touches.from, take: (value) => void (touches.from = value) })}
    ${numberField({ id: 'touch-to', label: `and at, from ${from}`, optional: true, value: touches.to, hint: 'Empty: at both corners.', take: (value) => void (touches.to = value) })}
  </div>`;

/** How the reading is taken, as the job keeps it. */
export function lineFields() {
  if (way() === 'bow') return { by: 'bow' };
  if (way() === 'line') {
    const end = setting('stand-off end', null);
    return { by: 'line', stand_off: setting('stand-off', 0), ...(end === null ? {} : { stand_off_end: end }) };
  }
  const { from, to } = touches;
  return { by: 'straightedge', ...(from === null || to === null ? {} : { touches: [from, to] }) };
}

/** A wall behind the line from corner to corner has offsets below zero. */
export const lineSign = () => (way() === 'bow' && side() === 'back' ? '−' : '');

/** @param {any} wall */
export function lineHint({ from, to }) {
  if (way() === 'line') return `Read square from the line to the wall. The line stands ${setting('stand-off', 0)} mm off corner ${from}.`;
  if (way() === 'straightedge') return 'Lay the straightedge on the highest points of the wall and read the gap behind it.';
  return `Line from ${from} to ${to}. Read how far the wall stands ${side() === 'in' ? 'into the room' : 'back from it'}.`;
}
