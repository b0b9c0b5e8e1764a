// @ts-check
/** Why this file exists: where the corners are and how sure that is, whichever way they were measured. */
import { cornerNames } from '../corner_edits.js';
import { desk, redraw } from '../desk.js';
import { choice } from '../parts/field.js';
import { figureGrid } from '../parts/figure.js';
import { findings, isAboutCorners } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { roomPicture } from '../parts/room_picture.js';
import { jobAddress } from '../routes.js';
import { standing } from '../survey_edits.js';
import { EXAGGERATION } from '../thinking.js';
import { byDatum } from './corners_by_datum.js';
import { byLengths } from './corners_by_length.js';
import { byPosition } from './corners_by_position.js';
import { byTapes } from './corners_by_tape.js';

const WAYS = /** @type {const} */ ([
  ['position', 'Two laser lines'],
  ['length', 'Lengths and ties'],
  ['datum', 'Datum line'],
  ['tape', 'Two tapes'],
]);
const BODIES = { position: byPosition, length: byLengths, datum: byDatum, tape: byTapes };

/** @typedef {keyof typeof BODIES} Way */

/** @type {{job: string, way: Way | ''}} */
const chosen = { job: '', way: '' };

/** As the corners were measured so far. @param {any} doc @returns {Way} */
function wayOf(doc) {
  if (chosen.job === desk.route.job && chosen.way) return chosen.way;
  const kinds = new Set(standing(doc).map(({ of }) => of));
  if (kinds.has('datum')) return 'datum';
  const isPlaced = kinds.has('place') || doc.room.corners || !doc.room.walls.length;
  return isPlaced ? 'position' : 'length';
}

export const cornersScreen = () => {
  const doc = desk.job?.doc;
  if (!doc) return nothing;
  const way = wayOf(doc);
  return jobPage({
    step: 'room',
    title: 'Corners',
    back: jobAddress(desk.route.job, 'room'),
    body: html` ${choice({
      id: 'way',
      label: 'How the corners are measured',
      value: way,
      options: WAYS,
      take: (next) => {
        Object.assign(chosen, { job: desk.route.job, way: next });
        redraw();
      },
    })}
    ${BODIES[way](doc)} ${known(doc)} ${findings(isAboutCorners)}`,
  });
};

/** The room and its corners as they come out. @param {any} doc */
function known(doc) {
  const room = desk.plan?.room;
  if (!room || cornerNames(doc).length < 3) return nothing;
  const figures = room.corners.flatMap((/** @type {any} */ { angle, known_to }) => [angle, ...(known_to ? [known_to] : [])]);
  const isSolved = room.corners.some((/** @type {any} */ { ellipse }) => ellipse);
  return html` <h2>As it comes out</h2>
    ${roomPicture({ key: 'corners', ellipses: true })}
    ${isSolved ? html`<p class="small soft">Each corner lies inside its ring 95 times out of 100; the rings are drawn ${EXAGGERATION} times larger.</p>` : nothing}
    ${figureGrid([...room.figures.filter((/** @type {any} */ { key }) => key === 'out of square'), ...figures])}`;
}
