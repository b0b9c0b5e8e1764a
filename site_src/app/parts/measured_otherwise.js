// @ts-check
/**
 * Why this file exists: the wall has the last word. What a piece measures there goes before the plan, and the
 * difference is read before it is taken.
 */
import { change, desk, redraw, setting } from '../desk.js';
import { readNumber } from '../numbers.js';
import { correctWall } from '../survey_edits.js';
import { askEngine } from '../thinking.js';
import { draftText, dropDraft, numberField, takeDraft, written } from './field.js';
import { html, nothing } from './lit.js';

/** @typedef {'left' | 'right'} Side */
/** @typedef {{left: number | null, right: number | null}} Lengths */
/**
 * `said` is what the engine made of the lengths `of`, `wall` what they say of the wall, once that was asked.
 * @typedef {Lengths & {of: string, said: any, wall: any, asking: boolean}} Open
 */
/** @typedef {{side: Side, name: string, text: string}} Planned */
/** @typedef {{id: string, planned: Planned[]}} Card */

const SIDES = /** @type {const} */ (['left', 'right']);
const REST_MS = 200;
/** A piece in its place is read with a rule. */
const MEASURED_WITH = 'piece at the wall';

/** What is being entered, by the address of its card. @type {Map<string, Open>} */
const entries = new Map();
let timer = 0;

/** @param {string} id */
const progressOf = (id) => desk.job?.doc.progress?.[id] ?? {};

/** @param {string} id @returns {Lengths} */
const savedLengths = (id) => ({ left: progressOf(id).left ?? null, right: progressOf(id).right ?? null });

/** @param {Lengths} lengths */
const isMeasured = ({ left, right }) => left !== null || right !== null;

/** The button, and once it is pressed the two fields. @param {Card} card */
export function measuredOtherwise(card) {
  const entry = entries.get(location.hash);
  // What was typed while there was no engine is asked about once there is one.
  if (entry && desk.engine === 'ready' && entry.of !== JSON.stringify(typed(entry))) askSoon(card);
  return entry
    ? fields(card, entry)
    : html`<button class="button tall" @click=${() => openEntry(card)}>Measured otherwise</button>`;
}

/** Is a length being entered on the card that is shown? */
export const isMeasuring = () => entries.has(location.hash);

/** @param {Card} card */
function openEntry(card) {
  entries.set(location.hash, { ...savedLengths(card.id), of: '', said: null, wall: null, asking: false });
  redraw();
  requestAnimationFrame(() => document.getElementById(fieldId(card.planned[0]?.side ?? 'left'))?.focus());
  void ask(card);
}

function closeEntry() {
  entries.delete(location.hash);
  for (const side of SIDES) dropDraft(fieldId(side));
  redraw();
}

/** @param {Side} side */
const fieldId = (side) => `measured-${side}`;

/** @param {Card} card @param {Open} entry */
const fields = (card, entry) =>
  html` <section class="sheet" aria-label="Measured at the wall" @input=${() => askSoon(card)}>
    <h2>Measured at the wall</h2>
    <p class="small">The length the piece needs there, the gap taken off. Leave empty what is right as planned.</p>
    <div class="pair">${card.planned.map((planned) => numberField(fieldOf(planned, entry, card)))}</div>
    <div role="status">${entry.said ? answer(entry.said) : waiting(entry)} ${entry.wall ? answer({ differences: entry.wall.words, fault: null }) : nothing}</div>
    <div class="row">
      <button class="button grow" @click=${closeEntry}>Leave it</button>
      <button class="button grow main" ?disabled=${!canTake(entry)} @click=${() => take(card, entry)}>
        ${entry.wall?.wall != null ? 'Take it, and the wall' : 'Take it'}
      </button>
    </div>
    ${wallButton(card, entry)}
    ${backToPlan(card.id)}
  </section>`;

/** @param {Planned} planned @param {Open} entry @param {Card} card @returns {import('./field.js').NumberField} */
const fieldOf = ({ side, name, text }, entry, card) => ({
  id: fieldId(side),
  label: name,
  value: entry[side],
  optional: true,
  hint: `planned ${text} mm`,
  take: (value) => {
    entry[side] = value;
    void ask(card);
  },
});

/** @param {{differences: string[], fault: {sentence: string} | null}} said */
const answer = ({ differences, fault }) =>
  html`${differences.map((words) => html`<p><strong>${words}</strong></p>`)}
  ${fault ? html`<p class="finding warning">${fault.sentence}</p>` : nothing}`;

