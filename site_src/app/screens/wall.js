// @ts-check
/** Why this file exists: one wall: what it is, its gap, how its curve runs, and its readings. */
import { desk, put } from '../desk.js';
import { choice, jobNumber, written } from '../parts/field.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { photos } from '../parts/photos.js';
import { readingsTable } from '../parts/readings_table.js';
import { wallProfile } from '../parts/wall_profile.js';
import { jobAddress } from '../routes.js';
import { drawnWall, FACES, wallName } from '../walls.js';

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
  html` ${wallProfile(wall, { shapes: true })}
    <a class="button main tall" href=${jobAddress(desk.route.job, 'read', index)}>Take readings</a>
    ${findings((path) => path.startsWith(`room.walls[${index}]`))} ${wallChoices(wall, index)}
    ${drawnWall(wall) ? figureGrid(figuresOf(drawnWall(wall))) : nothing} ${shape(wall, index)}
    <h2>Readings</h2>
    ${readingsTable(wall, index)} ${photos({ wall: [wall.from, wall.to] })} ${breaks(wall, index)}`;

/** @param {any} drawn */
const figuresOf = ({ length, bow, next, spacing }) => [length, bow, next.station, next.gain, ...spacing];

/** How the wall runs: one shape is proposed, the others are drawn dotted. @param {any} wall @param {number} index */
function shape(wall, index) {
  const name = wallName(wall);
  const now = wall.curve ?? 'smooth';
  const drawn = drawnWall(wall);
  const isOther = drawn && drawn.proposal !== now;
  return html` ${choice({ id: `curve-${index}`, label: 'How the wall runs between readings', value: now, options: CURVES, take: (curve) => put(['room', 'walls', index, 'curve'], curve, `${name}: ${curve}`) })}
    ${drawn?.proposal_words ? html`<p class="finding ${isOther ? 'warning' : 'note'}">${drawn.proposal_words}</p>` : nothing}
    ${drawn?.profile.others.length ? html`<p class="small soft">Dotted above: the wall as the other shapes would have it.</p>` : nothing}`;
}

/** @param {any} wall @param {number} index */
const wallChoices = (wall, index) => {
  const name = wallName(wall);
  const at = (/** @type {string} */ key) => ['room', 'walls', index, key];
  const opens = wall.face === 'threshold' || wall.face === 'opening';
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
      ${
        opens
          ? jobNumber({
              id: `next-floor-${index}`,
              label: 'Next floor above this base',
              signed: true,
              value: wall.next_floor ?? null,
              optional: true,
              path: at('next_floor'),
              hint: 'Below: with a minus. Empty: not measured.',
            })
          : nothing
      }
    </div>`;
};

/** Where a chimney breast, a casing or a step splits the wall. @param {any} wall @param {number} index */
const breaks = (wall, index) =>
  html` <h2>Breaks</h2>
    <p class="small soft">
      Where a casing, a chimney breast or a step splits the wall, the curve starts anew. Read the wall there too.
    </p>
    ${(wall.breaks ?? []).map((/** @type {number} */ station, /** @type {number} */ row) =>
      jobNumber({
        id: `break-${index}-${row}`,
        label: `Break, from ${wall.from}`,
        optional: true,
        value: station,
        path: ['room', 'walls', index, 'breaks', row],
        hint: 'Empty it to take the break out.',
      }),
    )}
    ${jobNumber({
      id: `break-${index}-new`,
      label: `New break, from ${wall.from}`,
      optional: true,
      value: null,
      path: ['room', 'walls', index, 'breaks', (wall.breaks ?? []).length],
    })}`;
