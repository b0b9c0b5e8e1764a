// @ts-check
/** Why this file exists: the survey at a glance: walls, corners and fixed things, each one tap away. */
import { desk } from '../desk.js';
import { planDrawing } from '../parts/drawing.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { written } from '../parts/field.js';
import { photosOfWhatIsGone } from '../parts/photos.js';
import { jobAddress } from '../routes.js';
import { offsetReadings } from '../survey_edits.js';
import { kindWords } from '../things.js';
import { drawnWall, faceName, isRoomOld, wallName } from '../walls.js';
import { oldMark } from './plan.js';

export const roomScreen = () => {
  const room = desk.job?.doc.room ?? { walls: [] };
  return jobPage({
    step: 'room',
    title: 'Room',
    body: html` ${
        desk.plan
          ? html`${planDrawing({ key: 'room', label: 'The room with the bow of its walls drawn larger', room: desk.plan.room, bowed: true, still: true, old: isRoomOld() })}
              <p class="small soft">The bow is drawn twenty times larger; the thin line is to scale.</p>`
          : nothing
      }
      ${oldMark()}
      ${desk.plan ? figureGrid(desk.plan.room.figures.filter((/** @type {any} */ { key }) => key !== 'lay area')) : nothing}
      ${nextToMeasure(room)}
      ${
        room.walls.length
          ? html`<h2>Walls</h2>
              <ul class="list">
                ${room.walls.map(wallLine)}
              </ul>`
          : html`<p>Walls appear here once there are corners.</p>`
      }
      <h2>Fixed things</h2>
      <p class="small soft">What the floor goes round: an island, a pipe, a column.</p>
      ${
        room.fixed?.length
          ? html`<ul class="list">
              ${room.fixed.map(thingLine)}
            </ul>`
          : nothing
      }
      <a class="button" href=${jobAddress(desk.route.job, 'thing', 'new')}>${icon('plus')} Add a fixed thing</a>
      ${photosOfWhatIsGone()} ${findings((path) => path.startsWith('room'))}`,
  });
};

/** Corners first, then the walls that nobody has read. @param {any} room */
function nextToMeasure(room) {
  const corners = jobAddress(desk.route.job, 'corners');
  if (!room.walls.length) return html`<a class="button main tall" href=${corners}>Measure the corners</a>`;
  const unread = room.walls.findIndex((/** @type {any} */ wall) => stationsRead(wall) === 0);
  return html` ${
      unread < 0
        ? nothing
        : html`<a class="button main tall" href=${jobAddress(desk.route.job, 'read', unread)}>Read the walls</a>`
    }
    <a class="button" href=${corners}>Corners (${room.walls.length})</a>`;
}

/** How many stations shape the curve of a wall: as drawn (a datum line reads two walls at once), or as entered just now. @param {any} wall */
function stationsRead(wall) {
  const drawn = drawnWall(wall)?.profile?.readings.filter((/** @type {any} */ { is_check }) => !is_check).length ?? 0;
  const entered = new Set([
    ...(wall.offsets ?? []).map((/** @type {[number, number]} */ [station]) => station),
    ...offsetReadings(desk.job?.doc, wall).filter(({ check }) => !check).map(({ station }) => station),
  ]).size;
  return isRoomOld() ? entered || drawn : drawn || entered;
}

/** @param {any} wall @param {number} index */
const wallLine = (wall, index) =>
  html` <li>
    <a class="open" href=${jobAddress(desk.route.job, 'wall', index)}>
      <span class="name">${wallName(wall)} · ${faceName(wall.face ?? 'wall')}</span>
      <span class="small soft">${wallFacts(wall).join(' · ')}</span>
    </a>
  </li>`;

/** What is known of a wall, in few words. @param {any} wall @returns {string[]} */
function wallFacts(wall) {
  const drawn = drawnWall(wall);
  const count = stationsRead(wall);
  const checked = wall.checks?.length || offsetReadings(desk.job?.doc, wall).some(({ check }) => check);
  return [
    ...(drawn ? [`${drawn.length.text} ${drawn.length.unit} long`] : []),
    `gap ${written(wall.gap ?? 10)} mm`,
    count === 1 ? '1 reading' : `${count} readings`,
    ...(count && !checked ? ['no check yet'] : []),
    ...(drawn && count ? [`bow ${drawn.bow.text} ${drawn.bow.unit}`] : []),
  ];
}

/** @param {any} thing @param {number} index */
const thingLine = (thing, index) =>
  html` <li>
    <a class="open" href=${jobAddress(desk.route.job, 'thing', index)}>
      <span class="name">${thing.name}</span>
      <span class="small soft">${thingFacts(thing).join(' · ')}</span>
    </a>
  </li>`;

/** @param {any} thing @returns {string[]} */
const thingFacts = ({ kind, diameter, outline, gap, undercut, by_lengths }) => [
  ...(kind && kind !== 'other' ? [kindWords(kind)] : []),
  diameter ? `round, ${written(diameter)} mm` : `${outline?.length ?? 0} corners`,
  undercut ? 'undercut, the floor runs under it' : `gap ${written(gap ?? 10)} mm`,
  ...(by_lengths ? ['by lengths'] : []),
];
