// @ts-check
/** Why this file exists: what was read on a wall, as it was typed and as it is understood, each to be read again or taken back. */
import { change, desk } from '../desk.js';
import { goTo, jobAddress } from '../routes.js';
import { offsetReadings } from '../survey_edits.js';
import { drawnWall, isRoomOld } from '../walls.js';
import { written } from './field.js';
import { icon } from './icons.js';
import { html } from './lit.js';
import { askAgain, takeBack } from './reading_entry.js';

/** @typedef {{station: number, typed: string, check: boolean, again: (() => void) | null, out: () => unknown}} Row */

/** @param {any} wall @param {number} index */
export function readingsTable(wall, index) {
  const rows = rowsOf(wall, index);
  if (!rows.length) return html`<p class="soft">No readings: the wall is taken as straight.</p>`;
  return html` <table>
    <caption class="small soft">Offset in mm: into the room is plus. Tap a figure to read it again.</caption>
    <thead>
      <tr>
        <th scope="col">From ${wall.from}</th>
        <th scope="col">Read</th>
        <th scope="col">Offset</th>
        <th scope="col"><span class="small">Take out</span></th>
      </tr>
    </thead>
    <tbody>
      ${rows.map((row) => line(row, wall))}
    </tbody>
  </table>`;
}

/** @param {Row} row @param {any} wall */
const line = ({ station, typed, check, again, out }, wall) =>
  html` <tr>
    <td>${written(station)}${check ? html` <span class="small">check</span>` : ''}</td>
    <td>
      ${again ? html`<button class="button bare" aria-label="${typed}: read ${written(station)} again" @click=${again}>${typed}</button>` : typed}
    </td>
    <td>${isRoomOld() ? '…' : offsetAt(wall, station, check)}</td>
    <td>
      <button class="button bare" aria-label="Take out the reading at ${written(station)}" @click=${out}>${icon('gone')}</button>
    </td>
  </tr>`;

/** @param {any} wall @param {number} station @param {boolean} check */
const offsetAt = (wall, station, check) =>
  drawnWall(wall)?.profile?.readings.find(
    (/** @type {any} */ { typed, is_check }) => Number(typed) === station && is_check === check,
  )?.offset ?? '';

/** Readings, and offsets of an older file that no reading stands for, by station. @param {any} wall @param {number} index @returns {Row[]} */
function rowsOf(wall, index) {
  const read = offsetReadings(desk.job?.doc, wall).map((reading) => readRow(reading, wall, index));
  const stations = new Set(read.map(({ station }) => station));
  const plain = (wall.offsets ?? [])
    .map((/** @type {[number, number]} */ [station, offset], /** @type {number} */ row) => plainRow(station, offset, index, row))
    .filter((/** @type {Row} */ { station }) => !stations.has(station));
  return [...read, ...plain].toSorted((a, b) => a.station - b.station);
}

/** @param {any} reading @param {any} wall @param {number} index @returns {Row} */
function readRow(reading, wall, index) {
  const { station, typed, unit = 'mm', check = false } = reading;
  const label = `${check ? 'Check' : 'Offset'} at ${written(station)} mm from ${wall.from}`;
  return {
    station,
    check,
    typed: `${typed}${unit === 'mm' ? '' : ` ${unit}`}`,
    again: () => {
      const address = jobAddress(desk.route.job, 'read', index);
      askAgain(address, reading, label);
      goTo(address);
    },
    out: () => takeBack(reading, label),
  };
}

/** @param {number} station @param {number} offset @param {number} index @param {number} row @returns {Row} */
const plainRow = (station, offset, index, row) => ({
  station,
  check: false,
  typed: written(offset),
  again: null,
  out: () =>
    change([{ path: ['room', 'walls', index, 'offsets', row], remove: true }], `Reading at ${written(station)} taken out`),
});
