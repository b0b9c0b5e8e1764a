// @ts-check
/** Why this file exists: boards face up with tongue, groove and heading, to be held beside the board in hand. */
import { drawnText, hatches } from './drawing.js';
import { html, svg } from './lit.js';
import { view } from './view_box.js';

/** @typedef {{view_box: [number, number, number, number], boards: any[], lines?: string[]}} Boards */

/** @param {{key: string, label: string, boards: Boards, axis: number}} picture */
export const boardsPicture = ({ key, label, boards: { view_box, boards, lines = [] }, axis }) =>
  html` <div class="drawing boards">
    <svg role="img" aria-label=${label} viewBox=${view_box.join(' ')} ${view(key, view_box, true)}>
      ${hatches(key, axis)} ${boards.map((board) => oneBoard(key, board))}
      ${lines.map((path) => svg`<path class="strike" d=${path} />`)}
      ${boards.map(({ label }) => drawnText(label, 'board-text'))}
    </svg>
  </div>`;

/** @param {string} key @param {any} board */
const oneBoard = (key, board) => svg`
  <path class="face" fill="url(#${key}-${board.hand})" d=${board.path} />${boardEdges(board)}`;

/** Tongues, grooves and heading of a board that is drawn already. @param {any} board */
export const boardEdges = ({ goes_in, takes, heading }) => svg`
  <path class="tongue" d=${goes_in} /><path class="groove" d=${takes} />
  <path class="heading casing" d=${heading} /><path class="heading" d=${heading} />`;

/** What the edges of a board look like in the pictures. */
export const boardLegend = () =>
  html` <ul class="legend" aria-label="What the edges mean">
    ${EDGES.map(
      ([name, path, words]) =>
        html`<li>
          <span class="drawing"
            ><svg viewBox="0 0 44 24" aria-hidden="true"><path class=${name} d=${path} /></svg></span
          >${words}
        </li>`,
    )}
  </ul>`;

const EDGES = /** @type {const} */ ([
  ['tongue', 'M2 8H42V16H2Z', 'tongue: goes in'],
  ['groove', 'M2 12H42', 'groove: stays open'],
  ['heading', 'M4 12H40M34 6L40 12L34 18', 'from start end to far end'],
]);
