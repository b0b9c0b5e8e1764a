// @ts-check
/** Why this file exists: a job opens on its plan. */
import { desk, isPlanCurrent, redraw } from '../desk.js';
import { legend, planDrawing } from '../parts/drawing.js';
import { figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { pan, whole, zoom } from '../parts/view_box.js';
import { goTo, jobAddress } from '../routes.js';
import { EXAGGERATION, restartEngine } from '../thinking.js';

let bowed = false;

export const planScreen = () =>
  jobPage({
    step: 'plan',
    title: 'Plan',
    body: html` ${desk.plan ? drawn() : notDrawn()} ${engineTrouble()} ${findings()}
    ${desk.plan?.summary ? figureGrid(desk.plan.summary) : nothing}
    ${desk.plan ? figureGrid(desk.plan.room.figures.filter(isNotShownAbove)) : nothing}
    ${desk.plan?.floor ? legend(desk.job?.doc.floor.axis ?? 90, desk.plan.floor.lines) : nothing}`,
  });

/** @param {{key: string}} figure */
const isNotShownAbove = ({ key }) => !desk.plan.summary?.some((/** @type {any} */ figure) => figure.key === key);

export const isOld = () => desk.plan !== null && !isPlanCurrent();

/** A plan that is not of this moment says so. */
export function oldMark() {
  if (isOld())
    return html`<p class="finding note" id="kept-plan">
      This is the plan as last computed. It does not hold the newest changes yet.
    </p>`;
  if (desk.planIsKept)
    return html`<p class="finding note" id="kept-plan">
      This is the plan kept from last time. It is being worked out again.
    </p>`;
  return nothing;
}

const drawn = () =>
  html` ${planDrawing({
      key: 'plan',
      label: planWords(),
      room: desk.plan.room,
      floor: desk.plan.floor,
      axis: desk.job?.doc.floor.axis,
      progress: desk.job?.doc.progress,
      bowed,
      old: isOld(),
      onPiece: (id) => goTo(jobAddress(desk.route.job, 'piece', id)),
    })}
    ${oldMark()}
    <div class="tools" role="group" aria-label="Look at the plan">
      <button class="button" aria-label="Closer" @click=${() => zoom('plan', 0.5)}>${icon('plus')}</button>
      <button class="button" aria-label="Farther" @click=${() => zoom('plan', 2)}>${icon('minus')}</button>
      <button class="button" aria-label="Whole room" @click=${() => whole('plan')}>${icon('fit')}</button>
      <button class="button" aria-pressed=${bowed ? 'true' : 'false'} @click=${toggleBow}>Bow ×${EXAGGERATION}</button>
      <button class="button" aria-label="Look left" @click=${() => pan('plan', -0.4, 0)}>${icon('left')}</button>
      <button class="button" aria-label="Look up" @click=${() => pan('plan', 0, -0.4)}>${icon('up')}</button>
      <button class="button" aria-label="Look down" @click=${() => pan('plan', 0, 0.4)}>${icon('down')}</button>
      <button class="button" aria-label="Look right" @click=${() => pan('plan', 0.4, 0)}>${icon('right')}</button>
    </div>
    <p class="small soft">Tap a piece for its cut. The same pieces stand in a list under Cut.</p>`;

const planWords = () =>
  [
    'Plan of the room to scale',
    ...(desk.plan.summary ?? []).map((/** @type {any} */ { label, text, unit }) => `${label} ${text} ${unit}`),
  ].join(', ');

function toggleBow() {
  bowed = !bowed;
  redraw();
}

/** A plan that cannot be drawn yet says what comes first. */
function notDrawn() {
  const walls = desk.job?.doc.room.walls ?? [];
  if (walls.length < 3)
    return html` <section class="sheet">
      <h2>No room yet</h2>
      <p>Measure at least three corners and the plan is drawn here.</p>
      <a class="button main" href=${jobAddress(desk.route.job, 'corners')}>Measure the corners</a>
    </section>`;
  if (desk.findings.length) return nothing;
  return html`<section class="sheet plain">
    <h2>The plan is on its way</h2>
    <p>The engine is starting. You can enter readings meanwhile; they are saved one by one.</p>
  </section>`;
}

const engineTrouble = () =>
  desk.engine === 'failed'
    ? html`<section class="sheet">
        <p class="finding error">${desk.engineSentence}</p>
        <button class="button" @click=${restartEngine}>Start the engine again</button>
      </section>`
    : nothing;
