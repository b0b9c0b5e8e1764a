// @ts-check
/** Why this file exists: one wall: what it is, its gap, how its curve runs, and its readings. */
import { change, desk, put } from '../desk.js';
import { planDrawing } from '../parts/drawing.js';
import { choice, jobNumber, written } from '../parts/field.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { jobAddress } from '../routes.js';
import { isOld } from './plan.js';
import { drawnWall, FACES, wallName } from './room.js';

const CURVES = /** @type {const} */ ([
  ['smooth', 'Smooth'],
  ['straight', 'Straight pieces'],
  ['arc', 'Arc'],
]);

export const wallScreen = () => {
  const index = Number(desk.route.rest[0]);
  const wall = desk.job?.doc.room.walls[index];
  const back = jobAddress(desk.route.job, 'room');
  if (!wall)
    return jobPage({ step: 'room', title: 'Wall', back, body: html`<p>This wall is no longer in the job.</p>` });
  return jobPage({ step: 'room', title: `Wall ${wallName(wall)}`, back, body: wallBody(wall, index) });
};

/** @param {any} wall @param {number} index */
const wallBody = (wall, index) =>
  html` ${wallPicture(wall)}
    <a class="button main tall" href=${jobAddress(desk.route.job, 'read', index)}>Take readings</a>
    ${wall.offsets?.length ? readingsTable(wall, index) : html`<p class="soft">No readings: the wall is taken as straight.</p>`}
    ${drawnWall(wall) ? figureGrid([drawnWall(wall).length, drawnWall(wall).bow]) : nothing} ${wallChoices(wall, index)}
    ${findings((path) => path.startsWith(`room.walls[${index}]`))}`;

/** @param {any} wall @param {number} index */
const wallChoices = (wall, index) => {
  const name = wallName(wall);
  const at = (/** @type {string} */ key) => ['room', 'walls', index, key];
  return html` ${choice({ id: `face-${index}`, label: 'What stands here', value: wall.face ?? 'wall', options: FACES, take: (face) => put(at('face'), face, `${name}: ${face}`) })}
    <div class="pair">
      ${jobNumber({ id: `gap-${index}`, label: 'Gap to the floor', value: wall.gap ?? 10, path: at('gap') })}
      ${jobNumber({
        id: `tolerance-${index}`,
        label: 'Tolerance, more or less',
        value: wall.tolerance ?? null,
        optional: true,
        path: at('tolerance'),
        hint:
          wall.tolerance == null
            ? `Empty: ${written(desk.job?.doc.cutting?.gap_tolerance ?? 2)} mm, as set for all`
            : '',
      })}
    </div>
    ${choice({ id: `curve-${index}`, label: 'How the wall runs between readings', value: wall.curve ?? 'smooth', options: CURVES, take: (curve) => put(at('curve'), curve, `${name}: ${curve}`) })}`;
};

/** @param {any} wall */
export const wallPicture = (wall) =>
  desk.plan
    ? planDrawing({
        key: 'wall',
        label: `Where wall ${wallName(wall)} is, bow drawn larger`,
        room: desk.plan.room,
        bowed: true,
        here: drawnWall(wall)?.name,
        still: true,
        mini: true,
        old: isOld(),
      })
    : nothing;

/** @param {any} wall @param {number} index */
const readingsTable = (wall, index) =>
  html` <table>
    <caption class="small soft">
      Offset: into the room is plus.
    </caption>
    <thead>
      <tr>
        <th scope="col">From ${wall.from}</th>
        <th scope="col">Offset</th>
        <th scope="col"><span class="small">Take out</span></th>
      </tr>
    </thead>
    <tbody>
      ${wall.offsets.map(
        (/** @type {[number, number]} */ [station, offset], /** @type {number} */ row) =>
          html` <tr>
            <td>${written(station)}</td>
            <td>${written(offset)}</td>
            <td>
              <button
                class="button bare"
                aria-label="Take out the reading at ${written(station)}"
                @click=${() => takeOut(index, row, station)}
              >
                ${icon('gone')}
              </button>
            </td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/** @param {number} index @param {number} row @param {number} station */
const takeOut = (index, row, station) =>
  change(
    [{ path: ['room', 'walls', index, 'offsets', row], remove: true }],
    `Reading at ${written(station)} taken out`,
  );
