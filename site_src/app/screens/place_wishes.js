// @ts-check
/** Why this file exists: what matters for the place of the pattern: walls, measure, openings, and the turn of the rows. */
import { desk } from '../desk.js';
import { choice, numberField, select } from '../parts/field.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { together } from '../parts/together.js';
import { letMatter, weightOf, wish, wishes, wishList } from '../wishes.js';

const MEASURES = /** @type {const} */ ([
  ['area', 'Area'],
  ['long_point', 'Long point'],
  ['short_side', 'Short side'],
]);

const WEIGHTS = /** @type {const} */ ([
  ['0', 'does not matter'],
  ['1', 'matters'],
  ['2', 'matters twice as much'],
  ['3', 'matters three times as much'],
]);

export const wishesSheet = () =>
  html` <h2>What matters</h2>
    <p>Along which walls should the pieces be large? A tiled threshold, a window front.</p>
    ${(desk.job?.doc.room.walls ?? []).map(wallWish)}
    ${choice({ id: 'measure', label: 'Large by', value: wishes().measure ?? 'area', options: MEASURES, take: (measure) => wish('measure', measure, `Large by ${measure.replace('_', ' ')}`) })}
    <p class="small soft">Long point: the longer length that stays. Short side: the shorter one, 0 for a triangle.</p>
    ${numberField({
      id: 'axis-within',
      label: 'The rows may be turned by up to',
      unit: '°',
      value: wishes().axis_within ?? 0,
      hint: '0: they stay as they are. Half a degree often follows a wall that runs away.',
      take: takeTurn,
    })}
    <h2>Row axis through an opening</h2>
    <p class="small soft">${desk.plan?.setting_out?.through}</p>
    ${(wishes().through ?? []).map(opening)}
    ${addOpening()}`;

/** @param {{from: string, to: string}} wall @param {number} index */
const wallWish = (wall, index) =>
  select({
    id: `matters-${index}`,
    label: `${wall.from}–${wall.to}`,
    value: String(weightOf(wall)),
    options: weightsWith(weightOf(wall)),
    take: (weight) => letMatter(wall, Number(weight)),
  });

/** A weight from a file may be any number. @param {number} weight @returns {readonly (readonly [string, string])[]} */
const weightsWith = (weight) =>
  WEIGHTS.some(([key]) => key === String(weight)) ? WEIGHTS : [...WEIGHTS, [String(weight), `matters ${weight} times as much`]];

/** @param {number | null} value */
const takeTurn = (value) =>
  value !== null && value >= 0 && value <= 5 ? wish('axis_within', value, `Rows may turn by ${value}°`) : false;

/** @param {any} through @param {number} index */
const opening = (through, index) =>
  html` <div class="row between">
      <p>Through the middle of ${nameOf(through)}</p>
      <button class="button bare" aria-label="Take out ${nameOf(through)}" @click=${() => wishList('through', without(index), 'Opening taken out')}>${icon('gone')}</button>
    </div>
    ${numberField({
      id: `within-${index}`,
      label: 'Within',
      value: through.within ?? 0,
      hint: '0: exactly.',
      take: (value) =>
        value !== null && value >= 0
          ? wishList('through', (all) => all.map((each, place) => (place === index ? { ...each, within: value } : each)), `Within ${value} mm of the middle`)
          : false,
    })}`;

/** @param {number} index */
const without = (index) => (/** @type {any[]} */ all) => all.filter((_, place) => place !== index);

/** The wall whose ends these are, or the two points. @param {{from: number[], to: number[]}} through */
const nameOf = ({ from, to }) =>
  desk.plan?.room?.walls.find((/** @type {any} */ { ends }) => ends && `${ends[0]}` === `${from}` && `${ends[1]}` === `${to}`)?.name ??
  `the opening from ${from.join(', ')} to ${to.join(', ')}`;

/** Only those that a row axis can go through are offered. */
function addOpening() {
  const { openings = [], shut } = desk.plan?.setting_out ?? {};
  const choices = openings.map((/** @type {any} */ { name, words }) => /** @type {[string, string]} */ ([name, words]));
  return html`${
    openings.length
      ? select({
          id: 'add-opening',
          label: 'Bring a row axis to the middle of',
          value: '',
          options: [['', 'choose a wall or opening'], ...choices],
          take: (name) => {
            const opening = openings.find((/** @type {any} */ each) => each.name === name);
            return opening
              ? wishList('through', (all) => [...all, { from: opening.ends[0], to: opening.ends[1] }], `Row axis through ${name}`)
              : false;
          },
        })
      : nothing
  }
  ${shut ? html`<p class="small soft">${together(shut)}</p>` : nothing}`;
}
