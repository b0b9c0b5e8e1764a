// @ts-check
/** Why this file exists: pieces too small to hold alone are joined first and cut in one: the picture and the steps. */
import { desk, putInto } from '../desk.js';
import { drawnText } from './drawing.js';
import { figureGrid } from './figure.js';
import { html, nothing, svg } from './lit.js';
import { view } from './view_box.js';

/** The glue-up that a piece belongs to, if it does, or the offer of one. @param {{id: string, glue_offer?: string}} card */
export function glueUp({ id, glue_offer }) {
  const drawn = desk.plan?.glue_ups?.find((/** @type {any} */ { pieces }) => pieces.includes(id));
  if (!drawn) return glue_offer ? offer(glue_offer) : nothing;
  return html` <h2>The glue-up</h2>
    ${picture(drawn)} ${figureGrid(drawn.figures)}
    <ol>
      ${drawn.steps.map((/** @type {string} */ step) => html`<li>${step}</li>`)}
    </ol>
    ${drawn.cautions.map((/** @type {string} */ words) => html`<p class="finding warning">${words}</p>`)}
    ${choice(false, 'Cut each by itself')}`;
}

/** @param {string} words */
const offer = (words) =>
  html` <h2>Too small to hold alone?</h2>
    <p>${words}</p>
    ${choice(true, 'Join small pieces first')}`;

/** @param {boolean} first @param {string} words */
const choice = (first, words) =>
  html`<button class="button" @click=${() => putInto('cutting', { glue_first: first }, words)}>${words}</button>`;

/** @param {any} drawn */
const picture = (drawn) =>
  html` <div class="drawing mini">
    <svg role="img" aria-label="The joined boards ${drawn.pieces.join(', ')} and their cut" viewBox=${drawn.view_box.join(' ')} ${view('glue-up', drawn.view_box, true)}>
      ${drawn.blanks.map((/** @type {string} */ path) => svg`<path class="board" d=${path} />`)}
      ${drawn.keep.map((/** @type {string} */ path) => svg`<path class="keep" d=${path} />`)}
      ${drawn.walls.map((/** @type {string} */ path) => svg`<path class="wall" d=${path} />`)}
      ${drawn.cuts.map((/** @type {string} */ path) => svg`<path class="saw-cut" d=${path} />`)}
      ${[...drawn.labels, ...drawn.mark_labels].map((/** @type {any} */ label) => drawnText(label))}
    </svg>
  </div>`;
