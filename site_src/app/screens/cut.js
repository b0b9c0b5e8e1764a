// @ts-check
/** Why this file exists: the pieces along the walls as a list, to be worked through at the saw. */
import { desk, redraw } from '../desk.js';
import { choice, select } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { pace } from '../parts/pace.js';
import { doneWith, filter, isFound, isWanted, ORDERS, order, setOrder, STATES, turnsInOrder } from '../pieces.js';
import { jobAddress } from '../routes.js';
import { pieceAddress } from './piece.js';
import { oldMark } from './plan.js';

/** @typedef {import('../pieces.js').Turn} Turn */

export const cutScreen = () => {
  const turns = turnsInOrder();
  const cards = [...new Set(turns.map(({ card }) => card))];
  const isMeant = filter.search.trim() ? (/** @type {any} */ { id }) => isFound(id) : isWanted;
  const wanted = cards.filter(isMeant);
  return jobPage({
    step: 'cut',
    title: 'Cut',
    body: cards.length
      ? html` ${oldMark()}
          <div class="row between">
            <p><strong>${String(wanted.length)}</strong> of ${String(cards.length)} pieces shown</p>
            <a class="way" href="#/cautions">Before you saw</a>
          </div>
          ${search()} ${filter.search.trim() ? nothing : choices(cards)} ${pace(cards)}
          ${
            wanted.length
              ? order() === 'sawing' && !filter.search.trim()
                ? bySetting(turns.filter(({ card }) => isMeant(card)))
                : html`<ul class="list">
                    ${wanted.map((card) => cardLine({ card, at: 0 }))}
                  </ul>`
              : html`<p class="sheet plain">${filter.search.trim() ? 'No piece to cut has this number.' : 'None here. Choose another wall or “All”.'}</p>`
          }
          ${wholeFound()}
          <h2>With which tools</h2>
          <a class="button" href=${jobAddress(desk.route.job, 'tools')}>Tools and settings of the saw</a>
          <h2>From which board</h2>
          <a class="button" href=${jobAddress(desk.route.job, 'boards')}>Boards and offcuts</a>
          <h2>The last row, in one pass</h2>
          <a class="button" href=${jobAddress(desk.route.job, 'long-cut')}>The long straight cut</a>`
      : html`<section class="sheet plain">
            <h2>No pieces yet</h2>
            <p>${nothingYet()}</p>
          </section>
          ${findings()}`,
  });
};

/** A piece in the hand is found by its number. */
const search = () =>
  html` <div class="field">
    <label for="search">Find a piece by its number</label>
    <div class="entry">
      <input
        id="search"
        type="search"
        autocomplete="off"
        autocapitalize="characters"
        enterkeyhint="search"
        spellcheck="false"
        .value=${filter.search}
        @input=${(/** @type {Event} */ event) => {
          filter.search = /** @type {HTMLInputElement} */ (event.target).value;
          redraw();
        }}
      />
    </div>
  </div>`;

/** What the saw is set to, and under it what the stop is set to, stand before their pieces. @param {Turn[]} wanted */
const bySetting = (wanted) =>
  html`${settingsOf(wanted, 'setting').map(
    ([setting, pieces]) =>
      html`<h2>${setting}</h2>
        ${settingsOf(pieces, 'stop_text').map(
          ([stop, alike]) =>
            html`${stop ? html`<h3>${stop}</h3>` : nothing}
              <ul class="list">
                ${alike.map(cardLine)}
              </ul>`,
        )}`,
  )}`;

/** @param {Turn[]} turns @param {'setting' | 'stop_text'} by @returns {[string, Turn[]][]} */
const settingsOf = (turns, by) => {
  const wordsOf = (/** @type {Turn} */ { card, at }) => card.saws[at][by];
  return [...new Set(turns.map(wordsOf))].map((words) => [words, turns.filter((turn) => wordsOf(turn) === words)]);
};

/** @param {any[]} cards */
const choices = (cards) =>
  html` ${choice({
            id: 'state',
            label: 'Show',
            value: filter.state,
            options: STATES,
            take: (state) => {
              filter.state = state;
              redraw();
            },
          })}
          <div class="pair">
            ${select({
            id: 'wall',
            label: 'Along',
            value: filter.wall,
            options: wallOptions(cards),
            take: (wall) => {
              filter.wall = wall;
              redraw();
            },
          })}
            ${select({ id: 'order', label: 'In the order', value: order(), options: ORDERS, take: setOrder })}
          </div>`;

const MOST_WHOLE = 12;

/** Whole boards have no card to cut by, but a place. */
function wholeFound() {
  if (!filter.search.trim()) return nothing;
  const cut = new Set(desk.plan?.cards.map((/** @type {any} */ card) => card.id));
  const found = (desk.plan?.floor?.pieces ?? []).filter((/** @type {any} */ { id }) => !cut.has(id) && isFound(id));
  return found.length
    ? html`<h2>Whole boards</h2>
        <ul class="list">
          ${found.slice(0, MOST_WHOLE).map(
            (/** @type {any} */ { id }) =>
              html`<li><a class="open piece-line" href=${jobAddress(desk.route.job, 'piece', id)}><span class="name">${id}</span></a></li>`,
          )}
        </ul>
        ${found.length > MOST_WHOLE ? html`<p class="small soft">and ${String(found.length - MOST_WHOLE)} more: type the whole number</p>` : nothing}`
    : nothing;
}

const nothingYet = () =>
  (desk.job?.doc.room.walls ?? []).length < 3
    ? 'Measure the room first; the pieces along the walls are listed here.'
    : 'The pieces are listed here as soon as the engine has worked out the plan.';

/** @param {any[]} cards @returns {[string, string][]} */
const wallOptions = (cards) => [
  ['', 'every edge'],
  ...[...new Set(cards.map(({ wall }) => wall))].map(
    (wall) => /** @type {[string, string]} */ ([wall, wall || 'no wall']),
  ),
];

/** @param {Turn} turn */
const cardLine = ({ card, at }) =>
  html` <li>
    <a class="open piece-line" href=${pieceAddress(card.id, at)}>
      <span class="name">${card.id} · ${card.kind_text}</span>
      <span class="small"
        >${card.figures
          .slice(0, 3)
          .map((/** @type {any} */ { text, unit }) => `${text} ${unit}`)
          .join(' · ')}</span
      >
      <span class="small soft"
        >${doneWith(card.id).spoiled ? html`<strong>spoiled ${doneWith(card.id).spoiled}×</strong> · ` : nothing}${card.place_text}${card.flags.length ? html` · <strong>${card.flags.length === 1 ? '1 note' : `${card.flags.length} notes`} on the card</strong>` : nothing}</span
      >
    </a>
  </li>`;
