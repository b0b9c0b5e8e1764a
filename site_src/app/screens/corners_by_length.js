// @ts-check
/** Why this file exists: wall lengths and ties fix the corners without any square line, and check those that have one. */
import { cornerNames, ringOfWalls } from '../corner_edits.js';
import { change, desk, redraw } from '../desk.js';
import { jobNumber, numberField, takeDraft, written } from '../parts/field.js';
import { figureCell } from '../parts/figure.js';
import { html, nothing } from '../parts/lit.js';
import { askAgain, takeBack } from '../parts/reading_entry.js';
import { takenTable, typedText } from '../parts/taken_table.js';
import { goTo, jobAddress } from '../routes.js';
import { standing } from '../survey_edits.js';
import { isRoomOld, wallName } from '../walls.js';

/** @type {{count: number | null}} */
const ringOf = { count: 4 };

/** @param {any} doc */
export const byLengths = (doc) =>
  html` <p class="soft">
      Measure every wall from corner to corner, and ties across the room until nothing can shift. One tie more than
      needed shows a wrong reading.
    </p>
    ${doc.room.walls.length ? measure() : howMany(doc)} ${lengthsTable(doc)} ${olderLengths(doc)} ${usesPositions(doc)}`;

const measure = () =>
  html`<a class="button main tall" href=${jobAddress(desk.route.job, 'read', 'lengths')}>Measure lengths and ties</a>`;

const COUNT = {
  id: 'count',
  label: 'How many corners has the room?',
  unit: '',
  take: (/** @type {number | null} */ value) => {
    ringOf.count = value;
  },
};

/** @param {any} doc */
const howMany = (doc) =>
  html` <section class="sheet" aria-label="How many corners">
    ${numberField({ ...COUNT, value: ringOf.count, onEnter: () => beginRing(doc) })}
    <button class="button main tall" @click=${() => beginRing(doc)}>Measure the lengths</button>
  </section>`;

/** @param {any} doc */
async function beginRing(doc) {
  if (!(await takeDraft(COUNT))) return;
  const { count } = ringOf;
  if (count === null || !Number.isInteger(count) || count < 3 || count > 26) {
    desk.wrong = 'A room has 3 to 26 corners here. Type how many.';
    return redraw();
  }
  if (await change(ringOfWalls(doc, count), `${count} walls to measure`))
    goTo(jobAddress(desk.route.job, 'read', 'lengths'));
}

/** Every length as it was read, against what the corners make of all of them. @param {any} doc */
function lengthsTable(doc) {
  const rows = standing(doc)
    .filter(({ of }) => of === 'length')
    .map((reading) => lengthRow(doc, reading));
  if (!rows.length) return nothing;
  const doubted = rows.filter(({ doubted }) => doubted).map(({ name }) => name);
  return html` ${doubted.length ? html`<p class="finding warning">Most likely wrong: ${doubted.join(', ')}. Read ${doubted.length === 1 ? 'it' : 'them'} again.</p>` : nothing}
    ${takenTable({
      caption: 'In mm. Off: what the reading misses the corners by. Unseen: a smaller slip would not show. Tap a figure to read it again.',
      heads: ['Between', 'Read', 'Off', 'Unseen'],
      rows,
    })}`;
}

/** @param {any} doc @param {any} reading */
function lengthRow(doc, reading) {
  const { from, to } = reading;
  const isWall = doc.room.walls.some((/** @type {any} */ wall) => isBetween(wall, from, to));
  const drawn = isRoomOld() ? undefined : desk.plan?.room?.lengths.find((/** @type {any} */ row) => isBetween(row, from, to));
  const label = `${isWall ? 'Wall' : 'Tie'} ${from}–${to}`;
  return {
    name: `${from}–${to}`,
    typed: typedText(reading),
    mark: [isWall ? '' : 'tie', drawn?.is_doubted ? 'doubted' : ''].filter(Boolean).join(', '),
    doubted: drawn?.is_doubted,
    cells: drawn ? [figureCell(drawn.residual), figureCell(drawn.smallest_blunder)] : ['', ''],
    again: () => {
      const address = jobAddress(desk.route.job, 'read', 'lengths');
      askAgain(address, reading, label);
      goTo(address);
    },
    out: () => takeBack(reading, label),
  };
}

/** @param {any} line @param {string} one @param {string} other */
const isBetween = ({ from, to }, one, other) => (from === one && to === other) || (from === other && to === one);

/** Lengths of an older file, without the readings behind them. @param {any} doc */
function olderLengths(doc) {
  const isOlder = (/** @type {any} */ line) =>
    line.length != null && !standing(doc).some((reading) => reading.of === 'length' && isBetween(reading, line.from, line.to));
  const field = (/** @type {string} */ list, /** @type {string} */ word) => (/** @type {any} */ line, /** @type {number} */ index) =>
    isOlder(line)
      ? jobNumber({ id: `${list}-${index}`, label: `${word} ${wallName(line)}`, value: line.length, optional: list === 'walls', path: ['room', list, index, 'length'] })
      : nothing;
  return html`${doc.room.walls.map(field('walls', 'Wall'))} ${(doc.room.ties ?? []).map(field('ties', 'Tie'))}`;
}

/** @param {any} doc */
const usesPositions = ({ room }) =>
  room.corners && cornerNames({ room }).length
    ? html` <p class="finding note">
          The corners stand at the positions that were entered; lengths only check them.
        </p>
        <button class="button" @click=${() => change([{ path: ['room', 'corners'], remove: true }], 'Corners worked out of lengths')}>
          Work the corners out of the lengths instead
        </button>`
    : nothing;
