// @ts-check
/** Why this file exists: one piece at the saw. The measure that is set next is the largest thing on the screen. */
import { desk, redraw } from '../desk.js';
import { boardEdges, boardLegend } from '../parts/boards_picture.js';
import { planDrawing, sawDrawing } from '../parts/drawing.js';
import { figureButton, figureGrid } from '../parts/figure.js';
import { jobPage } from '../parts/frame.js';
import { glueUp } from '../parts/glue_up.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { backToPlan, isMeasuring, measuredOtherwise } from '../parts/measured_otherwise.js';
import { doneWith, isAlong, isWanted, mark, order, spoil, stateOf, turnsInOrder } from '../pieces.js';
import { hasVoice, say } from '../read_back.js';
import { goTo, jobAddress } from '../routes.js';
import { isOld, oldMark } from './plan.js';

/** @typedef {import('../pieces.js').Turn} Turn */

/** The two lengths come first. */
const LENGTHS = 2;
/** A thumb that taps twice by accident does so sooner than this. */
const SAME_TAP_MS = 400;

/** What the saw was set to for the piece that was cut last. */
let standsAt = '';
/** A tap that marks a piece has its effect before the next one counts. */
const onward = { isGoing: false, restsUntil: 0 };

/** The card of a piece, opened for the first of its cuts on the saw or a later one. @param {string} id @param {number} at */
export const pieceAddress = (id, at) => jobAddress(desk.route.job, 'piece', id, ...(at ? [String(at)] : []));

export const pieceScreen = () => {
  const id = desk.route.rest[0] ?? '';
  const back = jobAddress(desk.route.job, 'cut');
  const card = desk.plan?.cards?.find((/** @type {any} */ each) => each.id === id);
  // While a length is typed what takes it is the one thing to tap.
  const [body, bar] = card ? [cardBody(card), isMeasuring() ? nothing : onwards(card)] : [noCard(id), nothing];
  return jobPage({ step: 'cut', title: `Piece ${id}`, back, body, bar });
};

/** @param {string} id */
function noCard(id) {
  const whole = desk.plan?.floor?.pieces.some((/** @type {any} */ piece) => piece.id === id);
  return html`<p class="sheet">
      ${whole ? 'A whole board: nothing to cut.' : 'This piece is not in the plan any more. The room or the pattern has changed.'}
    </p>
    ${backToPlan(id)} ${whole ? miniPlan({ id, near: undefined }) : nothing}`;
}

/** @param {any} card */
function cardBody(card) {
  const [now, ...others] = sawsNow(card);
  const isNext = isSetNext(card, now);
  const beside = card.figures.filter((/** @type {any} */ figure) => !isNext(figure) && figure.key !== 'gap');
  return html` ${oldMark()}
    <p class="hand-line"><strong>${card.kind_text}</strong><br />${card.board_text}</p>
    ${order() === 'sawing' ? sawSetting(now) : nothing} ${onSaw(card, now, 0)}
    <div class="figures huge">${card.figures.filter(isNext).map((/** @type {any} */ figure) => figureButton(figure, true))}</div>
    ${figureGrid(beside)} ${sayIt(card)} ${others.map((saw, index) => onSaw(card, saw, index + 1))}
    ${card.flags.map((/** @type {string} */ flag) => html`<p class="finding warning">${flag}</p>`)} ${marks(card)}
    ${doneButtons(card)} ${measuredOtherwise(card)} ${spoiled(card)} ${glueUp(card)}
    ${
      card.steps.length
        ? html`<h2>At the saw</h2>
            <ol>
              ${card.steps.map((/** @type {string} */ step) => html`<li>${step}</li>`)}
            </ol>`
        : nothing
    }
    <a class="way" href="#/cautions">Before you saw</a>
    <h2>Where it goes</h2>
    <p>${card.place_text}</p>
    ${miniPlan(card)} ${card.lies ? boardLegend() : nothing} ${neighbours(card)}
    ${figureGrid(card.figures.filter((/** @type {any} */ { key }) => key === 'gap'))}`;
}

