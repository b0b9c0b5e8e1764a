// @ts-check
/** Why this file exists: one thing the floor goes round: what it is, where, and the gap it needs. */
import { attempt, change, desk, redraw } from '../desk.js';
import { choice, jobNumber, numberField, takeDraft, textField, written } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { photos, photosFollow } from '../parts/photos.js';
import { goTo, jobAddress } from '../routes.js';

/** @type {{name: string, shape: 'round' | 'corners', numbers: Record<string, number | null>}} */
const draft = { name: '', shape: 'round', numbers: {} };
const ROUND = /** @type {const} */ ([
  ['x', 'Centre, x'],
  ['y', 'Centre, y'],
  ['diameter', 'Diameter'],
]);
const BOX = /** @type {const} */ ([
  ['x', 'One corner, x'],
  ['y', 'One corner, y'],
  ['x2', 'Opposite corner, x'],
  ['y2', 'Opposite corner, y'],
]);

export const thingScreen = () => {
  const [which] = desk.route.rest;
  const back = jobAddress(desk.route.job, 'room');
  if (which === 'new') return jobPage({ step: 'room', title: 'Add a fixed thing', back, body: newThing() });
  const index = Number(which);
  const thing = desk.job?.doc.room.fixed?.[index];
  if (!thing)
    return jobPage({ step: 'room', title: 'Fixed thing', back, body: html`<p>This is no longer in the job.</p>` });
  return jobPage({ step: 'room', title: thing.name, back, body: known(thing, index) });
};

const newThing = () =>
  html` ${textField({
      id: 'thing-name',
      label: 'What is it?',
      value: draft.name,
      take: (name) => {
        draft.name = name;
      },
    })}
    ${choice({
      id: 'shape',
      label: 'Its shape',
      value: draft.shape,
      options: [
        ['round', 'Round'],
        ['corners', 'With corners'],
      ],
      take: (shape) => {
        draft.shape = /** @type {any} */ (shape);
        redraw();
      },
    })}
    <div class="pair">
      ${fieldsOf(draft.shape).map(([key, label]) => numberField({ ...fieldOf(key), label, value: draft.numbers[key] ?? null }))}
    </div>
    ${draft.shape === 'corners' ? html`<p class="small soft">Two opposite corners give a rectangle; then each corner can be corrected, and more added.</p>` : nothing}
    <button class="button main tall" @click=${addThing}>Add it</button>`;

/** @param {'round' | 'corners'} shape */
const fieldsOf = (shape) => (shape === 'round' ? ROUND : BOX);
/** @param {string} key */
const fieldOf = (key) => ({
  id: `thing-${key}`,
  label: '',
  take: (/** @type {number | null} */ value) => {
    draft.numbers[key] = value;
  },
});

async function addThing() {
  for (const [key] of fieldsOf(draft.shape)) {
    if (!(await takeDraft(fieldOf(key)))) return;
    if (draft.numbers[key] == null) return document.getElementById(`thing-${key}`)?.focus();
  }
  const fixed = desk.job?.doc.room.fixed;
  const name = draft.name.trim() || (draft.shape === 'round' ? 'pipe' : 'block');
  const value = { name, ...shapeOf(/** @type {any} */ (draft.numbers)), gap: 10 };
  const edit = fixed ? { path: ['room', 'fixed', fixed.length], value } : { path: ['room', 'fixed'], value: [value] };
  if (!(await change([edit], `Added: ${name}`))) return;
  Object.assign(draft, { name: '', numbers: {} });
  goTo(jobAddress(desk.route.job, 'room'));
}

/** @param {Record<string, number>} numbers */
const shapeOf = ({ x, y, x2, y2, diameter }) =>
  draft.shape === 'round'
    ? { centre: [x, y], diameter }
    : {
        outline: [
          [Math.min(x, x2), Math.min(y, y2)],
          [Math.max(x, x2), Math.min(y, y2)],
          [Math.max(x, x2), Math.max(y, y2)],
          [Math.min(x, x2), Math.max(y, y2)],
        ],
      };

/** @param {any} thing @param {number} index */
function known(thing, index) {
  const at = (/** @type {(string | number)[]} */ ...rest) => ['room', 'fixed', index, ...rest];
  return html` ${textField({ id: 'name', label: 'What is it?', value: thing.name, take: (name) => name.trim() && rename(at('name'), thing.name, name.trim()) })}
    ${thing.outline ? outline(thing, at) : round(thing, at)}
    <div class="pair">
      ${jobNumber({ id: 'thing-gap', label: 'Gap to the floor', value: thing.gap ?? 10, path: at('gap') })}
      ${jobNumber({
        id: 'thing-tolerance',
        label: 'Tolerance, more or less',
        optional: true,
        value: thing.tolerance ?? null,
        path: at('tolerance'),
        hint:
          thing.tolerance == null
            ? `Empty: ${written(desk.job?.doc.cutting?.gap_tolerance ?? 2)} mm, as set for all`
            : '',
      })}
    </div>
    <button class="button" @click=${() => takeAway(index, thing.name)}>${icon('gone')} Take it out of the room</button>
    ${findings((path) => path.startsWith(`room.fixed[${index}]`))} ${photos({ thing: thing.name })}`;
}

/** @param {(string | number)[]} path @param {string} from @param {string} to */
const rename = (path, from, to) => change([{ path, value: to }, ...photosFollow(from, to)], `Name: ${to}`);

/** @typedef {(...rest: (string | number)[]) => (string | number)[]} At */

/** @param {any} thing @param {At} at */
const round = (thing, at) =>
  html` <div class="pair">
    ${jobNumber({ id: 'cx', label: 'Centre, x', value: thing.centre?.[0], path: at('centre', 0) })}
    ${jobNumber({ id: 'cy', label: 'Centre, y', value: thing.centre?.[1], path: at('centre', 1) })}
    ${jobNumber({ id: 'diameter', label: 'Diameter', value: thing.diameter, path: at('diameter') })}
  </div>`;

/** @param {any} thing @param {At} at */
const outline = (thing, at) =>
  html` ${thing.outline.map(
      (/** @type {[number, number]} */ [x, y], /** @type {number} */ row) =>
        html` <section class="corner-row" aria-label="Corner ${row + 1}">
          <h2>${row + 1}</h2>
          ${jobNumber({ id: `ox-${row}`, label: `${row + 1}, x mm`, unit: '', value: x, path: at('outline', row, 0) })}
          ${jobNumber({ id: `oy-${row}`, label: `${row + 1}, y mm`, unit: '', value: y, path: at('outline', row, 1) })}
          <button
            class="button bare"
            ?disabled=${thing.outline.length <= 3}
            aria-label="Take out corner ${row + 1}"
            @click=${() => change([{ path: at('outline', row), remove: true }], 'Corner taken out')}
          >
            ${icon('gone')}
          </button>
        </section>`,
    )}
    <button
      class="button"
      @click=${() => change([{ path: at('outline', thing.outline.length), value: thing.outline.at(-1) }], 'Corner added')}
    >
      ${icon('plus')} Add a corner, then correct it
    </button>`;

/** @param {number} index @param {string} name */
const takeAway = (index, name) =>
  attempt(async () => {
    if (await change([{ path: ['room', 'fixed', index], remove: true }], `Taken out: ${name}`))
      goTo(jobAddress(desk.route.job, 'room'));
  });
