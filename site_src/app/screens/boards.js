// @ts-check
/** Why this file exists: the boards that are sawn, what is cut from each in its order, and what is left. */
import { desk } from '../desk.js';
import { betterBoards } from '../parts/better_boards.js';
import { sawDrawing } from '../parts/drawing.js';
import { figureGrid } from '../parts/figure.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { jobAddress } from '../routes.js';
import { oldMark } from './plan.js';

const SUMS = new Set(['boards', 'boards left', 'boards right', 'proven least', 'waste']);

export const boardsScreen = () => {
  const boards = desk.plan?.boards ?? [];
  return jobPage({
    step: 'cut',
    title: 'Boards and offcuts',
    back: jobAddress(desk.route.job, 'cut'),
    body: boards.length
      ? html` ${oldMark()} ${figureGrid(desk.plan.summary.filter((/** @type {any} */ { key }) => SUMS.has(key)))}
          ${betterBoards()}
          <p>Boards that are laid whole are not listed.</p>
          ${boards.map(boardLine)}`
      : html`<p class="sheet">The boards are given as soon as the floor is worked out.</p>`,
  });
};

/** @param {any} board @param {number} index */
const boardLine = ({ title, hand, pieces, spoiled, offcuts, saw }, index) =>
  html` <section>
    <h2>${title}</h2>
    ${sawDrawing(saw, hand, `${title}: ${pieces.join(', then ')}`, `saw-${index}`)}
    <p class="small">
      ${pieces.map(
        (/** @type {string} */ id, /** @type {number} */ index) =>
          html`${index ? ', then ' : nothing}<a class="way" href=${jobAddress(desk.route.job, 'piece', id)}>${id}</a>`,
      )}
    </p>
    ${spoiled ? html`<p class="small"><strong>${spoiled}</strong></p>` : nothing}
    ${offcuts.map((/** @type {string} */ words) => html`<p class="small soft">Left: ${words}</p>`)}
  </section>`;
