// @ts-check
/** Why this file exists: where the pattern should sit: what matters, the best place, and moving it by hand. */
import { allSaved, desk, redraw } from '../desk.js';
import { drawnText, planDrawing } from '../parts/drawing.js';
import { written } from '../parts/field.js';
import { figureButton, figureCell, figureGrid } from '../parts/figure.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing, svg } from '../parts/lit.js';
import { docAhead, tapButtons, tapField } from '../parts/nudge.js';
import { placeMap } from '../parts/place_map.js';
import { anchorAt, answerTo, askAtRest, askPlace, docAt, keptDoc, movedNow } from '../placing.js';
import { jobAddress } from '../routes.js';
import { handMoves } from '../thinking.js';
import { placeNow, putPattern, wish, wishes } from '../wishes.js';
import { wishesSheet } from './place_wishes.js';
import { isOld, oldMark } from './plan.js';

/** @typedef {import('../messages.js').EdgeRow} EdgeRow */
/** @typedef {import('../messages.js').BestPlaceReply} BestPlaceReply */
/** @typedef {import('../messages.js').MovedReply} MovedReply */

/** Where the finger holds the pattern on the map, before it is let go. @type {number[] | null} */
let held = null;
/** The search takes a second or two, so it is asked for by a button. @type {string} */
let sought = '';

export const placeScreen = () => {
  askMoved();
  askPlace('place', docAhead(), held);
  const kept = keptDoc();
  if (kept) askPlace('kept', kept);
  const { moved, wrong: fault } = movedNow(docAhead(), held);
  const place = answerTo('place', docAhead(), held);
  if (isElsewhere()) askAtRest('slivers', docAhead(), held);
  return jobPage({
    step: 'set-out',
    title: 'Where the pattern should sit',
    back: jobAddress(desk.route.job, 'set-out'),
    body: html` <section>
        <div class="in-sight">
          ${desk.plan ? picture(moved) : nothing} ${wrong(fault || place.wrong)}
          ${place.reply ? html`<div class="figures huge">${figureButton(place.reply.worth, true)}</div>` : nothing}
          ${place.reply?.missed.map((/** @type {string} */ words) => html`<p class="finding warning">${words}</p>`)}
        </div>
        ${cutAlready()} ${map(moved)} ${best()} ${findings((path) => path.startsWith('laid'))}
        ${place.reply ? edgeTable('Smallest piece along each wall', place.reply.edges) : nothing}
        ${oldMark()} ${counted()} ${moving()}
      </section>
      ${comparison(place.reply)} ${wishesSheet()}`,
    bar: isLocked() ? nothing : html`<section class="bar" aria-label="By hand">${tapButtons(askMoved)}</section>`,
  });
};

const COUNTED = new Set(['slivers', 'boards', 'boards left', 'boards right']);
/** @param {{key: string}} figure */
const isCounted = ({ key }) => COUNTED.has(key);
/** @param {{key: string}} figure */
const isCompared = ({ key }) => COUNTED.has(key) || key === 'pieces to cut';

/** Is the pattern not where the plan has it? */
const isElsewhere = () => isOld() || held !== null;

/** The slivers come when the finger rests, the boards with the whole plan; no count of another place is shown. */
function counted() {
  const figures = (desk.plan?.summary ?? []).filter(isCounted);
  if (!isElsewhere()) return figureGrid(figures);
  const { reply, isOld: isOther } = answerTo('slivers', docAhead(), held);
  const slivers = isOther ? undefined : reply?.slivers;
  return html`<div class="figures">
    ${figures.map((/** @type {any} */ one) => (one.key === 'slivers' && slivers ? figureButton(slivers) : beingCounted(one)))}
  </div>`;
}

/** As high as the number that comes, and quieter than those that are there. @param {{key: string, label: string}} figure */
const beingCounted = ({ key, label }) =>
  html`<p class="figure being ${key}"><span class="label">${label}</span> <span class="value">counting</span></p>`;

/** @param {string} words */
const wrong = (words) => (words ? html`<p class="finding error">${words}</p>` : nothing);

