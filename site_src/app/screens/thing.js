// @ts-check
/** Why this file exists: one thing the floor goes round: what it is, where it stands, and the gap it needs. */
import { attempt, change, desk, put } from '../desk.js';
import { choice, jobNumber, numberField, textField, written } from '../parts/field.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { photos, photosFollow } from '../parts/photos.js';
import { askAgain, takeBack } from '../parts/reading_entry.js';
import { roomPicture } from '../parts/room_picture.js';
import { takenTable, typedText } from '../parts/taken_table.js';
import { goTo, jobAddress } from '../routes.js';
import { readingsFollow, thingReadings, withdrawAll } from '../survey_edits.js';
import { kindWords } from '../things.js';
import { newThing } from './thing_new.js';

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

/** @typedef {(...rest: (string | number)[]) => (string | number)[]} At */

/** @param {any} thing @param {number} index */
function known(thing, index) {
  const at = (/** @type {(string | number)[]} */ ...rest) => ['room', 'fixed', index, ...rest];
  const lengths = thingReadings(desk.job?.doc, thing.name);
  const isMeasured = thing.by_lengths || lengths.length > 0;
  return html` ${roomPicture({ key: 'thing', label: `Where ${thing.name} stands`, thing: thing.name })}
    ${findings((path) => path.startsWith(`room.fixed[${index}]`) || lengths.some(({ id }) => path === `survey.readings.${id}`))}
    ${isMeasured ? byLengths(thing, index, lengths) : thing.outline ? outline(thing, at) : round(thing, at)}
    ${isMeasured ? size(thing, at) : nothing} ${gaps(thing, at)}
    ${thing.kind === 'door lining' ? undercut(thing, at) : nothing}
    ${textField({ id: 'name', label: `Name (${kindWords(thing.kind)})`, value: thing.name, take: (name) => name.trim() && rename(at('name'), thing.name, name.trim()) })}
    ${photos({ thing: thing.name })} ${otherWay(thing, index, isMeasured)}
    <button class="button" @click=${() => takeAway(index, thing.name)}>${icon('gone')} Take it out of the room</button>`;
}

/** Measured from corners: the lengths, and where they put it. @param {any} thing @param {number} index @param {any[]} lengths */
function byLengths(thing, index, lengths) {
  const drawn = desk.plan?.room?.fixed.find((/** @type {any} */ { name }) => name === thing.name);
  const address = (/** @type {number} */ point) => jobAddress(desk.route.job, 'read', 'thing', index, point);
  const row = (/** @type {any} */ reading) => {
    const { from, point = 0 } = reading;
    const name = thing.outline ? `${from} to ${point + 1}` : from;
    return {
      name,
      typed: typedText(reading),
      cells: [],
      again: () => {
        askAgain(address(point), reading, `${from} to ${thing.name}`);
        goTo(address(point));
      },
      out: () => takeBack(reading, `${from} to ${thing.name}`),
    };
  };
  return html` <a class="button main tall" href=${address(0)}>${lengths.length ? 'Measure once more' : 'Measure it from the corners'}</a>
    ${drawn ? figureGrid(drawn.places) : nothing}
    ${lengths.length ? takenTable({ caption: 'Lengths in mm. Tap a figure to read it again.', heads: ['From', 'Read'], rows: lengths.map(row) }) : nothing}`;
}

/** What stands where it stands by lengths still has a size of its own. @param {any} thing @param {At} at */
function size(thing, at) {
  if (thing.diameter != null) return diameter(thing, at);
  const [[x, y], , [far, deep]] = thing.outline;
  if (!thing.by_lengths || thing.outline.length !== 4 || x !== 0 || y !== 0) return nothing;
  const take = (/** @type {number} */ axis, /** @type {[number, number]} */ points) => (/** @type {number | null} */ value) =>
    value !== null && change(points.map((point) => ({ path: at('outline', point, axis), value })), `${thing.name}: ${written(value)}`);
  return html` <div class="pair">
    ${numberField({ id: 'long', label: 'Its length', value: far, take: take(0, [1, 2]) })}
    ${numberField({ id: 'deep', label: 'Its depth', value: deep, take: take(1, [2, 3]) })}
  </div>`;
}