/** @param {Open} entry */
const waiting = (entry) => {
  const lengths = typed(entry);
  return lengths && isMeasured(lengths) && desk.engine === 'ready' ? html`<p>Working out the difference…</p>` : nothing;
};

/** The difference is read first; while there is no engine to tell it, nothing is held back. @param {Open} entry */
function canTake(entry) {
  const lengths = typed(entry);
  if (!lengths || !isMeasured(lengths)) return false;
  if (desk.engine !== 'ready') return true;
  return entry.said !== null && entry.of === JSON.stringify(lengths) && !entry.said.fault;
}

/** What stands in the fields, null while one of them cannot be read. @param {Open} entry @returns {Lengths | null} */
function typed(entry) {
  const [left, right] = SIDES.map((side) => {
    const text = draftText(fieldId(side));
    if (text === undefined) return entry[side];
    return text.trim() === '' ? null : readNumber(text).value;
  });
  return left === undefined || right === undefined ? null : { left, right };
}

/** @param {Card} card */
function askSoon(card) {
  clearTimeout(timer);
  timer = window.setTimeout(() => void ask(card), REST_MS);
}

/** Let the engine tell the difference. @param {Card} card */
async function ask({ id }) {
  const entry = entries.get(location.hash);
  const lengths = entry && typed(entry);
  const of = JSON.stringify(lengths);
  if (!entry || entry.of === of || desk.engine !== 'ready') return redraw();
  Object.assign(entry, { of, said: null, wall: null, asking: false });
  redraw();
  if (!lengths || !isMeasured(lengths)) return;
  const reply = await askEngine({ ask: 'measured', job: desk.job?.doc, piece: id, ...lengths, decimal: setting('decimal', '.') });
  if (entry.of === of) entry.said = reply.reply === 'measured' ? reply : { differences: [], fault: reply.findings?.[0] ?? null };
  redraw();
}

/** The wall nearby lies otherwise as well; what follows from that is told before it is taken. @param {Card} card @param {Open} entry */
const wallButton = (card, entry) =>
  canTake(entry) && entry.said && !entry.wall
    ? html`<button class="button" ?disabled=${entry.asking} @click=${() => askWall(card, entry)}>
        ${entry.asking ? 'Working out what follows…' : 'Correct the wall too'}
      </button>`
    : nothing;

/** @param {Card} card @param {Open} entry */
async function askWall({ id }, entry) {
  const { of } = entry;
  Object.assign(entry, { asking: true });
  redraw();
  const reply = await askEngine({ ask: 'wall correction', job: desk.job?.doc, piece: id, ...typed(entry), decimal: setting('decimal', '.') });
  if (entry.of !== of) return;
  const wall = reply.reply === 'wall correction' ? reply : { words: reply.findings?.map((/** @type {any} */ { sentence }) => sentence) ?? [] };
  Object.assign(entry, { asking: false, wall });
  redraw();
}

/** @param {Card} card @param {Open} entry */
async function take(card, entry) {
  for (const planned of card.planned) if (!(await takeDraft(fieldOf(planned, entry, card)))) return;
  const read = card.planned.filter(({ side }) => entry[side] !== null);
  const words = read.map(({ side, name }) => `${name.toLowerCase()} ${written(entry[side])}`);
  const edits = entry.wall?.wall != null ? correctWall(desk.job?.doc, entry.wall, MEASURED_WITH) : [];
  const what = `Piece ${card.id} measured: ${words.join(', ')}${edits.length ? ', wall corrected' : ''}`;
  if (await save(card.id, entry, what, edits)) closeEntry();
}

/** What is marked stays. @param {string} id @param {Lengths} lengths @param {string} words @param {import('../store/index.js').Edit[]} [others] taken with it */
function save(id, lengths, words, others = []) {
  const { left, right, ...marks } = progressOf(id);
  const kept = SIDES.filter((side) => lengths[side] !== null).map((side) => [side, lengths[side]]);
  return change([...others, { path: ['progress', id], value: { ...marks, ...Object.fromEntries(kept) } }], words);
}

/** Where a piece was measured: take that back. @param {string} id */
export const backToPlan = (id) =>
  isMeasured(savedLengths(id))
    ? html`<button class="button" @click=${() => takeBack(id)}>Back to the planned lengths</button>`
    : nothing;

/** @param {string} id */
async function takeBack(id) {
  if (await save(id, { left: null, right: null }, `Piece ${id}: as planned`)) closeEntry();
}
