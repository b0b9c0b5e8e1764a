// @ts-check
/**
 * Why this file exists: one reading at a time, with a huge figure. Enter takes it
 * and moves on; it is on the disk before anything is asked about it. A device that
 * types like a keyboard needs no setting up: what it types lands in the field.
 */
import { change, desk, redraw, setting } from '../desk.js';
import { readReading } from '../numbers.js';
import { readBack } from '../read_back.js';
import { applyEdits } from '../store/edits.js';
import { addReading, withdraw } from '../survey_edits.js';
import { askEngine } from '../thinking.js';
import { draftFault, draftText, dropDraft, setDraft, typedEarlier, typedInto } from './field.js';
import { icon } from './icons.js';
import { html, live, nothing } from './lit.js';
import { instrumentFor, measuredWith, measuredWithWords, unitFor } from './measured_with.js';

/** @typedef {import('../survey_edits.js').Reading} Reading */
/** @typedef {import('../store/index.js').Edit} Edit */
/**
 * What is read now. `fields` are those of the reading but for id, text, unit, instrument and time (they hold `of`);
 * `how` it is read goes for a reading that is read again too: more fields, and the sign before a figure typed without
 * one. `edits` are saved with it; `onTaken` moves on.
 * @typedef {{fields: Record<string, any>, sign: string}} How
 * @typedef {{label: string, fields: Record<string, any>, how?: How, edits?: Edit[], hint?: string, onTaken?: (reading: Reading) => void}} Target
 */
/** What the engine said of a reading. @typedef {{reading: Reading, label: string, understood: string, question: string}} Said */

const FIELD = 'reading';
/** What is open on one screen: the last reading taken, questions about readings, and the one that is read again. @type {Map<string, {last: Said | null, asked: Said[], again: Said | null}>} */
const open = new Map();

/** @param {string} [address] */
function stateAt(address = location.hash) {
  const state = open.get(address) ?? { last: null, asked: [], again: null };
  open.set(address, state);
  return state;
}

/**
 * The field and all that belongs to it.
 * @param {() => Target} targetOf asked again when a reading is saved: by then the one before has been
 * @param {{words?: string, below?: unknown, choices?: unknown}} [options] what the button says; what stands below it; what else belongs to how it is read
 */
export function readingEntry(targetOf, { words = 'Take it, next', below = nothing, choices = nothing } = {}) {
  const state = stateAt();
  const target = targetOf();
  const { of } = target.fields;
  return html` ${state.again ? readAgain(state.again) : nothing} ${field(state.again?.label ?? target.label, of, targetOf)}
    ${openQuestion()}
    <button class="button main tall" @click=${() => takeTyped(targetOf)}>${words} ${icon('next')}</button>
    ${state.last && !state.asked.length ? lastTaken(state.last) : nothing}
    ${target.hint ? html`<p class="small soft">${target.hint}</p>` : nothing} ${below}
    <details class="sheet plain">
      <summary>${measuredWithWords(of)}</summary>
      ${choices} ${measuredWith(of)}
    </details>`;
}

/** A reading that does not go with the others is asked about, wherever the hand has moved on to. */
export const openQuestion = () => {
  const [asked] = stateAt().asked;
  return asked ? question(asked) : nothing;
};

/** Is a reading of this screen to be read again? */
export const isReadAgain = () => stateAt().again !== null;

