// @ts-check
/** Why this file exists: the pieces along the walls as a list, to be worked through at the saw. */
import { desk, redraw } from '../desk.js';
import { pieceState } from '../parts/drawing.js';
import { choice, select } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { jobAddress } from '../routes.js';
import { oldMark } from './plan.js';

const STATES = /** @type {const} */ ([
  ['to-cut', 'To cut'],
  ['cut', 'Cut'],
  ['fitted', 'Fitted'],
  ['all', 'All'],
]);

const filter = { wall: '', state: 'to-cut' };

/** @param {any} card */
export const stateOf = (card) => pieceState('cut', desk.job?.doc.progress?.[card.id]);
const stateKey = (/** @type {any} */ card) =>
  ({ 'to-cut': 'to-cut', whole: 'to-cut', cut: 'cut', fitted: 'fitted' })[stateOf(card)];

/** @param {any} card */
export const isWanted = (card) =>
  (!filter.wall || card.wall === filter.wall) && (filter.state === 'all' || stateKey(card) === filter.state);

export const cutScreen = () => {
  const cards = desk.plan?.cards ?? [];
  const wanted = cards.filter(isWanted);
  return jobPage({
    step: 'cut',
    title: 'Cut',
    body: cards.length
      ? html` ${oldMark()}
          <div class="row between">
            <p><strong>${String(wanted.length)}</strong> of ${String(cards.length)} pieces shown</p>
            <a class="way" href="#/cautions">Before you saw</a>
          </div>
          ${choice({
            id: 'state',
            label: 'Show',
            value: filter.state,
            options: STATES,
            take: (state) => {
              filter.state = state;
              redraw();
            },
          })}
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
          ${
            wanted.length
              ? html`<ul class="list">
                  ${wanted.map(cardLine)}
                </ul>`
              : html`<p class="sheet plain">None here. Choose another wall or “All”.</p>`
          }
          <h2>The last row, in one pass</h2>
          <a class="button" href=${jobAddress(desk.route.job, 'long-cut')}>The long straight cut</a>`
      : html`<section class="sheet plain">
            <h2>No pieces yet</h2>
            <p>${nothingYet()}</p>
          </section>
          ${findings()}`,
  });
};

const nothingYet = () =>
  (desk.job?.doc.room.walls ?? []).length < 3
    ? 'Measure the room first; the pieces along the walls are listed here.'
    : 'The pieces are listed here as soon as the engine has worked out the plan.';

/** @param {any[]} cards @returns {[string, string][]} */
const wallOptions = (cards) => [
  ['', 'every wall and thing'],
  ...[...new Set(cards.map(({ wall }) => wall))].map(
    (wall) => /** @type {[string, string]} */ ([wall, wall || 'no wall']),
  ),
];

/** @param {any} card */
const cardLine = (card) =>
  html` <li>
    <a class="open piece-line" href=${jobAddress(desk.route.job, 'piece', card.id)}>
      <span class="name">${card.id} · ${card.kind_text}</span>
      <span class="small"
        >${card.figures
          .slice(0, 3)
          .map((/** @type {any} */ { text, unit }) => `${text} ${unit}`)
          .join(' · ')}</span
      >
      <span class="small soft"
        >${card.place_text}${card.flags.length ? html` · <strong>${card.flags.length === 1 ? '1 note' : `${card.flags.length} notes`} on the card</strong>` : nothing}</span
      >
    </a>
  </li>`;
