// @ts-check
/** Why this file exists: one reading at a time, with a huge figure, so that a tape, a laser and dusty hands can do it. */
import { change, desk, redraw, setting, setSetting } from '../desk.js';
import { choice, dropDraft, numberField, setDraft, takeDraft, written } from '../parts/field.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { readNumber } from '../numbers.js';
import { jobAddress } from '../routes.js';
import { wallPicture } from './wall.js';
import { drawnWall, wallName } from './room.js';

/** What the hand is about to read; lost by nothing but taking it. @type {Map<string, {station: number | null, last: number | null, side: string}>} */
const hands = new Map();

export const readingsScreen = () => {
  const index = Number(desk.route.rest[0]);
  const wall = desk.job?.doc.room.walls[index];
  const back = jobAddress(desk.route.job, 'wall', index);
  if (!wall)
    return jobPage({ step: 'room', title: 'Readings', back, body: html`<p>This wall is no longer in the job.</p>` });
  return jobPage({ step: 'room', title: `Readings ${wallName(wall)}`, back, body: body(wall, index) });
};

/** @param {number} index */
function handAt(index) {
  const key = `${desk.route.job} ${index}`;
  const hand = hands.get(key) ?? { station: null, last: null, side: 'in' };
  hands.set(key, hand);
  return hand;
}

/** The station read last and one step more. @param {any} wall @param {{last: number | null}} hand */
const suggested = (wall, hand) => (hand.last ?? wall.offsets?.at(-1)?.[0] ?? 0) + setting('station step', 500);

/** The wall's length where it is known. @param {any} wall @returns {number | null} */
function lengthOf(wall) {
  const read = readNumber(drawnWall(wall)?.length.text ?? written(wall.length) ?? '');
  return read.value ?? null;
}

/** @param {any} wall @param {number} index */
function body(wall, index) {
  const hand = handAt(index);
  const station = hand.station ?? suggested(wall, hand);
  const length = lengthOf(wall);
  const past = length !== null && station >= length;
  return html` ${past ? atTheEnd(wall, index) : nothing}
    ${numberField({
      id: `offset-${index}`,
      label: `Offset at ${written(station)} mm from ${wall.from}`,
      huge: true,
      take: (value) => takeReading(index, value),
      onEnter: () => takeDraft(offsetField(index)),
    })}
    ${choice({
      id: `side-${index}`,
      label: 'The wall stands',
      value: hand.side,
      options: [
        ['in', 'into the room'],
        ['back', 'back from the line'],
      ],
      take: (side) => {
        hand.side = side;
        redraw();
      },
    })}
    <button class="button main tall" @click=${() => takeDraft(offsetField(index))}>
      Take it, next station ${icon('next')}
    </button>
    <div class="pair">
      ${numberField({
        id: `station-${index}`,
        label: `Station from ${wall.from}`,
        value: station,
        take: (value) => {
          hand.station = value;
          redraw();
        },
      })}
      ${numberField({ id: `step-${index}`, label: 'Step to the next', value: setting('station step', 500), take: (value) => setStep(value) })}
    </div>
    <p class="small soft">
      ${readSoFar(wall, length)} Stretch a line or aim a laser from corner to corner; read how far the wall stands off
      it. Enter takes the reading.
    </p>
    ${wallPicture(wall)}
    <a class="button" href=${jobAddress(desk.route.job, 'wall', index)}>Done with this wall</a>`;
}

/** @param {any} wall @param {number} index */
const atTheEnd = (wall, index) =>
  html` <p class="finding note">
    The next station would lie past corner ${wall.to}: this wall is read.
    <a href=${jobAddress(desk.route.job, 'wall', index)}>Done with this wall</a>
  </p>`;

/** @param {any} wall @param {number | null} length */
function readSoFar(wall, length) {
  const count = wall.offsets?.length ?? 0;
  const last = wall.offsets?.at(-1);
  const long = length === null ? '' : ` of a wall ${written(length)} mm long`;
  return count
    ? `${count === 1 ? '1 reading' : `${count} readings`}${long}; the last ${written(last[1])} at ${written(last[0])}.`
    : `No readings yet${long}.`;
}

/** @param {number | null} value */
function setStep(value) {
  if (value === null || value <= 0) return false;
  return setSetting('station step', value);
}

/** @param {number} index @returns {import('../parts/field.js').NumberField} */
const offsetField = (index) => ({
  id: `offset-${index}`,
  label: 'Offset',
  take: (value) => takeReading(index, value),
});

/** Readings are saved one after the other, however fast they come. @type {Promise<boolean>} */
let saving = Promise.resolve(true);

/** @param {number} index @param {number | null} typed */
function takeReading(index, typed) {
  // The field is free at once: a laser may type the next reading while this one is being saved.
  dropDraft(`offset-${index}`);
  const field = document.getElementById(`offset-${index}`);
  if (field instanceof HTMLInputElement) field.value = '';
  saving = saving.then(() => saveReading(index, typed));
  return saving;
}

/** @param {number} index @param {number | null} typed */
async function saveReading(index, typed) {
  const wall = desk.job?.doc.room.walls[index];
  if (typed === null || !wall) return false;
  const hand = handAt(index);
  const station = hand.station ?? suggested(wall, hand);
  const offset = hand.side === 'back' && typed > 0 ? 0 - typed : typed;
  const words = `${wallName(wall)} at ${written(station)}: ${written(offset)}`;
  if (!(await change(readingEdits(wall, index, station, offset), words))) {
    setDraft(`offset-${index}`, written(typed));
    return false;
  }
  hand.last = station;
  hand.station = null;
  dropDraft(`station-${index}`);
  focusOffset(index);
  return true;
}

/** Readings stand in the order of their stations; one at a station read before takes its place. @param {any} wall @param {number} index @param {number} station @param {number} offset */
function readingEdits(wall, index, station, offset) {
  const offsets = wall.offsets ?? [];
  const list = ['room', 'walls', index, 'offsets'];
  if (!wall.offsets) return [{ path: list, value: [[station, offset]] }];
  const same = offsets.findIndex((/** @type {[number, number]} */ [at]) => at === station);
  if (same >= 0) return [{ path: [...list, same], value: [station, offset] }];
  const after = offsets.findIndex((/** @type {[number, number]} */ [at]) => at > station);
  return [{ path: [...list, after < 0 ? offsets.length : after], value: [station, offset], insert: true }];
}

/** @param {number} index */
function focusOffset(index) {
  requestAnimationFrame(() => document.getElementById(`offset-${index}`)?.focus());
}