/**
 * In the order of the saw its angle and stop are set next, else the two lengths are marked.
 * @param {any} card @param {any} saw @returns {(figure: any) => boolean}
 */
const isSetNext = (card, saw) =>
  order() === 'sawing' && saw.figures.length
    ? ({ key }) => saw.figures.includes(key)
    : (figure) => card.figures.indexOf(figure) < LENGTHS;

/** A saw that stands otherwise than for the piece before spoils this one: it is said. @param {any} saw */
const sawSetting = ({ setting, stop_text, fence }) =>
  html`<p class=${isTurned({ setting, fence }) ? 'finding' : 'hand-line'}>
    <strong>${isTurned({ setting, fence }) ? 'Turn the saw. ' : nothing}${setting}</strong>${stop_text ? html`<br />${stop_text}` : nothing}
  </p>`;

/** @param {{setting: string, fence: string}} saw */
const isTurned = ({ setting, fence }) => fence !== '' && setting !== standsAt;

/** The cut whose turn it is comes first. @param {any} card @returns {any[]} */
function sawsNow({ saws }) {
  const at = Number(desk.route.rest[1] ?? 0);
  return [...saws.slice(at), ...saws.slice(0, at)];
}

/** @param {any} card @param {any} saw @param {number} index */
const onSaw = (card, saw, index) =>
  html`${sawDrawing(saw, card.hand, `${card.kind_text}. ${saw.words}`, `saw-${index}`)}
    <p class="small soft">${saw.words}${saw.fence && (order() !== 'sawing' || index) ? html` · ${saw.setting} · ${saw.stop_text}` : nothing}</p>`;

/** @param {{id: string, near: any, neighbours?: any[], lies?: any}} card */
const miniPlan = ({ id, near, neighbours, lies }) =>
  planDrawing({
    key: 'near',
    label: `Where piece ${id} goes`,
    room: desk.plan.room,
    floor: desk.plan.floor,
    axis: desk.job?.doc.floor.axis,
    progress: desk.job?.doc.progress,
    here: id,
    beside: neighbours,
    box: near,
    still: true,
    mini: true,
    old: isOld(),
    over: lies ? boardEdges(lies) : nothing,
  });

/** @param {any} card */
const marks = (card) =>
  card.marks.length
    ? html` <table>
        <caption class="small soft">
          Mark these points and join them.
        </caption>
        <thead>
          <tr>
            <th scope="col">Along, from the kept end</th>
            <th scope="col">Across, from the right edge</th>
          </tr>
        </thead>
        <tbody>
          ${card.marks.map(
            (/** @type {any} */ { along, across }) =>
              html`<tr>
                <td>${along}</td>
                <td>${across}</td>
              </tr>`,
          )}
        </tbody>
      </table>`
    : nothing;

/** @param {any} card */
function doneButtons(card) {
  const state = stateOf(card);
  return html` <div class="row">
    <button
      class="button grow tall"
      aria-pressed=${state === 'cut' || state === 'fitted' ? 'true' : 'false'}
      @click=${() => mark(card.id, 'cut')}
    >
      ${icon('tick')} Cut
    </button>
    <button
      class="button grow tall"
      aria-pressed=${state === 'fitted' ? 'true' : 'false'}
      @click=${() => mark(card.id, 'fitted')}
    >
      ${icon('tick')} Fitted
    </button>
  </div>`;
}

/** The board is lost; undo takes it back. @param {any} card */
function spoiled(card) {
  const times = doneWith(card.id).spoiled ?? 0;
  return html` <button class="button" @click=${() => spoil(card.id)}>Spoiled</button>
    ${
      times
        ? html`<p class="finding note">
            ${times === 1 ? 'One was spoiled' : `${times} were spoiled`}: it is to be cut again, and another board is counted for it.
          </p>`
        : nothing
    }`;
}

/** Both hands hold the board: the phone says the lengths. @param {any} card */
const sayIt = (card) =>
  hasVoice() && card.spoken
    ? html`<button class="button" @click=${() => say(card.spoken)}>${icon('voice')} Say the lengths</button>`
    : nothing;

