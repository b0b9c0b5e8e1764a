// @ts-check
/** Why this file exists: readings on one wall, station by station, to its end, one check, and on to the next wall. */
import { desk, isRoomCurrent, setSetting, setting } from '../desk.js';
import { dropDraft, numberField, written } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { focusReading, isReadAgain, openQuestion, readingEntry } from '../parts/reading_entry.js';
import { lineChoices, lineFields, lineHint, lineSign } from '../parts/wall_line.js';
import { wallProfile } from '../parts/wall_profile.js';
import { readNumber } from '../numbers.js';
import { jobAddress } from '../routes.js';
import { offsetReadings } from '../survey_edits.js';
import { drawnWall, isRoomOld, wallName } from '../walls.js';

/** @typedef {{station: number | null, last: number | null, check: boolean, more: boolean}} Hand where the hand is on a wall; `more` past its end */

/** @type {Map<string, Hand>} */
const hands = new Map();

/** @param {number} index @returns {Hand} */
function handAt(index) {
  const key = `${desk.route.job} ${index}`;
  const hand = hands.get(key) ?? { station: null, last: null, check: false, more: false };
  hands.set(key, hand);
  return hand;
}

export const wallReadings = () => {
  const index = Number(desk.route.rest[0]);
  const wall = desk.job?.doc.room.walls[index];
  const back = jobAddress(desk.route.job, 'wall', index);
  if (!wall)
    return jobPage({ step: 'room', title: 'Readings', back, body: html`<p>This wall is no longer in the job.</p>` });
  return jobPage({ step: 'room', title: `Readings ${wallName(wall)}`, back, body: body(wall, index) });
};

/** @param {any} wall @param {number} index */
const body = (wall, index) =>
  html` ${
      isRead(wall, index) && !isReadAgain()
        ? html`${openQuestion()} ${wallIsRead(wall, index)}`
        : readingEntry(() => target(index), { below: place(wall, index), choices: lineChoices(wall) })
    }
    ${wallProfile(wall)} ${readNext(wall, index)} ${isRead(wall, index) ? nothing : nextWall(index)}
    ${findings((path, code) => path.startsWith(`room.walls[${index}]`) && !isOutrun(code))}`;

/** A check that was just read is not asked for while the room is worked out with it. @param {string} code */
const isOutrun = (code) => code === 'no check reading' && isRoomOld();

/** What is read now on the wall. @param {number} index @returns {import('../parts/reading_entry.js').Target} */
function target(index) {
  const wall = desk.job?.doc.room.walls[index];
  const hand = handAt(index);
  const check = isCheck(wall, hand);
  const station = stationNow(wall, hand);
  const before = offsetReadings(desk.job?.doc, wall).find((reading) => reading.station === station);
  return {
    label: `${check ? 'Check' : 'Offset'} at ${written(station)} mm from ${wall.from}`,
    how: { fields: lineFields(), sign: lineSign() },
    fields: {
      of: 'offset',
      from: wall.from,
      to: wall.to,
      station,
      ...(check ? { check: true } : {}),
      ...(before ? { corrects: before.id } : {}),
    },
    hint: check ? 'A check is kept out of the curve: it shows whether the other readings can be believed.' : lineHint(wall),
    onTaken: () => moveOn(hand, station, check),
  };
}

/** @param {Hand} hand @param {number} station @param {boolean} check */
function moveOn(hand, station, check) {
  Object.assign(hand, { station: null, check: false, more: false }, check ? {} : { last: station });
  dropDraft('station');
}

/** Past the end of the wall the next reading belongs where it tells most. @param {any} wall @param {Hand} hand */
function stationNow(wall, hand) {
  if (hand.station !== null) return hand.station;
  const next = drawnWall(wall)?.next;
  if (!next || !(isCheck(wall, hand) || isPast(wall, hand))) return suggested(wall, hand);
  // Once it stands on the screen it stays: the hand may be on its way there.
  if (isRoomCurrent()) Object.assign(hand, { check: isCheck(wall, hand), station: Number(next.typed) });
  return Number(next.typed);
}

/** The station read last and one step more. @param {any} wall @param {Hand} hand @returns {number} */
const suggested = (wall, hand) => (hand.last ?? lastRead(wall)) + setting('station step', 500);

/** @param {any} wall @returns {number} */
const lastRead = (wall) => Math.max(0, ...stations(wall));