/** By lengths instead of x and y, or the other way round. @param {any} thing @param {number} index @param {boolean} isMeasured */
function otherWay(thing, index, isMeasured) {
  if (!isMeasured)
    return html`<a class="button" href=${jobAddress(desk.route.job, 'read', 'thing', index, 0)}>Measure it from the corners instead</a>`;
  const back = withdrawAll(desk.job?.doc, ({ of, thing: name }) => of === 'thing' && name === thing.name);
  const edits = [...back, { path: ['room', 'fixed', index, 'by_lengths'], value: false }];
  return html`<button class="button" @click=${() => change(edits, `${thing.name} by x and y`)}>Type x and y instead</button>`;
}

/** @param {any} thing @param {At} at */
const diameter = (thing, at) => jobNumber({ id: 'diameter', label: 'Diameter', value: thing.diameter, path: at('diameter') });

/** @param {any} thing @param {At} at */
const gaps = (thing, at) =>
  html` <div class="pair">
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
  </div>`;

/** @param {any} thing @param {At} at */
const undercut = (thing, at) =>
  choice({
    id: 'undercut',
    label: 'Sawn off below, so that the floor runs under it',
    value: thing.undercut ? 'yes' : 'no',
    options: [
      ['no', 'No'],
      ['yes', 'Yes, undercut'],
    ],
    take: (next) => put(at('undercut'), next === 'yes', next === 'yes' ? 'Undercut' : 'Not undercut'),
  });

/** What is kept under a thing's name goes with it. @param {(string | number)[]} path @param {string} from @param {string} to */
function rename(path, from, to) {
  const others = (desk.job?.doc.room.fixed ?? []).filter((/** @type {any} */ { name }) => name === to);
  if (from !== to && others.length) return refuse(`There is another “${to}” in the room. Choose a name of its own.`);
  return change([{ path, value: to }, ...photosFollow(from, to), ...readingsFollow(desk.job?.doc, from, to)], `Name: ${to}`);
}

/** @param {string} sentence */
function refuse(sentence) {
  desk.wrong = sentence;
  return false;
}

/** @param {any} thing @param {At} at */
const round = (thing, at) =>
  html` <div class="pair">
    ${jobNumber({ id: 'cx', label: 'Centre, x', signed: true, value: thing.centre?.[0], path: at('centre', 0) })}
    ${jobNumber({ id: 'cy', label: 'Centre, y', signed: true, value: thing.centre?.[1], path: at('centre', 1) })}
    ${diameter(thing, at)}
  </div>`;

/** @param {any} thing @param {At} at */
const outline = (thing, at) =>
  html` ${thing.outline.map(
      (/** @type {[number, number]} */ [x, y], /** @type {number} */ row) =>
        html` <section class="corner-row" aria-label="Corner ${row + 1}">
          <h2>${row + 1}</h2>
          ${jobNumber({ id: `ox-${row}`, label: `${row + 1}, x mm`, unit: '', signed: true, value: x, path: at('outline', row, 0) })}
          ${jobNumber({ id: `oy-${row}`, label: `${row + 1}, y mm`, unit: '', signed: true, value: y, path: at('outline', row, 1) })}
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

/** Its readings stay in the file, taken back. @param {number} index @param {string} name */
const takeAway = (index, name) =>
  attempt(async () => {
    const back = withdrawAll(desk.job?.doc, ({ of, thing }) => of === 'thing' && thing === name);
    if (await change([...back, { path: ['room', 'fixed', index], remove: true }], `Taken out: ${name}`))
      goTo(jobAddress(desk.route.job, 'room'));
  });
