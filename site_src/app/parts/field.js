// @ts-check
/**
 * Why this file exists: a number is typed with comma or point, is read or
 * refused with a sentence, and what was typed is never thrown away.
 */
import { desk, put, redraw, setting } from '../desk.js';
import { readNumber } from '../numbers.js';
import { html, live, nothing } from './lit.js';
import { forgetTyped, noteTyped, typedBefore } from './untaken.js';

/** What was typed and is not taken yet, with what is wrong with it. @type {Map<string, {text: string, fault: string}>} */
const drafts = new Map();
/** Each screen has its own: the same field of another wall or job is another field. @param {string} id */
const keyOf = (id) => `${desk.address} ${id}`;

/** A number as the user writes numbers. @param {number | null | undefined} value */
export const written = (value) =>
  value == null ? '' : String(value).replace('.', setting('decimal', '.')).replace('-', '−');

/** @param {string} id */
export const draftText = (id) => drafts.get(keyOf(id))?.text;
/** @param {string} id */
export const draftFault = (id) => drafts.get(keyOf(id))?.fault ?? '';
/** @param {string} id */
export function dropDraft(id) {
  drafts.delete(keyOf(id));
  forgetTyped(keyOf(id));
}
/** @param {string} id @param {string} text @param {string} [fault] */
export const setDraft = (id, text, fault = '') => void drafts.set(keyOf(id), { text, fault });
/** What the hand has typed so far. @param {string} id @param {string} label @param {string} text */
export function typedInto(id, label, text) {
  setDraft(id, text);
  noteTyped(keyOf(id), label, text);
}
/** @param {string} id @param {string} [shown] what stands in the field */
export const typedEarlier = (id, shown = draftText(id) ?? '') => typedBefore(keyOf(id), shown);

/**
 * @typedef {{id: string, label: string, value?: number | null, unit?: string, hint?: string, optional?: boolean,
 *   huge?: boolean, signed?: boolean, take: (value: number | null) => unknown, onEnter?: () => unknown}} NumberField
 */

/** `signed`: some phones' keys for decimals have no minus. @param {NumberField} field */
export function numberField(field) {
  const { id, label, unit = 'mm', hint, huge } = field;
  const draft = drafts.get(keyOf(id));
  return html` <div class="field ${huge ? 'huge' : ''} ${draft?.fault ? 'wrong' : ''}">
    <label for=${id}>${label}</label>
    <div class="entry">
      <input
        id=${id}
        type="text"
        inputmode=${field.signed ? 'text' : 'decimal'}
        autocomplete="off"
        enterkeyhint="next"
        spellcheck="false"
        .value=${live(draft ? draft.text : written(field.value))}
        aria-describedby=${draft?.fault ? `${id}-fault` : hint ? `${id}-hint` : nothing}
        aria-invalid=${draft?.fault ? 'true' : nothing}
        @focus=${selectAll}
        @input=${(/** @type {InputEvent} */ event) => typedInto(id, label, inputOf(event).value)}
        @change=${() => takeDraft(field)}
        @keydown=${(/** @type {KeyboardEvent} */ event) => enterMovesOn(event, field)}
      />
      ${unit ? html`<span class="unit">${unit}</span>` : nothing}
    </div>
    ${draft?.fault ? html`<span class="fault" id="${id}-fault">${draft.fault}</span>` : nothing}
    ${hint ? html`<span class="hint" id="${id}-hint">${hint}</span>` : nothing}
    ${typedEarlier(id, draft?.text ?? written(field.value))}
  </div>`;
}

/** A number that stands in the job at a path. @param {Omit<NumberField, 'take'> & {path: (string | number)[]}} field */
export const jobNumber = ({ path, ...field }) =>
  numberField({
    ...field,
    take: (value) => putOrRemove(path, value, field.value, `${field.label} ${written(value)}`.trim()),
  });

/** @param {(string | number)[]} path @param {number | null} value @param {number | null | undefined} old @param {string} words */
function putOrRemove(path, value, old, words) {
  if (value === (old ?? null)) return true;
  return put(path, value, words);
}

