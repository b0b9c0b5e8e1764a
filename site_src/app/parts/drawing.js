// @ts-check
/**
 * Why this file exists: the plan on the screen. Paths come ready from the engine;
 * this says only with which line and hatch each is drawn.
 */
import { view } from './view_box.js';
import { guard, html, nothing, svg } from './lit.js';

/** @typedef {import('./view_box.js').Box} Box */
/**
 * @typedef {{key: string, label: string, room: any, floor?: any, axis?: number, progress?: Record<string, any>, bowed?: boolean, ellipses?: boolean, thing?: string,
 *   here?: string, beside?: {path: string, label: any}[], box?: Box, still?: boolean, mini?: boolean, old?: boolean, onPiece?: (id: string) => unknown,
 *   names?: Record<string, string>, over?: unknown, letters?: number}} Drawing `names` stand on the pieces instead of their ids, `over` is drawn last,
 *   and numbers in it are no larger than `letters`
 */

/** @param {Drawing} drawing */
export const planDrawing = (drawing) =>
  html` <div class="drawing ${drawing.mini ? 'mini' : ''} ${drawing.old ? 'old' : ''}">
    <svg
      role="img"
      aria-label=${drawing.label}
      viewBox=${(drawing.box ?? drawing.room.view_box).join(' ')}
      ${view(drawing.key, drawing.box ?? drawing.room.view_box, drawing.still, drawing.letters)}
      @click=${(/** @type {MouseEvent} */ event) => tapPiece(event, drawing)}
    >
      ${hatches(drawing.key, drawing.axis ?? 90)}
      ${drawing.floor ? guard([drawing.floor, drawing.progress, drawing.here, drawing.beside, drawing.key, drawing.names], () => floorLayer(drawing)) : nothing}
      ${roomLayer(drawing)} ${drawing.over ?? nothing}
    </svg>
  </div>`;

/** @param {MouseEvent} event @param {Drawing} drawing */
function tapPiece(event, { onPiece }) {
  const piece = /** @type {Element} */ (event.target).closest('[data-piece]');
  const id = piece?.getAttribute('data-piece');
  if (id && onPiece) onPiece(id);
}

/** Right boards are hatched across the row axis, left boards along it. @param {string} key @param {number} axis */
export const hatches = (key, axis) => svg`
  <defs>
    <pattern id="${key}-R" data-turn="rotate(${-axis})" patternUnits="userSpaceOnUse" width="5" height="5">
      <line class="hatch-line" x1="0" y1="2.5" x2="5" y2="2.5" /></pattern>
    <pattern id="${key}-L" data-turn="rotate(${90 - axis})" patternUnits="userSpaceOnUse" width="5" height="5">
      <line class="hatch-line" x1="0" y1="2.5" x2="5" y2="2.5" /></pattern>
  </defs>`;

/** @param {Drawing} drawing */
const floorLayer = ({ key, floor, progress = {}, here, beside = [], names }) => svg`
  <path class="floor-edge" d=${floor.lay_area} />
  ${floor.pieces.map((/** @type {any} */ piece) => pieceShape(key, piece, progress[piece.id], piece.id === here))}
  ${beside.map(({ path }) => svg`<path class="piece beside open" d=${path} />`)}
  ${floor.pieces.filter((/** @type {any} */ { id }) => id === here).map((/** @type {any} */ { path }) => svg`<path class="piece here open" d=${path} />`)}
  ${beside.map(({ label }) => drawnText(label, 'beside-id'))}
  ${floor.pieces.map((/** @type {any} */ { id, at }) => svg`<text class="piece-id" x=${at[0]} y=${at[1]}>${names?.[id] ?? id}</text>`)}
  ${floor.lines.map((/** @type {any} */ { path }) => svg`<path class="strike" d=${path} />`)}
  ${floor.rows.map((/** @type {any} */ row) => drawnText(row, 'row-text'))}`;

/** @param {string} key @param {any} piece @param {any} done @param {boolean} here */
function pieceShape(key, { id, path, hand, kind, sliver }, done, here) {
  const state = pieceState(kind, done);
  const fill = state === 'to-cut' ? `url(#${key}-${hand})` : nothing;
  return svg`<path class="piece ${state} ${sliver ? 'sliver' : ''} ${here ? 'here' : ''}" fill=${fill} d=${path} data-piece=${id} />`;
}

