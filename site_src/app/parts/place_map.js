// @ts-check
/** Why this file exists: a map of all places of the pattern, on which a finger moves it. */
import { drawnText } from './drawing.js';
import { html, nothing, svg } from './lit.js';
import { view } from './view_box.js';

/** @typedef {import('../messages.js').PlaceMapReply} PlaceMapReply */

/**
 * @param {{map: PlaceMapReply, at: number[] | null, locked: boolean,
 *   onMove: (at: number[]) => unknown, onDrop: () => unknown}} parts `at` is where the pattern is now
 */
export const placeMap = ({ map, at, locked, onMove, onDrop }) =>
  html` <div class="drawing place-map">
    <svg
      role="img"
      aria-label="Map of all places of the pattern: the smallest piece at each"
      viewBox=${map.view_box.join(' ')}
      ${view('place-map', map.view_box, true)}
      @pointerdown=${(/** @type {PointerEvent} */ event) => !locked && follow(event, onMove)}
      @pointerrawupdate=${(/** @type {PointerEvent} */ event) => isFollowed(event) && onMove(pointOf(event))}
      @pointermove=${(/** @type {PointerEvent} */ event) => isFollowed(event) && onMove(pointOf(event))}
      @pointerup=${(/** @type {PointerEvent} */ event) => isFollowed(event) && lift(event, onMove, onDrop)}
      @pointercancel=${(/** @type {PointerEvent} */ event) => isFollowed(event) && onDrop()}
    >
      ${map.levels.map(({ cells }, index) => svg`<path class="level level-${index}" d=${cells} />`)}
      ${map.levels.map(({ line }) => svg`<path class="contour" d=${line} />`)}
      ${map.levels.map(({ label }) => drawnText(label, 'level-text'))}
      ${at ? svg`<circle class="place-spot" cx=${at[0]} cy=${at[1]} r="7" />` : nothing}
    </svg>
  </div>`;

/** @param {PointerEvent} event @param {(at: number[]) => unknown} onMove */
function follow(event, onMove) {
  /** @type {Element} */ (event.currentTarget).setPointerCapture(event.pointerId);
  onMove(pointOf(event));
}

/** Was this finger put down on the map? @param {PointerEvent} event */
const isFollowed = (event) => /** @type {Element} */ (event.currentTarget).hasPointerCapture(event.pointerId);

/** Where it was lifted counts, not where it was last seen to move. @param {PointerEvent} event @param {(at: number[]) => unknown} onMove @param {() => unknown} onDrop */
function lift(event, onMove, onDrop) {
  onMove(pointOf(event));
  onDrop();
}

/** Where the finger is, as the drawing counts. @param {PointerEvent} event */
function pointOf(event) {
  const drawing = /** @type {SVGSVGElement} */ (event.currentTarget);
  const screen = drawing.getScreenCTM();
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(screen?.inverse());
  const { width, height } = drawing.viewBox.baseVal;
  return [Math.min(Math.max(x, 0), width), Math.min(Math.max(y, 0), height)];
}
