// @ts-check
/**
 * Why this file exists: looking closer at a drawing, by button and by finger. Only
 * the view box changes; the drawing's own lines and numbers are never touched.
 */
import { ref } from './lit.js';

/** @typedef {[number, number, number, number]} Box */
/** `wide` and `high` are its measures on the screen, `letters` how large numbers may be in it. @typedef {{home: Box, box: Box, svg: SVGSVGElement | null, still: boolean, wide: number, high: number, letters: number, watch?: ResizeObserver}} View */

/** @type {Map<string, View>} */
const views = new Map();
const CLOSEST = 300;
/** Millimetres a pixel may stand for while there is room for names. */
const ROOM_FOR_PIECE_NAMES = 1.2;
const ROOM_FOR_ROW_NAMES = 8;
/** Letters on a drawing, in those of the page. */
const TEXT_REM = 15 / 16;
/** Until the browser has told how large it came out, px. */
const USUAL = 328;

/**
 * Hang a drawing under a name; it keeps its view box for as long as its home stays the same.
 * @param {string} key @param {Box} home @param {boolean} [still] without gestures
 * @param {number} [letters] the most of its numbers' size, as the drawing counts; 0: any
 */
export function view(key, home, still = false, letters = 0) {
  const known = views.get(key);
  const same = known && known.home.join() === home.join();
  const kept = known ?? { home, box: home, svg: null, still, wide: USUAL, high: USUAL, letters };
  views.set(key, kept);
  kept.letters = letters;
  if (!same) show(Object.assign(kept, { home, box: home }));
  return ref((element) => hang(key, /** @type {SVGSVGElement | undefined} */ (element)));
}

/** @param {string} key @param {SVGSVGElement | undefined} svg */
function hang(key, svg) {
  const current = views.get(key);
  if (!current || !svg) return;
  if (current.svg !== svg) {
    current.svg = svg;
    current.watch?.disconnect();
    current.watch = new ResizeObserver(([{ contentRect }]) => measured(current, contentRect));
    current.watch.observe(svg);
    svg.classList.toggle('live', !current.still);
    if (!current.still) listen(key, svg);
  }
  show(current);
}

/** Asked of the browser it would lay out the page there and then. @param {View} view @param {DOMRectReadOnly} measures */
function measured(view, { width, height }) {
  show(Object.assign(view, { wide: width || USUAL, high: height || USUAL }));
}

/** @param {View} view */
function show({ svg, box, home, wide, high, letters }) {
  if (!svg) return;
  const scale = Math.max(box[2] / wide, box[3] / high);
  write(svg, 'viewBox', box.join(' '));
  svg.style.fontSize = `${TEXT_REM * scale}rem`;
  if (letters) svg.style.setProperty('--letters', `${letters}px`);
  else svg.style.removeProperty('--letters');
  svg.classList.toggle('close', scale < ROOM_FOR_PIECE_NAMES);
  svg.classList.toggle('near', scale < ROOM_FOR_ROW_NAMES);
  svg.classList.toggle('roams', box[2] < home[2]);
  for (const pattern of svg.querySelectorAll('pattern')) {
    write(pattern, 'patternTransform', `${pattern.dataset.turn} scale(${scale})`);
  }
}

/** What is written anew is laid out anew, even where it says the same. @param {Element} element @param {string} name @param {string} text */
const write = (element, name, text) => void (element.getAttribute(name) !== text && element.setAttribute(name, text));

/** @param {string} key @param {Box} box */
function look(key, box) {
  const view = views.get(key);
  if (!view) return;
  const wide = Math.min(Math.max(box[2], CLOSEST), view.home[2]);
  const high = wide * (view.home[3] / view.home[2]);
  view.box = [
    within(box[0], view.home[0], view.home[2] - wide),
    within(box[1], view.home[1], view.home[3] - high),
    wide,
    high,
  ];
  show(view);
}

/** @param {number} value @param {number} start @param {number} room */
const within = (value, start, room) => Math.min(Math.max(value, start), start + room);

/** @param {string} key @param {number} factor under 1 looks closer @param {{x: number, y: number}} [at] fractions of the view that stay where they are */
export function zoom(key, factor, at = { x: 0.5, y: 0.5 }) {
  const view = views.get(key);
  if (!view) return;
  const [x, y, wide, high] = view.box;
  const next = Math.min(Math.max(wide * factor, CLOSEST), view.home[2]);
  const grown = next / wide;
  look(key, [x + wide * (1 - grown) * at.x, y + high * (1 - grown) * at.y, next, high * grown]);
}

/** @param {string} key @param {number} right @param {number} down as parts of the view */
export function pan(key, right, down) {
  const view = views.get(key);
  if (!view) return;
  const [x, y, wide, high] = view.box;
  look(key, [x + wide * right, y + high * down, wide, high]);
}

/** @param {string} key */
export function whole(key) {
  const view = views.get(key);
  if (view) look(key, view.home);
}

/** @param {string} key @param {SVGSVGElement} svg */
function listen(key, svg) {
  /** @type {Map<number, {x: number, y: number}>} */
  const fingers = new Map();
  let moved = 0;
  svg.addEventListener('pointerdown', ({ pointerId, clientX, clientY }) => {
    if (fingers.size === 0) moved = 0;
    fingers.set(pointerId, { x: clientX, y: clientY });
  });
  svg.addEventListener('pointermove', (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const after = { x: event.clientX, y: event.clientY };
    moved += Math.abs(after.x - before.x) + Math.abs(after.y - before.y);
    if (fingers.size === 1) slide(key, svg, before, after);
    if (fingers.size === 2)
      pinch(key, svg, [...fingers.entries()].find(([id]) => id !== event.pointerId)?.[1] ?? before, before, after);
    fingers.set(event.pointerId, after);
  });
  for (const end of ['pointerup', 'pointercancel', 'pointerleave']) {
    svg.addEventListener(end, (event) => void fingers.delete(/** @type {PointerEvent} */ (event).pointerId));
  }
  svg.addEventListener('click', (event) => moved > 8 && event.stopPropagation(), { capture: true });
  svg.addEventListener(
    'wheel',
    (event) => {
      if (!event.ctrlKey && views.get(key)?.box[2] === views.get(key)?.home[2] && event.deltaY > 0) return;
      event.preventDefault();
      zoom(key, event.deltaY > 0 ? 1.25 : 0.8, part(svg, { x: event.clientX, y: event.clientY }));
    },
    { passive: false },
  );
}

/** @param {SVGSVGElement} svg @param {{x: number, y: number}} point */
function part(svg, point) {
  const { left, top, width, height } = svg.getBoundingClientRect();
  return { x: (point.x - left) / width, y: (point.y - top) / height };
}

/** @typedef {{x: number, y: number}} Point */
/** @param {string} key @param {SVGSVGElement} svg @param {Point} before @param {Point} after */
function slide(key, svg, before, after) {
  const { width, height } = svg.getBoundingClientRect();
  pan(key, (before.x - after.x) / width, (before.y - after.y) / height);
}

/** @param {string} key @param {SVGSVGElement} svg @param {Point} other @param {Point} before @param {Point} after */
function pinch(key, svg, other, before, after) {
  const apart = (/** @type {Point} */ point) => Math.hypot(point.x - other.x, point.y - other.y) || 1;
  zoom(key, apart(before) / apart(after), part(svg, { x: (other.x + after.x) / 2, y: (other.y + after.y) / 2 }));
}
