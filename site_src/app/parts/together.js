// @ts-check
/** Why this file exists: the name of a piece or a wall is not parted at the end of a line: there is no piece “5-”. */
import { html } from './lit.js';

const NAMES = /([−-]?\d+-[−-]?\d+[LR](?:\.\d+)?|(?<![\p{L}\d])[\p{L}\d]{1,4}–[\p{L}\d]{1,4}(?![\p{L}\d]))/u;

/** The same text. @param {string} text */
export const together = (text) =>
  text.split(NAMES).map((part, index) => (index % 2 ? html`<span class="together">${part}</span>` : part));