/** @param {string} label @param {string} of @param {() => Target} targetOf */
const field = (label, of, targetOf) =>
  html` <div class="field huge ${draftFault(FIELD) ? 'wrong' : ''}">
    <label for=${FIELD}>${label}</label>
    <div class="entry">
      <input
        id=${FIELD}
        type="text"
        inputmode=${unitFor(of) === 'in' ? 'text' : 'decimal'}
        autocomplete="off"
        enterkeyhint="next"
        spellcheck="false"
        .value=${live(draftText(FIELD) ?? '')}
        aria-describedby=${draftFault(FIELD) ? `${FIELD}-fault` : nothing}
        aria-invalid=${draftFault(FIELD) ? 'true' : nothing}
        @input=${(/** @type {Event} */ event) => typedInto(FIELD, label, /** @type {HTMLInputElement} */ (event.target).value)}
        @keydown=${(/** @type {KeyboardEvent} */ event) => keyInField(event, targetOf)}
      />
      ${MAY_BE_BELOW_ZERO.has(of) ? html`<button class="button bare" aria-label="Minus" @click=${turnSign}>±</button>` : nothing}
      <span class="unit">${unitFor(of)}</span>
    </div>
    ${draftFault(FIELD) ? html`<span class="fault" id="${FIELD}-fault">${draftFault(FIELD)}</span>` : nothing} ${typedEarlier(FIELD)}
  </div>`;

/** Coordinates may lie on the other side of a line, and some phones' keys for decimals have no minus. */
const MAY_BE_BELOW_ZERO = new Set(['place', 'datum']);

function turnSign() {
  const text = draftText(FIELD) ?? '';
  setDraft(FIELD, /^[−-]/.test(text) ? text.slice(1) : `−${text}`);
  focusReading();
}

/** Enter takes the reading, and so does the Tab that some devices send. @param {KeyboardEvent} event @param {() => Target} targetOf */
function keyInField(event, targetOf) {
  const typed = draftText(FIELD)?.trim();
  if (event.key !== 'Enter' && !(event.key === 'Tab' && typed && !event.shiftKey)) return;
  event.preventDefault();
  takeTyped(targetOf);
}

/** Digits typed anywhere on a reading screen belong in its field. @param {KeyboardEvent} event */
export function routeKey(event) {
  const field = document.getElementById(FIELD);
  const isElsewhere = !/** @type {HTMLElement} */ (event.target).matches('input, select, textarea');
  if (field && isElsewhere && /^[\d.,+−-]$/.test(event.key) && !event.ctrlKey && !event.metaKey) field.focus();
}

/** The field is there once the screen has been drawn. */
export function focusReading() {
  redraw();
  requestAnimationFrame(() => document.getElementById(FIELD)?.focus());
}

/** A hand that has moved on to another field by the time a reading is saved stays there. */
function backToReading() {
  if (document.activeElement?.matches(`input:not(#${FIELD})`)) redraw();
  else focusReading();
}

/** Readings are saved one after the other, however fast they come. @type {Promise<unknown>} */
let saving = Promise.resolve();
let waiting = 0;

/** @param {() => Target} targetOf */
function takeTyped(targetOf) {
  const text = draftText(FIELD) ?? '';
  const read = readReading(text, unitFor(targetOf().fields.of));
  if (read.sentence !== undefined) {
    setDraft(FIELD, text, read.sentence);
    return focusReading();
  }
  // The field is free at once: a laser may type the next reading while this one is being saved.
  dropDraft(FIELD);
  const input = document.getElementById(FIELD);
  if (input instanceof HTMLInputElement) input.value = '';
  const address = location.hash;
  // What stood on the screen is what was read; only behind a reading that is still being saved does the next one wait.
  const shown = waiting === 0 ? targetOf() : null;
  waiting += 1;
  saving = saving
    .then(() => save(shown ?? targetOf(), read, text, address))
    .catch(console.warn)
    .finally(() => (waiting -= 1));
}

/** @param {Target} next @param {{typed: string, unit: string}} read @param {string} text @param {string} address */
async function save(next, { typed, unit }, text, address) {
  const doc = desk.job?.doc;
  if (!doc) return;
  const state = stateAt(address);
  const target = state.again ? correction(state.again, next.how) : next;
  const instrument = instrumentFor(target.fields.of);
  const { reading, edits } = addReading(
    doc,
    { ...target.fields, ...target.how?.fields, typed: signed(target, typed), unit, instrument: instrument.name, time: new Date().toISOString() },
    instrument,
  );
  if (!(await change([...edits, ...(target.edits ?? [])], `${target.label}: ${reading.typed} ${unit}`)))
    return setDraft(FIELD, text);
  Object.assign(state, { again: null, last: { reading, label: target.label, understood: '', question: '' } });
  target.onTaken?.(reading);
  backToReading();
  void judge(doc, reading, target.label, state);
}

