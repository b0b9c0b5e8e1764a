// @ts-check
/**
 * Why this file exists: one laser or string along the room, and the distances square
 * to it: both long walls come out at once, and no corner has to be reached.
 */
import { ringOfWalls } from '../corner_edits.js';
import { desk, setSetting, setting } from '../desk.js';
import { choice, dropDraft, numberField, written } from '../parts/field.js';
import { findings, isAboutCorners } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { focusReading, readingEntry } from '../parts/reading_entry.js';
import { roomPicture } from '../parts/room_picture.js';
import { readNumber } from '../numbers.js';
import { jobAddress } from '../routes.js';
import { datumReadings as datumRead } from '../survey_edits.js';

/** @typedef {'behind' | 'ahead' | 'left' | 'right'} Side */

const SIDES = /** @type {const} */ ([
  ['behind', 'Behind'],
  ['ahead', 'Ahead'],
  ['left', 'Left'],
  ['right', 'Right'],
]);

/** What the hand chose instead of what comes next. @type {{job: string, side: Side | null, station: number | null}} */
const hand = { job: '', side: null, station: null };

export const datumReadings = () => {
  if (hand.job !== desk.route.job) Object.assign(hand, { job: desk.route.job, side: null, station: null });
  return jobPage({
    step: 'room',
    title: 'Datum line',
    back: jobAddress(desk.route.job, 'corners'),
    body: html` ${readingEntry(target, { below: below() })} ${roomPicture({ key: 'read-datum', bowed: true })}
    ${datumRead(desk.job?.doc).length < 4 ? nothing : findings(isAboutCorners)}`,
  });
};

/** @returns {import('../parts/reading_entry.js').Target} */
function target() {
  const { side, station } = now();
  const doc = desk.job?.doc;
  const before = datumRead(doc, side).find((reading) => (reading.station ?? 0) === station);
  return {
    label: labelOf(side, station),
    fields: { of: 'datum', side, station, ...(before ? { corrects: before.id } : {}) },
    edits: doc.room.walls.length ? [] : ringOfWalls(doc, 4),
    hint: hintOf(side),
    onTaken: () => {
      Object.assign(hand, { side: null, station: null });
      dropDraft('datum-station');
    },
  };
}

/** @param {Side} side @param {number} station */
function labelOf(side, station) {
  if (side === 'left' || side === 'right') return `${side === 'left' ? 'Left' : 'Right'} at ${written(station)} mm along the line`;
  const beside = station === 0 ? '' : `, ${written(Math.abs(station))} mm to the ${station > 0 ? 'left' : 'right'}`;
  return `${side === 'behind' ? 'Wall behind' : 'Wall ahead'}, along the line${beside}`;
}

/** @param {Side} side */
const hintOf = (side) =>
  ({
    behind: 'Where the wall behind you meets the line, from the zero of the line. 0 when the line starts at it; behind the zero with a minus.',
    ahead: 'How far along the line the wall ahead is.',
    left: 'Square from the line to the wall on its left.',
    right: 'Square from the line to the wall on its right.',
  })[side];

/** The end walls first, then left and right at one station after the other. @returns {{side: Side, station: number}} */
function now() {
  const doc = desk.job?.doc;
  const side = hand.side ?? sideNext(doc);
  if (hand.station !== null) return { side, station: hand.station };
  return { side, station: side === 'left' || side === 'right' ? stationNext(doc, side) : 0 };
}

/** @param {any} doc @returns {Side} */
function sideNext(doc) {
  const end = SIDES.slice(0, 2).find(([side]) => datumRead(doc, side).length === 0);
  if (end) return end[0];
  return datumRead(doc, 'left').length > datumRead(doc, 'right').length ? 'right' : 'left';
}

/** The right is read where the left was. @param {any} doc @param {'left' | 'right'} side @returns {number} */
function stationNext(doc, side) {
  const left = datumRead(doc, 'left').map(({ station = 0 }) => station);
  const own = new Set(datumRead(doc, side).map(({ station = 0 }) => station));
  const open = side === 'right' ? left.find((station) => !own.has(station)) : undefined;
  return open ?? Math.max(0, ...own) + setting('station step', 500);
}

/** Both walls are read to the wall ahead. */
function isAtEnd() {
  const doc = desk.job?.doc;
  const [ahead] = datumRead(doc, 'ahead');
  if (!ahead || (ahead.unit ?? 'mm') !== 'mm' || sideNext(doc) !== 'left') return false;
  const { value } = readNumber(ahead.typed, false);
  return value !== undefined && stationNext(doc, 'left') >= value;
}

function below() {
  const { side, station } = now();
  const along = side === 'left' || side === 'right';
  return html` ${isAtEnd() ? lineIsRead() : nothing}
    ${choice({ id: 'side', label: 'Read to the wall', value: side, options: SIDES, take: (next) => choose({ side: /** @type {Side} */ (next), station: null }) })}
    <div class="pair">
      ${numberField({
        id: 'datum-station',
        signed: true,
        label: along ? 'Along the line' : 'Beside the line, left is plus',
        value: station,
        hint: along ? '' : 'Where an end wall is not square, meet it at a second place too.',
        take: (value) => void Object.assign(hand, { side, station: value }),
        onEnter: focusReading,
      })}
      ${along ? numberField({ id: 'step', label: 'Step to the next', value: setting('station step', 500), take: setStep, onEnter: focusReading }) : nothing}
    </div>`;
}

/** @param {number | null} value */
const setStep = (value) => value !== null && value > 0 && setSetting('station step', value);

/** @param {{side: Side, station: number | null}} chosen */
function choose(chosen) {
  Object.assign(hand, chosen);
  focusReading();
}

const lineIsRead = () =>
  html` <section class="sheet" aria-label="The line is read">
    <p>The next station would lie past the wall ahead: both long walls are read.</p>
    <a class="button main" href=${jobAddress(desk.route.job, 'room')}>That is all</a>
  </section>`;
