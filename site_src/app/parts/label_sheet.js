// @ts-check
/** Why this file exists: labels are printed on sheets of many makes; the one to hand is chosen, or its measures typed. */
import { setSetting, setting } from '../desk.js';
import { numberField, select } from './field.js';
import { html, nothing } from './lit.js';

const OWN = 'own';
const MEASURES = /** @type {const} */ ([
  ['columns', 'Labels across', ''],
  ['rows', 'Labels down', ''],
  ['left', 'Left edge of the sheet to the first label', 'mm'],
  ['top', 'Top edge of the sheet to the first label', 'mm'],
  ['width', 'Width of a label', 'mm'],
  ['height', 'Height of a label', 'mm'],
  ['across', 'From one label’s left edge to the next one’s', 'mm'],
  ['down', 'From one label’s top edge to the next one’s', 'mm'],
]);

/** Each kind of paper has its own label sheets. */
const key = () => `labels ${setting('paper', 'A4')}`;
/** @returns {Record<string, number>} */
const own = () => setting('own labels', {});
const isOwn = () => setting(key(), '') === OWN;
const isWhole = () => MEASURES.every(([name]) => name in own());

const FIRST = 'first label';

/** What the engine is asked for; measures of which one is missing are not used yet. */
export const labelsAsked = () => ({
  first_label: setting(FIRST, 1),
  ...(isOwn() ? (isWhole() ? { own_labels: own() } : {}) : { labels: setting(key(), '') }),
});

/** @param {{grids: string[], fault: string}} sheets the label sheets there are, and why there are no labels */
export const labelSheet = ({ grids, fault }) =>
  grids.length
    ? html`${select({
        id: 'labels',
        label: 'Label sheet',
        value: setting(key(), grids[0]),
        options: [...grids.map((name) => /** @type {[string, string]} */ ([name, name])), [OWN, 'Own measures']],
        take: (name) => setSetting(key(), name),
      })}
      ${numberField({
        id: 'first-label',
        label: 'First free label on the sheet',
        unit: '',
        hint: 'Counted row by row from the top left; 1 on a fresh sheet.',
        value: setting(FIRST, 1),
        take: (value) => setSetting(FIRST, value),
      })}
      ${fault ? html`<p class="finding warning">${fault}</p>` : nothing} ${isOwn() ? ownMeasures() : nothing}`
    : nothing;

const ownMeasures = () =>
  html`${MEASURES.map(([name, label, unit]) =>
      numberField({
        id: `labels-${name}`,
        label,
        unit,
        value: own()[name],
        take: (value) => setSetting('own labels', { ...own(), [name]: value }),
      }),
    )}
    ${isWhole() ? nothing : html`<p class="finding note">Until all eight are typed, the usual sheet is printed.</p>`}`;