/** @param {Target} target @param {string} typed */
const signed = ({ how }, typed) => (/^[+−-]/.test(typed) ? typed : `${how?.sign ?? ''}${typed}`);

/** What was read stays the same, how it is read is as it stands on the screen now. @param {Said} said @param {How} [how] @returns {Target} */
function correction({ reading, label }, how) {
  const { id, typed, unit, instrument, time, corrects, by, stand_off, stand_off_end, touches, ...fields } = reading;
  return { label, fields: { ...fields, corrects: id }, how };
}

/** How many readings the engine is being asked about, and how many may wait while it starts. */
let judging = 0;
const MOST_JUDGED = 3;

/** Ask the engine what it makes of a reading that is saved already. @param {any} doc the job as it was before @param {Reading} reading @param {string} label @param {{last: Said | null, asked: Said[]}} state */
async function judge(doc, reading, label, state) {
  // Of readings that come too fast to be asked about, the room's own findings tell.
  if (desk.engine === 'failed' || judging >= MOST_JUDGED) return;
  const { corrects, ...alone } = reading;
  judging += 1;
  const reply = await askEngine({
    ask: 'reading',
    job: corrects ? applyEdits(doc, withdraw(doc, { ...reading, id: corrects }, '')).doc : doc,
    reading: alone,
    decimal: setting('decimal', '.'),
  });
  judging -= 1;
  const said = { reading, label, understood: reply.understood ?? '', question: questionIn(reply) };
  if (state.last?.reading === reading) state.last = said;
  if (said.understood) readBack(said.understood);
  if (said.question) {
    state.asked.push(said);
    navigator.vibrate?.(200); // felt in a glove, whoever looks elsewhere
  }
  redraw();
}

/** @param {any} reply */
const questionIn = (reply) =>
  reply.reply === 'refused'
    ? reply.findings.map((/** @type {any} */ { sentence }) => sentence).join(' ')
    : (reply.question?.sentence ?? '');

/** @param {Said} said */
const question = (said) =>
  html` <section class="sheet" role="alert" aria-label="Question about a reading">
    <p class="finding warning">${said.question}</p>
    <div class="row">
      <button class="button grow" @click=${() => answer(said)}>Keep it</button>
      <button class="button grow main" @click=${() => answer(said, said)}>Read again</button>
    </div>
  </section>`;

/** @param {Said | null} said the question that is answered, if any @param {Said | null} [again] what is read again now */
function answer(said, again = null) {
  const state = stateAt();
  state.asked = state.asked.filter((other) => other !== said);
  state.again = again;
  focusReading();
}

/** @param {Said} said */
const readAgain = ({ reading }) =>
  html` <div class="row between">
    <p class="finding note grow">Read again. It was ${reading.typed} ${reading.unit}; the old reading is kept as well.</p>
    <button class="button" @click=${() => answer(null)}>Leave it</button>
  </div>`;

/** @param {Said} said */
const lastTaken = ({ reading, label, understood }) =>
  html` <div class="row between" id="last-taken">
    <p class="grow">
      ${icon('tick')} ${label}: <strong>${reading.typed} ${reading.unit}</strong>${understood ? html`<br /><span class="small soft">${understood}</span>` : nothing}
    </p>
    <button class="button" @click=${() => answer(null, { reading, label, understood, question: '' })}>Read again</button>
  </div>`;

/** Take a reading back, wherever it is listed. @param {Reading} reading @param {string} label */
export const takeBack = (reading, label) =>
  change(withdraw(desk.job?.doc, reading, new Date().toISOString()), `Taken back: ${label}`);

/** Read one again that was taken earlier. @param {string} address of its reading screen @param {Reading} reading @param {string} label */
export const askAgain = (address, reading, label) => {
  stateAt(address).again = { reading, label, understood: '', question: '' };
};
