// @ts-check
/** Why this file exists: lengths from the corners to a fixed thing: two put it in its place, a third proves them. */
import { cornerNames } from '../corner_edits.js';
import { desk } from '../desk.js';
import { select } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { focusReading, readingEntry } from '../parts/reading_entry.js';
import { roomPicture } from '../parts/room_picture.js';
import { jobAddress } from '../routes.js';
import { thingReadings as lengthsTo } from '../survey_edits.js';

/** The corner chosen by hand, for one screen. @type {{address: string, from: string}} */
const hand = { address: '', from: '' };

/** What the address names: `read/thing/INDEX/POINT`. */
const named = () => {
  const [, index, point = '0'] = desk.route.rest;
  return { index: Number(index), point: Number(point), thing: desk.job?.doc.room.fixed?.[Number(index)] };
};

export const thingReadings = () => {
  const { index, point, thing } = named();
  const back = jobAddress(desk.route.job, 'thing', index);
  if (!thing) return jobPage({ step: 'room', title: 'Fixed thing', back, body: html`<p>This is no longer in the job.</p>` });
  const ids = new Set(lengthsTo(desk.job?.doc, thing.name).map(({ id }) => `survey.readings.${id}`));
  return jobPage({
    step: 'room',
    title: thing.name,
    back,
    body: html` ${readingEntry(target, { below: below(thing, index, point) })} ${roomPicture({ key: 'read-thing', label: `Where ${thing.name} stands`, thing: thing.name })}
    ${findings((path) => ids.has(path))}`,
  });
};

/** @returns {import('../parts/reading_entry.js').Target} */
function target() {
  const { thing, point } = named();
  const from = fromNow();
  const count = lengthsOf(thing, point).length;
  return {
    label: `${from} to ${thing.outline ? `corner ${point + 1} of ` : ''}${thing.name}`,
    fields: { of: 'thing', thing: thing.name, from, ...(point ? { point } : {}) },
    hint: hintOf(thing, count),
    onTaken: () => {
      hand.from = '';
    },
  };
}

/** @param {any} thing @param {number} count */
function hintOf(thing, count) {
  if (count >= 2) return 'A third length shows whether the two can be believed.';
  if (thing.outline) return 'Corners 1 and 2 are the ends of its length; going from 1 to 2 it lies on your left.';
  return 'From the corner to the middle of it: to its near side, and half its diameter more.';
}

/** @param {any} thing @param {number} point */
const lengthsOf = (thing, point) =>
  lengthsTo(desk.job?.doc, thing.name).filter((reading) => (reading.point ?? 0) === point);

/** The corner chosen, else the next one not measured from. */
function fromNow() {
  const { thing, point } = named();
  if (hand.address === location.hash && hand.from) return hand.from;
  const names = cornerNames(desk.job?.doc);
  const used = new Set(lengthsOf(thing, point).map(({ from }) => from));
  return names.find((name) => !used.has(name)) ?? names[0];
}

/** @param {any} thing @param {number} index @param {number} point */
function below(thing, index, point) {
  const options = cornerNames(desk.job?.doc).map((name) => /** @type {[string, string]} */ ([name, `Corner ${name}`]));
  const isPlaced = lengthsOf(thing, point).length >= 2;
  return html` ${select({
      id: 'from',
      label: 'Measured from',
      value: fromNow(),
      options,
      take: (from) => {
        Object.assign(hand, { address: location.hash, from });
        focusReading();
      },
    })}
    ${isPlaced ? next(thing, index, point) : nothing}`;
}

/** An outline needs two of its corners; the second pipe of a pair comes after the first. @param {any} thing @param {number} index @param {number} point */
function next(thing, index, point) {
  const { job } = desk.route;
  if (thing.outline && point === 0)
    return html`<a class="button" href=${jobAddress(job, 'read', 'thing', index, 1)}>Next: corner 2 ${icon('next')}</a>`;
  const other = (desk.job?.doc.room.fixed ?? []).findIndex(
    (/** @type {any} */ { by_lengths, name }) => by_lengths && lengthsTo(desk.job?.doc, name).length === 0,
  );
  return other < 0
    ? html`<a class="button" href=${jobAddress(job, 'thing', index)}>That is all</a>`
    : html`<a class="button" href=${jobAddress(job, 'read', 'thing', other, 0)}
        >Next: ${desk.job?.doc.room.fixed[other].name} ${icon('next')}</a
      >`;
}
