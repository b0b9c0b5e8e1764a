// @ts-check
/** Why this file exists: a wall's shape grows as readings come in, drawn along the wall with its offsets much larger. */
import { desk } from '../desk.js';
import { drawnWall, isRoomOld, wallName } from '../walls.js';
import { drawnText } from './drawing.js';
import { html, nothing, svg } from './lit.js';
import { view } from './view_box.js';

/** @param {any} wall @param {{shapes?: boolean}} [options] with the shapes the wall is not taken for */
export function wallProfile(wall, { shapes = false } = {}) {
  const drawn = desk.plan && drawnWall(wall);
  if (!drawn?.profile) return nothing;
  const { profile } = drawn;
  return html` <div class="drawing mini profile ${isRoomOld() ? 'old' : ''}">
      <svg role="img" aria-label="Shape of wall ${wallName(wall)}: ${profile.words}" viewBox=${profile.view_box.join(' ')} ${view('profile', profile.view_box, true)}>
        <path class="band" d=${profile.band} />
        <path class="line" d=${profile.line} />
        ${shapes ? profile.others.map((/** @type {any} */ { path }) => svg`<path class="other-shape" d=${path} />`) : nothing}
        <path class="wall ${drawn.face}" d=${profile.path} />
        ${profile.readings.map(mark)}
        <path class="read-next" d=${profile.next} />
        ${profile.labels.map((/** @type {any} */ label) => drawnText(label))}
      </svg>
    </div>
    <p class="small soft">${profile.words}</p>`;
}

/** @param {any} reading */
const mark = ({ path, is_check }) => svg`<path class="reading ${is_check ? 'check' : ''}" d=${path} />`;
