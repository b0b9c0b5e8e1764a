// @ts-check
/** Why this file exists: which board, where the pattern sits, and what the saw leaves. */
import { desk, put } from '../desk.js';
import { cuttingNumber } from '../parts/cutting_number.js';
import { planDrawing } from '../parts/drawing.js';
import { jobNumber, written } from '../parts/field.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { nudge } from '../parts/nudge.js';
import { jobAddress } from '../routes.js';
import { boardAndPattern, floorNumber, sentenceCase } from './board_and_pattern.js';
import { offcutChoice } from './offcut_choice.js';
import { isOld, oldMark } from './plan.js';

const CUTTING = /** @type {const} */ ([
  ['gap_tolerance', 'Gap tolerance, more or less', 'mm', 2, 'For walls and things without their own.'],
  ['sliver', 'Sliver: smaller than this', 'mm', 20, 'Width or long point that would have to be glued.'],
  ['trim', 'Trim: left on a sawn edge until tried', 'mm', 0, 'Pieces of one board keep the kerf and twice this.'],
]);

export const setOutScreen = () => {
  const { floor, cutting = {} } = desk.job?.doc ?? { floor: { board: {}, anchor: [0, 0] } };
  return jobPage({
    step: 'set-out',
    title: 'Set out',
    body: html` ${desk.plan ? planDrawing({ key: 'set-out', label: 'Where the pattern sits', room: desk.plan.room, floor: desk.plan.floor, axis: floor.axis, progress: desk.job?.doc.progress, still: true, old: isOld() }) : nothing}
      ${oldMark()} ${findings((path) => /^(floor|cutting|laid)/.test(path) || path === '')}
      ${whichBoard(floor)}
      <a class="button main" href=${jobAddress(desk.route.job, 'place')}>Where the pattern should sit</a>
      <a class="button" href=${jobAddress(desk.route.job, 'strike')}>Lines to strike, first boards</a>
      <a class="button" href=${jobAddress(desk.route.job, 'staying-true')}>Staying true while laying</a>
      <h2>Where it sits</h2>
      ${nudge()} ${desk.plan?.summary ? figureGrid(desk.plan.summary) : nothing} ${place(floor)}
      ${boardAndPattern(floor)}
      <h2>Gap and pieces</h2>
      <div class="pair">
        ${CUTTING.map(cuttingNumber)}
      </div>
      <a class="button" href=${jobAddress(desk.route.job, 'tools')}>Tools and settings of the saw</a>
      ${offcutChoice(cutting)}`,
  });
};

/** What all is worked out for is seen before anything else, and mended one tap away. @param {any} floor */
const whichBoard = ({ pattern = 'herringbone', board }) =>
  board.length
    ? html`<button class="button" @click=${toBoard}>
        ${sentenceCase(pattern)}, board ${written(board.length)} × ${written(board.width)} mm
      </button>`
    : nothing;

const toBoard = () => {
  document.getElementById('board')?.scrollIntoView();
  document.getElementById('length')?.focus({ preventScroll: true });
};

/** @param {any} floor */
const place = (floor) =>
  html` ${floorNumber({ id: 'axis', label: floor.pattern === 'diagonal' ? 'Direction of the axis' : 'Direction of the rows', unit: '°', value: floor.axis ?? 90, path: ['axis'], hint: axisHint(floor) })}
    ${alongWalls()}
    <div class="pair">
      ${jobNumber({ id: 'anchor-x', label: 'Boards meet at x', signed: true, value: floor.anchor[0], path: ['floor', 'anchor', 0] })}
      ${jobNumber({ id: 'anchor-y', label: 'Boards meet at y', signed: true, value: floor.anchor[1], path: ['floor', 'anchor', 1] })}
    </div>`;

/** @param {any} floor */
const axisHint = ({ pattern }) =>
  `0 points right along x, 90 up along y.${pattern === 'diagonal' ? ' Diagonal rows run 45° to the left of it.' : ''}`;

/** The rows may follow a wall. */
const alongWalls = () =>
  desk.plan?.room
    ? html` <div class="tools wide" role="group" aria-label="Rows along a wall">
        ${desk.plan.room.walls.map(
          (/** @type {any} */ { name, heading }) =>
            html`<button class="button" @click=${() => put(['floor', 'axis'], Number(heading), `Rows along ${name}`)}>Along ${name}</button>`,
        )}
      </div>`
    : nothing;
