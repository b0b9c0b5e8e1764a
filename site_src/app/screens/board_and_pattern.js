// @ts-check
/** Why this file exists: which board, in which pattern; a floor of another kind counts its pieces anew. */
import { change, desk } from '../desk.js';
import { choice, numberField, select, written } from '../parts/field.js';
import { html, nothing } from '../parts/lit.js';

/** @typedef {import('../store/index.js').Edit} Edit */

/** @typedef {{id: string, label: string, path: string[], value: number | null, unit?: string, hint?: string, optional?: boolean}} FloorField */

/** @param {any} floor */
export const boardAndPattern = (floor) =>
  html` <h2 id="board">Board and pattern</h2>
    ${whichPattern(floor)}
    <div class="pair">
      ${floorNumber({ id: 'length', label: 'Length', path: ['board', 'length'], value: floor.board.length })}
      ${floorNumber({ id: 'width', label: 'Width', path: ['board', 'width'], value: floor.board.width, hint: 'As laid, without tongue.' })}
      ${floorNumber({ id: 'thickness', label: 'Thickness', path: ['board', 'thickness'], value: floor.board.thickness ?? null, optional: true })}
      ${uses(floor, 'strips') ? floorNumber({ id: 'strips', label: 'Boards side by side', path: ['strips'], value: floor.strips ?? null, unit: '', optional: true, hint: 'Empty: as usual for the pattern.' }) : nothing}
      ${uses(floor, 'angle') ? floorNumber({ id: 'angle', label: 'Ends cut from square by', path: ['angle'], value: floor.angle ?? null, unit: '°', optional: true, hint: 'Empty: 45°.' }) : nothing}
    </div>
    ${uses(floor, 'stagger') ? stagger(floor) : nothing}`;

/** @param {any} floor @param {string} field */
const uses = (floor, field) => patterns().find(({ name }) => name === (floor.pattern ?? 'herringbone'))?.uses.includes(field) ?? false;

/** As the engine told them. @returns {{name: string, uses: string[]}[]} */
const patterns = () => desk.plan?.patterns ?? [];

/** @param {string} name */
export const sentenceCase = (name) => `${name.charAt(0).toUpperCase()}${name.slice(1)}`;

/** @param {any} floor */
const whichPattern = (floor) =>
  patterns().length
    ? select({
        id: 'pattern',
        label: 'Pattern',
        value: floor.pattern ?? 'herringbone',
        options: patterns().map(({ name }) => /** @type {[string, string]} */ ([name, sentenceCase(name)])),
        take: (name) => changeFloor([{ path: ['floor', 'pattern'], value: name }], `Pattern: ${name}`),
      })
    : nothing;

/** Rows moved evenly, or as if by chance: the same number always gives the same floor. @param {any} floor */
function stagger(floor) {
  const { by = null, least = null, seed = null } = floor.stagger ?? {};
  const isChance = seed !== null;
  return html` ${choice({
      id: 'stagger',
      label: 'How the rows are moved',
      value: isChance ? 'chance' : 'even',
      options: [
        ['even', 'Evenly'],
        ['chance', 'As if by chance'],
      ],
      take: (way) => changeFloor([{ path: ['floor', 'stagger'], value: way === 'chance' ? { seed: 1 } : {} }], `Rows moved ${way === 'chance' ? 'as if by chance' : 'evenly'}`),
    })}
    <div class="pair">
      ${
        isChance
          ? html`${floorNumber({ id: 'seed', label: 'Another order of rows', path: ['stagger', 'seed'], value: seed, unit: '', hint: 'Any whole number.' })}
            ${floorNumber({ id: 'least', label: 'Joints at least apart', path: ['stagger', 'least'], value: least, optional: true })}`
          : floorNumber({ id: 'by', label: 'Each row moved by', path: ['stagger', 'by'], value: by, optional: true, hint: 'Empty: a third of the board.' })
      }
    </div>`;
}

/** @param {FloorField} field */
export const floorNumber = ({ path, ...field }) =>
  numberField({
    ...field,
    take: (value) =>
      value === field.value ||
      changeFloor([{ path: ['floor', ...path], value }], `${field.label} ${written(value)}`.trim()),
  });

/** Which board is number 1 belongs to the pattern as it lay. @param {Edit[]} edits @param {string} words */
function changeFloor(edits, words) {
  const counts = desk.job?.doc.floor.count_from ? [{ path: ['floor', 'count_from'], remove: true }] : [];
  return change([...edits, ...counts], words);
}
