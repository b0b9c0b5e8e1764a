// @ts-check
/**
 * Why this file exists: along a threshold the last row can be laid long, taken up as one unit and cut in one pass.
 * What was measured on the laid floor stands here with the line, the guide and the gap that come of it.
 */
import { change, desk, put, redraw } from '../desk.js';
import { drawnText } from '../parts/drawing.js';
import { choice, dropDraft, jobNumber, numberField, select, takeDraft, written } from '../parts/field.js';
import { figureButton, figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing, svg } from '../parts/lit.js';
import { view } from '../parts/view_box.js';
import { goTo, jobAddress } from '../routes.js';
import { faceName, wallName } from '../walls.js';
import { isOld, oldMark } from './plan.js';

const ELSEWHERE = 'elsewhere';
const GAPS = 4;

/** The mark that is being entered. @type {{corner: string, x: number | null, y: number | null, distance: number | null}} */
const fresh = { corner: '', x: null, y: null, distance: null };

const cuts = () => desk.job?.doc.long_cuts ?? [];

export const longCutScreen = () => {
  const which = desk.route.rest[0] ?? (cuts().length ? '0' : 'new');
  const cut = cuts()[Number(which)];
  return jobPage({
    step: 'cut',
    title: cut ? `Long cut ${wallName(cut)}` : 'The long straight cut',
    back: jobAddress(desk.route.job, 'cut'),
    body: cut ? known(cut, Number(which)) : whichWall(),
  });
};

/** Thresholds first: there it saves most. */
function whichWall() {
  const walls = [...(desk.job?.doc.room.walls ?? [])].sort(
    (one, other) => Number(other.face === 'threshold') - Number(one.face === 'threshold'),
  );
  return html` <p>
      The last row is laid long, taken up as one unit and cut in one pass. Two marks on the laid floor, each with its
      distance to the edge, say where the cut runs.
    </p>
    <h2>Along which wall?</h2>
    <div class="tools wide" role="group" aria-label="Along which wall?">
      ${walls.map(
        (wall) =>
          html`<button class="button tall" @click=${() => begin(wall)}>${wallName(wall)}, ${faceName(wall.face ?? 'wall').toLowerCase()}</button>`,
      )}
    </div>`;
}

/** @param {any} wall */
async function begin(wall) {
  const index = cuts().length;
  const value = { from: wall.from, to: wall.to, marks: [] };
  if (await change([{ path: ['long_cuts', index], value }], `Long cut along ${wallName(wall)}`))
    goTo(jobAddress(desk.route.job, 'long-cut', index));
}

/** @param {any} cut @param {number} index */
function known(cut, index) {
  const drawn = desk.plan?.long_cuts?.[index];
  const at = (/** @type {(string | number)[]} */ ...rest) => ['long_cuts', index, ...rest];
  return html` ${drawn ? picture(drawn) : nothing} ${oldMark()} ${drawn?.note ? html`<p class="finding note">${drawn.note}</p>` : nothing}
    ${findings((path) => path.startsWith(`long_cuts[${index}]`))}
    ${drawn?.is_measured ? lines(drawn) : html`<p class="sheet plain">${missing(cut, drawn)}</p>`}
    <h2>Marks on the laid floor</h2>
    ${(cut.marks ?? []).map((/** @type {any} */ mark, /** @type {number} */ number) => markLine(mark, number, drawn, at))}
    ${newMark(cut, drawn, at)} ${drawn?.is_measured ? work(drawn) : nothing} ${settings(cut, at)}
    ${drawn ? pieces(drawn) : nothing}
    <h2>Before you saw</h2>
    ${(drawn?.cautions ?? []).map((/** @type {string} */ words) => html`<p class="finding warning">${words}</p>`)}
    <a class="way" href="#/cautions">All cautions</a> ${otherCuts(index)}
    <button class="button" @click=${() => takeOut(index, cut)}>${icon('gone')} Take this cut out</button>`;
}

