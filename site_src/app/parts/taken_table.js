// @ts-check
/** Why this file exists: readings in a table, as typed and as understood, each to be read again or taken out. */
import { icon } from './icons.js';
import { html, nothing } from './lit.js';

/**
 * `name` is what was read, `cells` what the engine makes of it, `mark` a word beside the name; `again` is missing for
 * what an older file holds without its reading.
 * @typedef {{name: string, typed: string, cells: unknown[], mark?: string, doubted?: boolean, again?: () => unknown, out: () => unknown}} Row
 */

/** @param {{caption: string, heads: string[], rows: Row[]}} table */
export const takenTable = ({ caption, heads, rows }) =>
  html` <table>
    <caption class="small soft">${caption}</caption>
    <thead>
      <tr>
        ${heads.map((words) => html`<th scope="col">${words}</th>`)}
        <th scope="col"><span class="small">Take out</span></th>
      </tr>
    </thead>
    <tbody>
      ${rows.map(line)}
    </tbody>
  </table>`;

/** @param {Row} row */
const line = ({ name, typed, cells, mark, doubted, again, out }) =>
  html` <tr class=${doubted ? 'doubted' : ''}>
    <td>${name}${mark ? html` <span class="small">${mark}</span>` : nothing}</td>
    <td class="number">${again ? html`<button class="button bare" aria-label="${typed}: read ${name} again" @click=${again}>${typed}</button>` : typed}</td>
    ${cells.map((cell) => html`<td>${cell}</td>`)}
    <td>
      <button class="button bare" aria-label="Take out the reading at ${name}" @click=${out}>${icon('gone')}</button>
    </td>
  </tr>`;

/** As typed, with its unit where that is not the usual one. @param {{typed: string, unit?: string}} reading */
export const typedText = ({ typed, unit = 'mm' }) => (unit === 'mm' ? typed : `${typed} ${unit}`);
