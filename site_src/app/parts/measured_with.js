// @ts-check
/** Why this file exists: in which unit and with what something is read; kept for each kind of reading until it is changed. */
import { setSetting, setting } from '../desk.js';
import { choice, numberField, written } from './field.js';
import { html, nothing } from './lit.js';

/** @typedef {import('../numbers.js').Unit} Unit */
/** @typedef {import('../survey_edits.js').Instrument} Instrument */

const UNITS = /** @type {const} */ ([
  ['mm', 'mm'],
  ['cm', 'cm'],
  ['m', 'm'],
  ['in', 'inches'],
]);
const INSTRUMENTS = /** @type {const} */ ([
  ['laser', 'Laser'],
  ['tape', 'Tape'],
  ['rule', 'Rule or gauge'],
]);
/** What is usual for a kind of reading, until the user says otherwise. @type {Record<string, string>} */
const USUAL = { length: 'laser', place: 'laser', datum: 'laser', offset: 'rule', thing: 'tape' };

/** @param {string} of the kind of reading @returns {Unit} */
export const unitFor = (of) => setting(`unit ${of}`, 'mm');

/** @param {string} of */
const kindFor = (of) => setting(`instrument ${of}`, USUAL[of] ?? 'laser');

/** An instrument of another accuracy is another instrument: readings taken before keep theirs. @param {string} of @returns {Instrument} */
export function instrumentFor(of) {
  const kind = kindFor(of);
  const accuracy = setting(`accuracy ${kind}`, null);
  return accuracy === null ? { name: kind, kind } : { name: `${kind} ±${accuracy}`, kind, accuracy };
}

/** @param {string} of */
export const measuredWithWords = (of) => {
  const { kind, accuracy } = instrumentFor(of);
  const name = INSTRUMENTS.find(([key]) => key === kind)?.[1] ?? kind;
  return `${name}${accuracy === undefined ? '' : ` ± ${written(accuracy)} mm`}, ${UNITS.find(([key]) => key === unitFor(of))?.[1]}`;
};

/** @param {string} of */
export const measuredWith = (of) =>
  html` ${choice({ id: `unit-${of}`, label: 'Read in', value: unitFor(of), options: UNITS, take: (unit) => setSetting(`unit ${of}`, unit) })}
    ${unitFor(of) === 'in' ? html`<p class="small soft">Fractions as 12 5/8, feet as 5' 3 1/2.</p>` : nothing}
    ${choice({ id: `instrument-${of}`, label: 'Read with', value: kindFor(of), options: INSTRUMENTS, take: (kind) => setSetting(`instrument ${of}`, kind) })}
    ${numberField({
      id: `accuracy-${of}`,
      label: 'Its accuracy, more or less',
      optional: true,
      value: setting(`accuracy ${kindFor(of)}`, null),
      hint: 'As its maker states it. Empty: the usual for its kind.',
      take: (value) => setSetting(`accuracy ${kindFor(of)}`, value),
    })}`;