/** @param {any} cut @param {any} drawn */
function missing(cut, drawn) {
  if (desk.plan && !isOld() && !drawn) return 'There is no such wall with floor along it any more.';
  if (isOld()) return 'The line is being worked out.';
  return (cut.marks ?? []).length < 2
    ? 'Measure two marks, one near each end: from a corner of the pattern square to the edge of the tile or wall.'
    : 'The marks lie too near each other. Measure one near each end.';
}

/** @param {any} drawn */
const picture = (drawn) =>
  html` <div class="drawing ${isOld() ? 'old' : ''}">
    <svg role="img" aria-label="The cut along ${drawn.wall}, the wall above" viewBox=${drawn.view_box.join(' ')} ${view('long-cut', drawn.view_box)}>
      ${drawn.boards.map((/** @type {any} */ { path }) => svg`<path class="piece whole" d=${path} />`)}
      <path class="wall threshold" d=${drawn.edge} />
      <path class="guide" d=${drawn.guide} />
      <path class="saw-cut" d=${drawn.cut} />
      ${[...drawn.labels, ...drawn.mark_labels].map((/** @type {any} */ label) => drawnText(label))}
    </svg>
  </div>`;

/** What is struck is the largest on the screen. @param {any} drawn */
const lines = (drawn) =>
  html` <div class="figures huge">
      ${drawn.marks.map(
        (/** @type {any} */ { to_cut }, /** @type {number} */ number) =>
          figureButton({ ...to_cut, label: `Mark ${number + 1} to the cut` }, true),
      )}
    </div>
    ${figureGrid(drawn.figures.slice(0, GAPS))} ${figureGrid(drawn.figures.slice(GAPS))}`;

/** @typedef {(...rest: (string | number)[]) => (string | number)[]} At */

/** @param {any} mark @param {number} number @param {any} drawn @param {At} at */
function markLine(mark, number, drawn, at) {
  const shown = drawn?.marks[number];
  return html` <section class="sheet" aria-label="Mark ${number + 1}">
    <div class="row between">
      <h3>Mark ${number + 1}${shown?.is_doubted ? ', does not fit' : ''}</h3>
      <button class="button bare" aria-label="Take out mark ${number + 1}" @click=${() => change([{ path: at('marks', number), remove: true }], `Mark ${number + 1} taken out`)}>
        ${icon('gone')}
      </button>
    </div>
    <p class="small soft">${shown?.place ?? `x ${written(mark.at[0])}, y ${written(mark.at[1])}`}</p>
    ${jobNumber({ id: `distance-${number}`, label: `Mark ${number + 1} to the edge, as measured`, value: mark.distance, path: at('marks', number, 'distance') })}
    ${shown ? figureGrid([shown.to_cut, shown.to_guide, shown.residual].filter(Boolean)) : nothing}
  </section>`;
}

/** A corner of the pattern is a mark that needs no pencil. @param {any} cut @param {any} drawn @param {At} at */
function newMark(cut, drawn, at) {
  const corners = drawn?.corners ?? [];
  const picked = pickedCorner(cut, corners);
  const number = (cut.marks ?? []).length;
  return html` <section class="sheet" aria-label="Next mark">
    <h3>Mark ${number + 1}</h3>
    ${select({
      id: 'corner',
      label: 'From the corner of board',
      value: picked,
      options: [...corners.map((/** @type {any} */ { words }, /** @type {number} */ index) => [String(index), words]), [ELSEWHERE, 'another place, by x and y']],
      take: (value) => {
        fresh.corner = value;
        redraw();
      },
    })}
    ${
      picked === ELSEWHERE
        ? html`<div class="pair">
            ${numberField({ id: 'mark-x', label: 'It lies at x', signed: true, value: fresh.x, take: (value) => void (fresh.x = value) })}
            ${numberField({ id: 'mark-y', label: 'It lies at y', signed: true, value: fresh.y, take: (value) => void (fresh.y = value) })}
          </div>`
        : nothing
    }
    ${numberField({ ...distanceField(), hint: 'Square to the edge of the tile or wall.', onEnter: () => void add(cut, corners, at) })}
    <button class="button main" @click=${() => add(cut, corners, at)}>Take it</button>
  </section>`;
}

/** @returns {import('../parts/field.js').NumberField} */
const distanceField = () => ({
  id: 'mark-distance',
  label: 'To the edge, as measured',
  value: fresh.distance,
  take: (value) => void (fresh.distance = value),
});