/**
 * Read what was typed and hand it on; a fault stays beside the field with the text.
 * @param {NumberField} field @returns {Promise<boolean>} whether it was taken
 */
export async function takeDraft(field) {
  const draft = drafts.get(keyOf(field.id));
  if (!draft) return true;
  if (field.optional && draft.text.trim() === '') return taken(field, null);
  const read = readNumber(draft.text);
  if (read.sentence === undefined) return taken(field, read.value);
  setDraft(field.id, draft.text, read.sentence);
  redraw();
  return false;
}

/** @param {NumberField} field @param {number | null} value */
async function taken(field, value) {
  const key = keyOf(field.id);
  const draft = drafts.get(key);
  const done = await field.take(value);
  // What was typed while this was being saved stays.
  if (done !== false && drafts.get(key) === draft) {
    drafts.delete(key);
    forgetTyped(key);
  }
  redraw();
  return done !== false;
}

/** @param {KeyboardEvent} event @param {NumberField} field */
function enterMovesOn(event, field) {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  if (field.onEnter) return void field.onEnter();
  const all = /** @type {HTMLElement[]} */ ([...document.querySelectorAll('main input[type="text"]')]);
  const next = all[all.indexOf(inputOf(event)) + 1];
  if (next) next.focus();
  else inputOf(event).blur();
}

/** @param {Event} event */
const inputOf = (event) => /** @type {HTMLInputElement} */ (event.target);
/** @param {Event} event */
const selectAll = (event) => inputOf(event).select();

/**
 * One line of text, such as a name.
 * @param {{id: string, label: string, value: string, take: (value: string) => unknown, hint?: string}} field
 */
export const textField = ({ id, label, value, take, hint }) =>
  html` <div class="field">
    <label for=${id}>${label}</label>
    <div class="entry">
      <input
        id=${id}
        type="text"
        autocomplete="off"
        maxlength="80"
        .value=${live(draftText(id) ?? value)}
        @input=${(/** @type {Event} */ event) => setDraft(id, inputOf(event).value)}
        @change=${async (/** @type {Event} */ event) => {
          const typed = inputOf(event).value;
          if ((await take(typed)) !== false && draftText(id) === typed) dropDraft(id);
        }}
        @keydown=${(/** @type {KeyboardEvent} */ event) => event.key === 'Enter' && inputOf(event).blur()}
      />
    </div>
    ${hint ? html`<span class="hint">${hint}</span>` : nothing}
  </div>`;

/** What was chosen and is still being saved: until then the screen may not jump back. @type {Map<string, string>} */
const chosen = new Map();

/** @param {Choice} choice @param {string} picked */
async function choose({ id, take }, picked) {
  const key = keyOf(id);
  chosen.set(key, picked);
  await take(picked);
  if (chosen.get(key) === picked) chosen.delete(key);
  redraw();
}

/** @typedef {{id: string, label: string, value: string, options: readonly (readonly [string, string])[], take: (value: string) => unknown}} Choice */

/** A few things to choose one from. @param {Choice} field */
export const choice = (field) =>
  html` <fieldset class="choice">
    <legend>${field.label}</legend>
    <div class="options">
      ${field.options.map(
        ([key, words]) =>
          html` <label class="button"
            ><input
              type="radio"
              name=${field.id}
              value=${key}
              .checked=${live(key === (chosen.get(keyOf(field.id)) ?? field.value))}
              @change=${() => choose(field, key)}
            /><span>${words}</span></label
          >`,
      )}
    </div>
  </fieldset>`;

/** More things than fit side by side, to choose one from. @param {Choice} field */
export const select = (field) =>
  html` <div class="field">
    <label for=${field.id}>${field.label}</label>
    <div class="entry">
      <select id=${field.id} @change=${(/** @type {Event} */ event) => choose(field, inputOf(event).value)}>
        ${field.options.map(
          ([key, words]) =>
            html`<option value=${key} .selected=${live(key === (chosen.get(keyOf(field.id)) ?? field.value))}>${words}</option>`,
        )}
      </select>
    </div>
  </div>`;
