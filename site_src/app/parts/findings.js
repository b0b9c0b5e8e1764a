// @ts-check
/** Why this file exists: what is wrong is said in a sentence, with a way to the place where it is mended. */
import { desk } from '../desk.js';
import { jobAddress } from '../routes.js';
import { html, nothing } from './lit.js';
import { together } from './together.js';

/** @param {string} path place in the job file */
function placeOf(path) {
  const wall = /^room\.walls\[(\d+)\]/.exec(path);
  const thing = /^room\.fixed\[(\d+)\]/.exec(path);
  if (wall) return jobAddress(desk.route.job, 'wall', wall[1]);
  if (thing) return jobAddress(desk.route.job, 'thing', thing[1]);
  if (path.startsWith('room.corners') || path.startsWith('room.ties')) return jobAddress(desk.route.job, 'corners');
  if (path.startsWith('room')) return jobAddress(desk.route.job, 'room');
  if (path.startsWith('laid')) return jobAddress(desk.route.job, 'staying-true');
  if (/^(floor|cutting)/.test(path)) return jobAddress(desk.route.job, 'set-out');
  return '';
}

/** @param {{path: string, sentence: string, level?: string}} finding */
const findingLine = ({ path, sentence, level = 'error' }) => {
  const place = placeOf(path);
  const there = place && place !== location.hash;
  return html` <li class="row">
    <p class="finding grow ${level}">${together(sentence)}</p>
    ${there ? html`<a class="button" href=${place}>Mend</a>` : nothing}
  </li>`;
};

/** @param {(path: string, code: string) => boolean} [wanted] which places of the job this screen is about */
export function findings(wanted = () => true) {
  if (!desk.job?.doc.room.walls.length) return nothing; // a job just started: the screen says what comes first
  const found = desk.findings.filter(({ path, code }) => wanted(path, code));
  return found.length
    ? html`<ul class="findings bare" aria-label="What was found">
        ${found.map(findingLine)}
      </ul>`
    : nothing;
}

/** What a wall's own screen tells is told there. */
const OF_WALLS = new Set(['no check reading', 'reading stands out', 'wall not known well enough', 'walls not read', 'check outside the band']);
/** @param {string} path @param {string} code */
export const isAboutCorners = (path, code) => /^(room|survey)/.test(path) && !OF_WALLS.has(code);