/** The first mark near one end, the second near the other, the third half-way between. @param {any} cut @param {any[]} corners */
function pickedCorner(cut, corners) {
  if (fresh.corner === ELSEWHERE || corners.length === 0) return ELSEWHERE;
  if (fresh.corner && corners[Number(fresh.corner)]) return fresh.corner;
  return String([0, corners.length - 1][(cut.marks ?? []).length] ?? Math.floor(corners.length / 2));
}

/** @param {any} cut @param {any[]} corners @param {At} at */
async function add(cut, corners, at) {
  if (!(await takeDraft(distanceField())) || fresh.distance === null) return;
  const picked = pickedCorner(cut, corners);
  const [x, y] = picked === ELSEWHERE ? [fresh.x, fresh.y] : corners[Number(picked)].typed.map(Number);
  if (x === null || y === null) return;
  const number = (cut.marks ?? []).length;
  const value = { at: [x, y], distance: fresh.distance };
  if (await put(at('marks', number), value, `Mark ${number + 1}: ${written(fresh.distance)} mm to the edge`)) {
    Object.assign(fresh, { corner: '', x: null, y: null, distance: null });
    for (const id of ['mark-x', 'mark-y', 'mark-distance']) dropDraft(id);
    redraw();
  }
}

/** @param {any} drawn */
const work = (drawn) =>
  html` <h2>The work</h2>
    <ol>
      ${drawn.steps.map((/** @type {string} */ step) => html`<li>${step}</li>`)}
    </ol>`;

/** @param {any} cut @param {At} at */
const settings = (cut, at) =>
  html` <h2>Guide and seam</h2>
    <div class="pair">
      ${jobNumber({ id: 'guide', label: 'Guide to blade', optional: true, value: cut.guide ?? null, path: at('guide'), hint: 'From the edge of the saw plate that runs along the guide to the near side of the blade.' })}
      ${jobNumber({ id: 'long-gap', label: 'Gap of the seam', optional: true, value: cut.gap ?? null, path: at('gap'), hint: 'Empty: the gap of this wall.' })}
      ${jobNumber({ id: 'depth', label: 'Depth of the seam', optional: true, value: cut.depth ?? null, path: at('depth'), hint: 'Empty: the thickness of the board.' })}
      ${jobNumber({ id: 'allowance', label: 'Lay longer by', value: cut.allowance ?? 20, path: at('allowance') })}
    </div>
    ${choice({
      id: 'guide-on',
      label: 'The guide lies on',
      value: cut.guide_on ?? 'floor',
      options: [
        ['floor', 'the floor’s side'],
        ['waste', 'the waste’s side'],
      ],
      take: (side) => put(at('guide_on'), side, `Guide on the ${side}’s side`),
    })}`;

/** @param {any} drawn */
const pieces = (drawn) =>
  html` <h2>${String(drawn.boards.length)} pieces to lay long</h2>
    <ul class="list">
      ${drawn.boards.map(
        (/** @type {any} */ { id, take, flags }) =>
          html`<li>
            <span class="piece-line">
              <span class="name">${id}</span>
              <span class="small">${take}</span>
              ${flags.map((/** @type {string} */ words) => html`<span class="small"><strong>${words}</strong></span>`)}
            </span>
          </li>`,
      )}
    </ul>`;

/** @param {number} index */
const otherCuts = (index) =>
  html` <div class="row">
    ${cuts().map((/** @type {any} */ cut, /** @type {number} */ other) =>
      other === index ? nothing : html`<a class="button grow" href=${jobAddress(desk.route.job, 'long-cut', other)}>${wallName(cut)}</a>`,
    )}
    <a class="button grow" href=${jobAddress(desk.route.job, 'long-cut', 'new')}>Along another wall</a>
  </div>`;

/** @param {number} index @param {any} cut */
async function takeOut(index, cut) {
  if (await change([{ path: ['long_cuts', index], remove: true }], `Long cut along ${wallName(cut)} taken out`))
    goTo(jobAddress(desk.route.job, 'cut'));
}
