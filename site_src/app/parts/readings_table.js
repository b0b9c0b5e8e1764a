// @ts-check
/** Why this file exists: what was read on a wall, station by station. */
import { change, desk } from '../desk.js';
import { goTo, jobAddress } from '../routes.js';
import { offsetReadings } from '../survey_edits.js';
import { drawnWall, isRoomOld } from '../walls.js';
import { written } from './field.js';
import { html } from './lit.js';
import { askAgain, takeBack } from './reading_entry.js';
import { takenTable, typedText } from './taken_table.js';

/** @param {any} wall @param {number} index */
export function readingsTable(wall, index) {
  const rows = rowsOf(wall, index);
  if (!rows.length) return html`<p class="soft">No readings: the wall is taken as straight.</p>`;
  return takenTable({
    caption: 'Offset in mm: into the room is plus. Tap a figure to read it again.',
    heads: [`From ${wall.from}`, 'Read', 'Offset'],
    rows: rows.map(({ row }) => row),
  });
}

/** Readings, and offsets of an older file that no reading stands for, by station. @param {any} wall @param {number} index */
function rowsOf(wall, index) {
  const read = offsetReadings(desk.job?.doc, wall);
  const stations = new Set(read.map(({ station }) => station));
  const plain = (wall.offsets ?? [])
    .map((/** @type {[number, number]} */ pair, /** @type {number} */ row) => plainRow(pair, index, row))
    .filter((/** @type {{station: number}} */ { station }) => !stations.has(station));
  return [...read.map((reading) => readRow(reading, wall, index)), ...plain].toSorted((a, b) => a.station - b.station);
}

/** @param {any} reading @param {any} wall @param {number} index */
function readRow(reading, wall, index) {
  const { station, check = false } = reading;
  const label = `${check ? 'Check' : 'Offset'} at ${written(station)} mm from ${wall.from}`;
  const again = () => {
    const address = jobAddress(desk.route.job, 'read', index);
    askAgain(address, reading, label);
    goTo(address);
  };
  return {
    station,
    row: {
      name: written(station),
      typed: typedText(reading),
      mark: check ? 'check' : '',
      cells: [isRoomOld() ? '…' : offsetAt(wall, station, check)],
      again,
      out: () => takeBack(reading, label),
    },
  };
}

/** @param {any} wall @param {number} station @param {boolean} check */
const offsetAt = (wall, station, check) =>
  drawnWall(wall)?.profile?.readings.find(
    (/** @type {any} */ { typed, is_check }) => Number(typed) === station && is_check === check,
  )?.offset ?? '';

/** @param {[number, number]} pair @param {number} index @param {number} row */
const plainRow = ([station, offset], index, row) => ({
  station,
  row: {
    name: written(station),
    typed: written(offset),
    cells: [written(offset)],
    out: () =>
      change([{ path: ['room', 'walls', index, 'offsets', row], remove: true }], `Reading at ${written(station)} taken out`),
  },
});
