// @ts-check
/** Why this file exists: the few pictures on buttons, drawn with one pencil. */
import { svg } from './lit.js';

const STROKES = {
  plan: 'M4 5L23 4L24 23L5 24ZM4 14C8 12 11 16 14 14M14 5V14M14 14L24 13',
  room: 'M4 24V5L24 4V24M4 24C11 21 17 21 24 24M9 12H19M9 12L11 10M9 12L11 14M19 12L17 10M19 12L17 14',
  setOut: 'M14 3V25M14 9L6 17M14 9L22 17M14 16L6 24M14 16L22 24',
  cut: 'M3 10H25V18H3ZM19 6L9 22',
  back: 'M17 5L8 14L17 23',
  next: 'M11 5L20 14L11 23',
  undo: 'M10 6L4 12L10 18M4 12H17C22 12 24 15 24 18V23',
  redo: 'M18 6L24 12L18 18M24 12H11C6 12 4 15 4 18V23',
  more: 'M6 13H7V15H6ZM13 13H14V15H13ZM20 13H21V15H20Z',
  plus: 'M14 5V23M5 14H23',
  minus: 'M5 14H23',
  fit: 'M5 11V5H11M17 5H23V11M23 17V23H17M11 23H5V17',
  left: 'M23 14H5M11 8L5 14L11 20',
  right: 'M5 14H23M17 8L23 14L17 20',
  up: 'M14 23V5M8 11L14 5L20 11',
  down: 'M14 5V23M8 17L14 23L20 17',
  out: 'M14 4V18M8 12L14 18L20 12M5 20V24H23V20',
  photo: 'M4 9H9L11 6H17L19 9H24V23H4ZM18 16A4 4 0 1 1 10 16A4 4 0 1 1 18 16',
  voice: 'M4 11H9L15 6V22L9 17H4ZM19 10C21 12 21 16 19 18M22 7C26 11 26 17 22 21',
  gone: 'M5 8H23M11 8V5H17V8M8 8L9 24H19L20 8',
  tick: 'M5 15L11 21L23 6',
};

/** @typedef {keyof typeof STROKES} IconName */

/** @param {IconName} name */
export const icon = (name) =>
  svg`<svg class="icon" viewBox="0 0 28 28" aria-hidden="true" focusable="false"><path d=${STROKES[name]} /></svg>`;