/** @param {string} kind @param {{cut?: boolean, fitted?: boolean} | undefined} done */
export function pieceState(kind, done) {
  if (done?.fitted) return 'fitted';
  if (done?.cut) return 'cut';
  return kind === 'whole' ? 'whole' : 'to-cut';
}

/** @param {Drawing} drawing */
const roomLayer = ({ room, bowed, here, floor, ellipses, thing }) => svg`
  ${room.fixed.map((/** @type {any} */ { name, path, label }) => svg`<path class="fixed-thing ${name === thing ? 'here' : ''}" d=${path} />${drawnText(label, floor ? 'thing-text' : '')}`)}
  ${bowed ? room.walls.map((/** @type {any} */ { path }) => svg`<path class="wall true" d=${path} />`) : nothing}
  ${room.walls.map((/** @type {any} */ wall) => svg`<path class="wall ${wall.face} ${wall.name === here ? 'here' : ''}" d=${bowed ? wall.bowed : wall.path} />`)}
  ${ellipses ? room.corners.map((/** @type {any} */ { ellipse }) => svg`<path class="ellipse" d=${ellipse} />`) : nothing}
  ${room.corners.map((/** @type {any} */ { label }) => drawnText(label, 'corner-text'))}`;

/** @param {{text: string, at: number[], turn?: number}} label @param {string} [name] */
export const drawnText = ({ text, at: [x, y], turn = 0 }, name = '') => svg`
  <text class=${name} x=${x} y=${y} transform="rotate(${turn} ${x} ${y})">${text}</text>`;

/** One board on the saw. @param {any} saw @param {'L' | 'R'} hand @param {string} label @param {string} [key] of its own where there are several */
export const sawDrawing = (saw, hand, label, key = 'saw') =>
  html` <div class="drawing saw">
    <svg role="img" aria-label=${label} viewBox=${saw.view_box.join(' ')} ${view(key, saw.view_box, true)}>
      ${hatches(key, hand === 'R' ? 45 : -45)}
      ${(saw.joined ?? []).map((/** @type {string} */ path) => svg`<path class="board" d=${path} />`)}
      <path class="board" d=${saw.board} />
      <path class="keep" fill="url(#${key}-R)" d=${saw.keep} />
      <path class="waste" d=${saw.waste} />
      ${saw.fence ? svg`<path class="fence" d=${saw.fence} />` : nothing}
      ${saw.stop ? svg`<path class="stop" d=${saw.stop} />` : nothing}
      ${saw.cuts.map((/** @type {string} */ path) => svg`<path class="saw-cut" d=${path} />`)}
      ${saw.labels.map((/** @type {any} */ text) => drawnText(text))}
    </svg>
  </div>`;

const SWATCH = 'M4 4H40V20H4Z';
const LEGEND = /** @type {const} */ ([
  ['to-cut', 'R', 'right board, to cut'],
  ['to-cut', 'L', 'left board, to cut'],
  ['whole', '', 'whole board'],
  ['to-cut sliver', 'R', 'sliver'],
  ['cut', '', 'cut'],
  ['fitted', '', 'fitted'],
]);

/** What the lines and hatches mean. @param {number} axis @param {any[]} lines to strike */
export const legend = (axis, lines) =>
  html` <ul class="legend" aria-label="What the lines mean">
    ${LEGEND.map(
      ([state, hand, words], index) =>
        html` <li>
          <span class="drawing"
            ><svg viewBox="0 0 44 24" aria-hidden="true" ${view(`legend-${index}`, [0, 0, 44, 24], true)}>
              ${hatches(`legend-${index}`, axis)}
              <path
                class="piece ${state}"
                fill=${hand ? `url(#legend-${index}-${hand})` : nothing}
                d=${SWATCH}
              /></svg></span
          >${words}
        </li>`,
    )}
    ${
      lines.length
        ? html`<li>
            <span class="drawing"
              ><svg viewBox="0 0 44 24" aria-hidden="true"><path class="strike" d="M0 12H44" /></svg></span
            >to strike: ${lines.map(({ label }) => label.text).join(', ')}
          </li>`
        : nothing
    }
  </ul>`;