/** Stations with a reading that shapes the curve. @param {any} wall @returns {number[]} */
const stations = (wall) => [
  ...(wall.offsets ?? []).map((/** @type {[number, number]} */ [station]) => station),
  ...offsetReadings(desk.job?.doc, wall).filter(({ check }) => !check).map(({ station }) => station),
];

/** @param {any} wall */
const isChecked = (wall) => (wall.checks ?? []).length > 0 || offsetReadings(desk.job?.doc, wall).some(({ check }) => check);

/** The wall's length where it is known. @param {any} wall @returns {number | null} */
function lengthOf(wall) {
  const read = readNumber(drawnWall(wall)?.length.text ?? written(wall.length) ?? '', false);
  return read.value ?? null;
}

/** Would the next station lie beyond the wall? @param {any} wall @param {Hand} hand */
function isPast(wall, hand) {
  const length = lengthOf(wall);
  return length !== null && suggested(wall, hand) >= length;
}

/** Has the hand come to the wall's end? @param {any} wall @param {Hand} hand */
const isAtEnd = (wall, hand) => !hand.more && hand.station === null && isPast(wall, hand);

/** At the end of a wall one more reading proves the others. @param {any} wall @param {Hand} hand */
const isCheck = (wall, hand) =>
  hand.check || (isAtEnd(wall, hand) && !isChecked(wall) && stations(wall).length > 0 && drawnWall(wall) !== undefined);

/** @param {any} wall @param {number} index */
const isRead = (wall, index) => isAtEnd(wall, handAt(index)) && !isCheck(wall, handAt(index));

/** @param {any} wall @param {number} index */
function wallIsRead(wall, index) {
  const count = stations(wall).length;
  return html` <section class="sheet" aria-label="This wall is read">
    <h2>Wall ${wallName(wall)} is read</h2>
    <p>${count === 1 ? '1 reading' : `${count} readings`}${isChecked(wall) ? ', checked' : ''}.</p>
    ${nextWall(index, 'main tall')}
    <button class="button" @click=${() => goOn(index, { more: true })}>Another reading on this wall</button>
  </section>`;
}

/** @param {number} index @param {string} [look] */
function nextWall(index, look = '') {
  const next = wallToRead(index);
  const { job } = desk.route;
  return next === null
    ? html`<a class="button ${look}" href=${jobAddress(job, 'room')}>Every wall is read</a>`
    : html`<a class="button ${look}" href=${jobAddress(job, 'read', next)}
        >Next wall, ${wallName(desk.job?.doc.room.walls[next])} ${icon('next')}</a
      >`;
}

/** The next wall round the room without readings. @param {number} index @returns {number | null} */
function wallToRead(index) {
  const walls = desk.job?.doc.room.walls ?? [];
  for (let step = 1; step < walls.length; step += 1) {
    const next = (index + step) % walls.length;
    if (stations(walls[next]).length === 0) return next;
  }
  return null;
}

/** @param {number} index @param {Partial<Hand>} change */
function goOn(index, change) {
  Object.assign(handAt(index), change);
  focusReading();
}

/** @param {any} wall @param {number} index */
const place = (wall, index) =>
  html` <div class="pair">
    ${numberField({
      id: 'station',
      label: `Station from ${wall.from}`,
      value: stationNow(wall, handAt(index)),
      take: (value) => void Object.assign(handAt(index), { station: value }),
      onEnter: focusReading,
    })}
    ${numberField({ id: 'step', label: 'Step to the next', value: setting('station step', 500), hint: spacingHint(wall), take: setStep, onEnter: focusReading })}
  </div>`;

/** How close stations should lie for the accuracy that a gap usually needs. @param {any} wall */
function spacingHint(wall) {
  const spacing = drawnWall(wall)?.spacing?.at(-1);
  return spacing ? `${spacing.label}: ${spacing.text} ${spacing.unit}` : '';
}

/** @param {number | null} value */
const setStep = (value) => value !== null && value > 0 && setSetting('station step', value);

/** @param {any} wall @param {number} index */
function readNext(wall, index) {
  const next = drawnWall(wall)?.next;
  if (!next || stations(wall).length === 0) return nothing;
  const { last, check } = handAt(index);
  return html` <div class="row">
    <button class="button grow" @click=${() => goOn(index, { station: Number(next.typed), check: false })}>
      Read at ${next.station.text} next: gains ${next.gain.text} mm
    </button>
    <button class="button grow" ?disabled=${check} @click=${() => goOn(index, { station: Number(next.typed), check: true, last })}>
      Check there
    </button>
  </div>`;
}