/** @param {any} card */
const neighbours = ({ neighbours: beside = [] }) =>
  beside.length
    ? html` <h3>Beside it</h3>
        <ul class="list">
          ${beside.map(
            (/** @type {any} */ { id, words }) =>
              html`<li><a class="open piece-line" href=${jobAddress(desk.route.job, 'piece', id)}
                ><span class="small">${words}${doneWith(id).fitted ? ', fitted' : doneWith(id).cut ? ', cut' : ''}</span></a
              ></li>`,
          )}
        </ul>`
    : nothing;

/** The turns of the order that was chosen, and which of them is now. @param {any} card */
function turnsAround(card) {
  const turns = turnsInOrder();
  const at = Number(desk.route.rest[1] ?? 0);
  const found = turns.findIndex((turn) => turn.card === card && turn.at === at);
  const others = (/** @type {Turn} */ turn) => turn.card === card || card.together.includes(turn.card.id);
  const index = found < 0 ? turns.findIndex(others) : found;
  return {
    // The one before is looked at again when it is done as well.
    before: turns.slice(0, index).findLast(({ card }) => isAlong(card)),
    after: turns.slice(index + 1).find(({ card }) => isWanted(card)),
    comesAgain: turns.slice(index + 1).some((turn) => turn.card === card),
  };
}

/** The whole day under one thumb: what is done with this piece, and the next one. @param {any} card */
function onwards(card) {
  const { before, after, comesAgain } = turnsAround(card);
  return html` <nav class="bar" aria-label="Other pieces">
    ${pageLink(before, 'Back', 'back')} ${comesAgain && after ? cutAgainLater(card, after) : doneAndOn(card, after)}
    ${pageLink(after, 'Next', 'next')}
  </nav>`;
}

/** The saw is set for this piece once more: it is not cut before that. @param {any} card @param {Turn} after */
const cutAgainLater = (card, after) => onwardButton('First cut, next', async () => {
  leaveSawAsSet(card);
  goTo(pieceAddress(after.card.id, after.at));
});

/** @param {any} card */
const leaveSawAsSet = (card) => {
  if (order() === 'sawing') standsAt = sawsNow(card)[0].setting;
};

/** A second tap of the same thumb would mark a piece that nobody has looked at. @param {unknown} words @param {() => Promise<unknown>} go */
const onwardButton = (words, go) =>
  html`<button class="button main onward" aria-disabled=${isResting() ? 'true' : nothing} @click=${() => goOnce(go)}>${words}</button>`;

const isResting = () => onward.isGoing || performance.now() < onward.restsUntil;

/** @param {() => Promise<unknown>} go */
async function goOnce(go) {
  if (isResting()) return;
  onward.isGoing = true;
  try {
    await go();
  } finally {
    // After a fault the piece is still there, and so is its button.
    Object.assign(onward, { isGoing: false, restsUntil: performance.now() + SAME_TAP_MS });
    redraw();
    setTimeout(redraw, SAME_TAP_MS + 1);
  }
}

/** After the last piece wanted the list shows what is left. @param {any} card @param {Turn | undefined} after */
function doneAndOn(card, after) {
  const state = stateOf(card);
  if (state === 'fitted') return html`<span class="onward"></span>`;
  const what = state === 'cut' ? 'fitted' : 'cut';
  const then = after ? pieceAddress(after.card.id, after.at) : jobAddress(desk.route.job, 'cut');
  const markAndGo = async () => {
    if (!(await mark(card.id, what))) return;
    if (what === 'cut') leaveSawAsSet(card);
    goTo(then);
  };
  const words = `${what === 'cut' ? 'Cut' : 'Fitted'}, ${after ? 'next' : 'to the list'}`;
  return onwardButton(html`${icon('tick')} ${words}`, markAndGo);
}

/** @param {Turn | undefined} turn @param {'Back' | 'Next'} label @param {'back' | 'next'} picture */
const pageLink = (turn, label, picture) =>
  turn
    ? html`<a class="button aside" href=${pieceAddress(turn.card.id, turn.at)} aria-label="${label}, piece ${turn.card.id}"
        >${icon(picture)}</a
      >`
    : html`<button class="button aside" disabled aria-label=${label}>${icon(picture)}</button>`;
