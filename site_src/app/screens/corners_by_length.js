// @ts-check
/** Why this file exists: wall lengths and ties fix the corners without any square line. */
import { cornerNames, ringOfWalls } from '../corner_edits.js';
import { change, desk, redraw } from '../desk.js';
import { jobNumber, numberField, select, takeDraft, written } from '../parts/field.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { wallName } from '../walls.js';

/** @type {{from: string, to: string, length: number | null}} */
const tie = { from: '', to: '', length: null };
/** @type {{count: number | null}} */
const ringOf = { count: 4 };

/** @param {any} room */
export const byLengths = (room) =>
  html` <p class="soft">
      Measure every wall from corner to corner, and ties across the room until nothing can shift. One tie more than
      needed shows a wrong reading.
    </p>
    ${room.walls.length ? lengths(room) : howMany(room)}`;

/** @param {any} room */
const howMany = (room) =>
  html` <section class="sheet" aria-label="How many corners">
    ${numberField({
      id: 'count',
      label: 'How many corners has the room?',
      unit: '',
      value: ringOf.count,
      take: (value) => {
        ringOf.count = value;
      },
    })}
    <button class="button main" @click=${() => beginRing(room)}>Enter the lengths</button>
  </section>`;

/** @param {any} room */
async function beginRing(room) {
  if (
    !(await takeDraft({
      id: 'count',
      label: '',
      take: (value) => {
        ringOf.count = value;
      },
    }))
  )
    return;
  const { count } = ringOf;
  if (count === null || !Number.isInteger(count) || count < 3 || count > 26) {
    desk.wrong = 'A room has 3 to 26 corners here. Type how many.';
    return redraw();
  }
  await change(ringOfWalls(room, count), `${count} walls to measure`);
}

/** @param {any} room */
const lengths = (room) =>
  html` ${room.walls.map((/** @type {any} */ wall, /** @type {number} */ index) =>
      jobNumber({
        id: `length-${index}`,
        label: `Wall ${wallName(wall)}`,
        value: wall.length ?? null,
        optional: true,
        path: ['room', 'walls', index, 'length'],
      }),
    )}
    <h2>Ties</h2>
    ${(room.ties ?? []).map(tieRow)} ${newTie(room)} ${room.corners ? usesPositions() : usesLengths()}`;

/** @param {any} each @param {number} index */
const tieRow = (each, index) =>
  html` <div class="row">
    <div class="grow">
      ${jobNumber({ id: `tie-${index}`, label: `Tie ${wallName(each)}`, value: each.length, path: ['room', 'ties', index, 'length'] })}
    </div>
    <button
      class="button bare"
      aria-label="Take out tie ${wallName(each)}"
      @click=${() => change([{ path: ['room', 'ties', index], remove: true }], `Tie ${wallName(each)} taken out`)}
    >
      ${icon('gone')}
    </button>
  </div>`;

/** @param {any} room */
function newTie(room) {
  const names = cornerNames(room);
  const options = /** @type {[string, string][]} */ (names.map((name) => [name, name]));
  const from = names.includes(tie.from) ? tie.from : names[0];
  const to = names.includes(tie.to) ? tie.to : names[2];
  const add = () => void takeTie(room, from, to);
  return html` <section class="sheet" aria-label="New tie">
    <div class="pair">
      ${select({
        id: 'tie-from',
        label: 'From',
        value: from,
        options,
        take: (name) => {
          tie.from = name;
          redraw();
        },
      })}
      ${select({
        id: 'tie-to',
        label: 'To',
        value: to,
        options,
        take: (name) => {
          tie.to = name;
          redraw();
        },
      })}
    </div>
    ${numberField({
      id: 'tie-new',
      label: `Tie ${from}–${to}`,
      value: tie.length,
      take: (value) => {
        tie.length = value;
      },
      onEnter: add,
    })}
    <button class="button" @click=${add}>${icon('plus')} Add this tie</button>
  </section>`;
}

/** @param {any} room @param {string} from @param {string} to */
async function takeTie(room, from, to) {
  if (
    !(await takeDraft({
      id: 'tie-new',
      label: '',
      take: (value) => {
        tie.length = value;
      },
    }))
  )
    return;
  if (tie.length === null) return document.getElementById('tie-new')?.focus();
  const value = { from, to, length: tie.length };
  const edit = room.ties
    ? { path: ['room', 'ties', room.ties.length], value }
    : { path: ['room', 'ties'], value: [value] };
  if (await change([edit], `Tie ${from}–${to} ${written(tie.length)}`)) tie.length = null;
}

const usesPositions = () =>
  html` <p class="finding note">
      The corners stand at the positions that were entered. Lengths count only when the positions are taken out.
    </p>
    <button
      class="button"
      @click=${() => change([{ path: ['room', 'corners'], remove: true }], 'Corners worked out of lengths')}
    >
      Work the corners out of these lengths
    </button>`;

const usesLengths = () =>
  desk.plan
    ? html` <button class="button" @click=${keepPositions}>Keep the worked-out corners as positions</button>`
    : nothing;

/** On the drawing y points down, in the job up. */
const keepPositions = () =>
  change(
    [
      {
        path: ['room', 'corners'],
        value: Object.fromEntries(
          desk.plan.room.corners.map((/** @type {any} */ { name, at }) => [name, [at[0], 0 - at[1]]]),
        ),
      },
    ],
    'Worked-out corners kept as positions',
  );