/** The boards as they lie now: drawn once and moved as the engine says. @param {MovedReply | null} moved */
const picture = (moved) =>
  planDrawing({
    key: 'place',
    label: 'The pattern where it sits, in the room',
    room: desk.plan.room,
    still: true,
    over: moved
      ? svg`<defs><clipPath id="place-floor"><path clip-rule="evenodd" d=${desk.plan.floor.lay_area} /></clipPath></defs>
          <g clip-path="url(#place-floor)"><path class="piece whole" transform=${moved.by} d=${moved.boards} /></g>
          <path class="floor-edge" d=${desk.plan.floor.lay_area} />
          ${desk.plan.room.walls.filter(matters).map((/** @type {any} */ { path }) => svg`<path class="wall here" d=${path} />`)}
          ${desk.plan.room.corners.map((/** @type {any} */ { label }) => drawnText(label, 'corner-text'))}`
      : nothing,
  });

/** @param {{name: string}} wall */
const matters = ({ name }) =>
  (wishes().edges ?? []).some(({ from, to }) => name === `${from}–${to}` || name === `${to}–${from}`);

/** @param {string} caption @param {EdgeRow[]} rows */
const edgeTable = (caption, rows) =>
  rows.length
    ? html` <table class="sizes">
        <caption class="small soft">${caption}</caption>
        <thead>
          <tr>
            <th scope="col">Wall</th>
            ${rows[0].figures.map(({ label, unit }) => html`<th scope="col">${label}${unit ? `, ${unit}` : nothing}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            ({ name, figures, decides }) =>
              html`<tr>
                <th scope="row">${name}</th>
                ${figures.map((one) => html`<td class=${one.key === decides ? 'decides' : ''}>${figureCell(one)}</td>`)}
              </tr>`,
          )}
        </tbody>
      </table>`
    : nothing;

/** Boards that are cut belong to the place they were cut for. */
function cutAlready() {
  const done = Object.values(desk.job?.doc.progress ?? {}).filter(({ cut, fitted }) => cut || fitted).length;
  return done
    ? html`<p class="finding warning">
        ${String(done)} ${done === 1 ? 'piece is' : 'pieces are'} marked as cut or fitted. They were cut for the place where the
        pattern is now: when it moves they no longer fit. On a floor that is being laid use “Staying true” instead.
      </p>`
    : nothing;
}

const isLocked = () => wishes().locked ?? false;

const moving = () =>
  html` ${isLocked() ? html`<p class="finding note">The pattern is locked where it is.</p>` : tapField()}
    <button class="button" aria-pressed=${isLocked() ? 'true' : 'false'} @click=${() => wish('locked', !isLocked(), isLocked() ? 'Pattern unlocked' : 'Pattern locked')}>
      ${isLocked() ? 'Unlock the pattern' : 'Lock it here'}
    </button>`;

function best() {
  if (!wishes().edges?.length)
    return html`<p class="finding note">Choose below which walls matter. Then the best place can be looked for.</p>`;
  const answer = answerTo('best place');
  // Moved meanwhile, the pattern has its best place looked for again: the first answer is held against where it was.
  if (sought === desk.job?.id && answer.asking) askPlace('best place');
  const isAsked = sought === desk.job?.id && !answer.isOld;
  return html` <button class="button main" ?disabled=${isLocked() || answer.asking} @click=${seek}>
      ${answer.asking ? 'Looking for the best place…' : 'Look for the best place'}
    </button>
    ${isAsked ? wrong(answer.wrong) : nothing} ${isAsked && answer.reply ? found(answer.reply) : nothing}`;
}

async function seek() {
  await allSaved();
  sought = desk.job?.id ?? '';
  askPlace('best place');
  askPlace('place map');
  redraw();
}

async function drawMap() {
  await allSaved();
  askPlace('place map');
  redraw();
}

/** @param {BestPlaceReply} reply */
const found = (reply) =>
  html` <section class="sheet">
    <h2>The best place</h2>
    <div class="figures">${figureButton(reply.worth)} ${figureButton(reply.bound)}</div>
    <p>${reply.words}</p>
    ${reply.findings.map(({ sentence, level }) => html`<p class="finding ${level}">${sentence}</p>`)}
    <button class="button main" ?disabled=${isLocked()} @click=${() => putPattern(reply, 'Pattern at its best place')}>Put it there</button>
    ${sideBySide('Now', 'There', reply.edges_now, reply.edges)}
    ${counts('place counts', docAt(reply))}
  </section>`;

/**
 * What the plan counts here and there. All pieces are cut for it, so it follows the rest.
 * @param {'place counts' | 'kept counts'} sort @param {any} doc
 */
function counts(sort, doc) {
  askPlace(sort, doc);
  const { reply: there, isOld, wrong: fault } = answerTo(sort, doc);
  const now = desk.plan?.summary ?? [];
  if (fault && !isOld) return wrong(fault);
  return html` <table>
    <tbody>
      ${now.filter(isCompared).map(
        (/** @type {any} */ one) =>
          html`<tr>
            <th scope="row">${one.label}</th>
            <td>${figureCell(one)}</td>
            <td>${isOld || !there ? '…' : countOf(there, one.key)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
}

/** @param {any} reply @param {string} key */
function countOf(reply, key) {
  const found = reply.counts.find((/** @type {any} */ one) => one.key === key);
  return found ? figureCell(found) : '–';
}

/** The deciding size of each wall at two places. @param {string} one @param {string} other @param {EdgeRow[]} left @param {EdgeRow[]} right */
const sideBySide = (one, other, left, right) =>
  html` <table>
    <thead>
      <tr>
        <th scope="col">Smallest piece</th>
        <th scope="col">${one}</th>
        <th scope="col">${other}</th>
      </tr>
    </thead>
    <tbody>
      ${right.map(
        (row) =>
          html`<tr>
            <th scope="row">${row.name}, ${deciding(row)?.unit}</th>
            <td>${figureOf(left.find(({ name }) => name === row.name))}</td>
            <td>${figureOf(row)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/** @param {EdgeRow | undefined} row */
const deciding = (row) => row?.figures.find(({ key }) => key === row.decides);
/** @param {EdgeRow | undefined} row */
const figureOf = (row) => {
  const one = deciding(row);
  return one ? figureCell(one) : '–';
};

/** @param {MovedReply | null} moved */
function map(moved) {
  if (!wishes().edges?.length) return nothing;
  const { reply, asking, isOld } = answerTo('place map');
  if (!reply || isOld)
    return html`<button class="button" ?disabled=${asking} @click=${drawMap}>
      ${asking ? 'Drawing the map of all places…' : 'Map of all places'}
    </button>`;
  return html` <h2>All places</h2>
    ${placeMap({ map: reply, at: held ?? moved?.at ?? null, locked: isLocked(), onMove: hold, onDrop: drop })}
    <p class="small soft">${isLocked() ? 'Unlock the pattern to move it.' : 'Draw a finger over the map: the pattern follows.'} ${reply.words}</p>`;
}

/** Asked as soon as the hand moves, not with the next drawing: that would cost a frame. */
const askMoved = () => askPlace('moved', docAhead(), held);

/** @param {number[]} at */
function hold(at) {
  held = at;
  handMoves();
  askMoved();
  redraw();
}

/** The finger was lifted: now the pattern stays where it was last. */
async function drop() {
  const at = held;
  if (!at) return;
  const anchor = await anchorAt(at);
  if (anchor) await putPattern({ anchor }, 'Pattern moved on the map');
  // Meanwhile another finger may hold it.
  if (held === at) held = null;
  redraw();
}

/** Two places, one beside the other. @param {any} place */
function comparison(place) {
  const { kept } = wishes();
  const here = placeNow();
  if (!kept)
    return html`<button class="button" @click=${() => wish('kept', here, 'Place kept to compare')}>Keep this place to compare</button>`;
  const other = answerTo('kept', keptDoc());
  return html` <section class="sheet">
    <h2>This place and the kept one</h2>
    ${place && other.reply ? sideBySide('This', 'Kept', place.edges, other.reply.edges) : nothing}
    ${isElsewhere() ? nothing : counts('kept counts', keptDoc())}
    <p class="small soft">Kept: boards meet at x ${written(kept.anchor[0])}, y ${written(kept.anchor[1])}; rows at ${written(kept.axis)}°.</p>
    <div class="row">
      <button class="button grow" ?disabled=${isLocked()} @click=${() => swap(kept, here)}>Change places</button>
      <button class="button grow" @click=${() => wish('kept', here, 'Place kept to compare')}>Keep this one instead</button>
    </div>
  </section>`;
}

/** @param {{anchor: number[], axis: number}} kept @param {{anchor: number[], axis: number}} here */
async function swap(kept, here) {
  if (await putPattern(kept, 'Pattern at the kept place')) await wish('kept', here, 'Place kept to compare');
}
