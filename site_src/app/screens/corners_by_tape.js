// @ts-check
/** Why this file exists: a corner that no laser line reaches is found with two tapes from two known corners. */
import { cornerNames, freeName, wallsWith } from '../corner_edits.js';
import { change, desk, redraw } from '../desk.js';
import { select } from '../parts/field.js';
import { html } from '../parts/lit.js';
import { goTo, jobAddress } from '../routes.js';

/** @type {{first: string, second: string, corner: string}} */
const chosen = { first: '', second: '', corner: '' };

/** @param {any} doc */
export function byTapes(doc) {
  const names = cornerNames(doc);
  if (names.length < 2) return html`<p>Two corners must be known first. Measure them with two laser lines.</p>`;
  const corner = chosen.corner || `+${names.at(-1)}`;
  const [first, second] = knownTwo(names, corner);
  const options = names.map((name) => /** @type {[string, string]} */ ([name, name]));
  return html` <p class="soft">Measure from two known corners to the one that is wanted. A third length shows a wrong one.</p>
    ${select({ id: 'corner', label: 'The corner wanted', value: corner, options: wanted(names), take: pick('corner') })}
    <div class="pair">
      ${select({ id: 'first', label: 'From', value: first, options, take: pick('first') })}
      ${select({ id: 'second', label: 'and from', value: second, options, take: pick('second') })}
    </div>
    <button class="button main tall" @click=${() => begin(doc, first, second, corner)}>Measure the two lengths</button>`;
}

/** A new corner between two others, or one that has no place yet. @param {string[]} names @returns {[string, string][]} */
const wanted = (names) => [
  ...names.map((name, index) => /** @type {[string, string]} */ ([`+${name}`, `new, between ${name} and ${names[(index + 1) % names.length]}`])),
  ...names.map((name) => /** @type {[string, string]} */ ([name, `corner ${name}`])),
];

/** @param {string[]} names @param {string} corner @returns {[string, string]} */
function knownTwo(names, corner) {
  const others = names.filter((name) => name !== corner);
  const first = others.includes(chosen.first) ? chosen.first : others[0];
  const second = others.includes(chosen.second) && chosen.second !== first ? chosen.second : (others.find((name) => name !== first) ?? '');
  return [first, second];
}

/** @param {'first' | 'second' | 'corner'} key */
const pick = (key) => (/** @type {string} */ name) => {
  chosen[key] = name;
  redraw();
};

/** A new corner gets its walls first; its place follows from the lengths. @param {any} doc @param {string} first @param {string} second @param {string} corner */
async function begin(doc, first, second, corner) {
  const isNew = corner.startsWith('+');
  const name = isNew ? freeName(doc) : corner;
  if (isNew && !(await change(wallsWith(doc, name, corner.slice(1)), `Corner ${name} to be measured`))) return;
  Object.assign(chosen, { first: '', second: '', corner: '' });
  goTo(jobAddress(desk.route.job, 'read', 'lengths', first, name, second, name));
}
