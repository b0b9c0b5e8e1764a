// @ts-check
/** Why this file exists: is the floor still where it should be? Where it lies, where it will end, and what to do about it. */
import { change, desk, redraw, setting } from '../desk.js';
import { standingOnFloor, takeAsItLies, takeBackLast, withdrawLaidReading } from '../laid_edits.js';
import { figureButton, figureCell, figureGrid, knowFormulas } from '../parts/figure.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { takenTable, typedText } from '../parts/taken_table.js';
import { jobAddress } from '../routes.js';
import { askEngine } from '../thinking.js';
import { readLaidScreen } from './read_laid.js';

/** @typedef {import('../messages.js').AsLaidReply} AsLaidReply */

/** What the engine last said, and of which state of which job. @type {{job: string, of: string, reply: AsLaidReply | null, wrong: string, asking: boolean}} */
const state = { job: '', of: '', reply: null, wrong: '', asking: false };

export const stayingTrueScreen = () => {
  if (desk.route.rest[0] === 'read') return readLaidScreen();
  void ask();
  return jobPage({
    step: 'set-out',
    title: 'Staying true',
    back: jobAddress(desk.route.job, 'set-out'),
    body: html` ${state.reply?.now.length ? told(state.reply) : before()} ${trouble()}
      <a class="button main tall" href=${jobAddress(desk.route.job, 'staying-true', 'read')}>Read a laid corner ${icon('next')}</a>
      ${state.reply ? afterwards(state.reply) : nothing}`,
  });
};

/** All that the answer depends on: marks on pieces too. */
const stateNow = () => `${desk.job?.id} ${desk.job?.seq} ${setting('decimal', '.')}`;

const isOld = () => state.of !== stateNow() || state.asking;

/** One question at a time; when the job has moved on meanwhile, it is asked again. */
async function ask() {
  const { job } = desk;
  if (state.job !== job?.id) Object.assign(state, { job: job?.id ?? '', of: '', reply: null, wrong: '' });
  if (!job || state.asking || state.of === stateNow() || desk.engine === 'failed') return;
  Object.assign(state, { of: stateNow(), asking: true, wrong: '' });
  const reply = await askEngine({ ask: 'as laid', job: job.doc, decimal: setting('decimal', '.') });
  state.asking = false;
  if (state.job === job.id) takeReply(reply);
  redraw();
}

/** @param {any} reply */
function takeReply(reply) {
  if (reply.reply === 'as laid') {
    state.reply = reply;
    knowFormulas(reply.formulas);
  } else state.wrong = reply.findings?.map((/** @type {any} */ { sentence }) => sentence).join(' ') ?? reply.message;
}

const before = () =>
  standingOnFloor(desk.job?.doc).length && isOld()
    ? html`<p>Working out where the floor lies…</p>`
    : html` <p>
        Read a few distances from corners of laid boards to the walls or to the struck lines. Corners far apart, in both
        directions, tell most. Then you see how far the pattern is off now, where it will end, and what to do.
      </p>`;

const trouble = () =>
  html`${state.wrong ? html`<p class="finding error">${state.wrong}</p>` : nothing}
  ${(state.reply?.findings ?? []).map(({ sentence, level }) => html`<p class="finding ${level}">${sentence}</p>`)}`;

/** @param {AsLaidReply} reply */
const told = (reply) =>
  html` ${isOld() ? html`<p class="finding note" role="status">Being worked out again…</p>` : nothing}
    <p class="soft">At ${reply.at}, read last</p>
    <div class="figures huge">${reply.now.map((one) => figureButton(one, true))}</div>
    ${
      reply.ends.length
        ? html`<div class="figures huge">${figureButton(reply.ends[0].off, true)}</div>`
        : nothing
    }
    ${reply.proposals.filter(({ best }) => best).map(({ sentence }) => html`<p class="sheet plain"><strong>${sentence}</strong></p>`)}
    ${taking(reply)}`;

/** Nothing changes before this is tapped. @param {AsLaidReply} reply */
const taking = (reply) =>
  html` ${reply.taken ? html`<p class="finding note">${reply.taken}</p>` : nothing}
    ${reply.spare.length ? html`<ul class="findings">${reply.spare.map((words) => html`<li>${words}</li>`)}</ul>` : nothing}
    ${
      reply.take && reply.ends.length
        ? html`<button class="button" ?disabled=${isOld()} @click=${() => take(reply)}>
            Cut the rest from the floor as it lies
          </button>`
        : nothing
    }
    ${reply.taken ? html`<button class="button" ?disabled=${isOld()} @click=${takeBack}>Back to the list before</button>` : nothing}`;

/** @param {AsLaidReply} reply */
const take = (reply) =>
  change(takeAsItLies(desk.job?.doc, reply.take, new Date().toISOString()), 'The rest is cut from the floor as it lies');

const takeBack = () => change(takeBackLast(desk.job?.doc), 'Back to the list before');

/** @param {AsLaidReply} reply */
const afterwards = (reply) =>
  html` ${reply.ends.length ? ends(reply) : nothing} ${reply.held.length ? held(reply) : nothing}
    ${
      reply.proposals.length
        ? html`<details>
            <summary>What else can be done</summary>
            ${reply.proposals.filter(({ best }) => !best).map(({ sentence, can }) => html`<p class=${can ? '' : 'soft'}>${sentence}</p>`)}
          </details>`
        : nothing
    }
    ${
      reply.drift.length
        ? html`<details>
            <summary>Turn and creep</summary>
            ${figureGrid([...reply.drift, ...(reply.joints ? [reply.joints] : [])])}
          </details>`
        : nothing
    }
    ${reply.readings.length ? readings(reply) : nothing}`;

/** @param {AsLaidReply} reply */
const ends = ({ ends }) =>
  html` <h2>Where it will end</h2>
    <table>
      <caption class="small soft">In mm. Smallest: the smallest piece still to be fitted along that wall.</caption>
      <thead>
        <tr>
          <th scope="col">Wall</th>
          <th scope="col">Off</th>
          <th scope="col">Planned</th>
          <th scope="col">As it lies</th>
        </tr>
      </thead>
      <tbody>
        ${ends.map(
          ({ wall, off, way, planned, now, warning }) =>
            html` <tr class=${warning ? 'doubted' : ''}>
              <th scope="row" class="number">${wall}${warning ? html`<br /><span class="small">${warning}</span>` : nothing}</th>
              <td>${figureCell(off)}<br /><span class="small soft">${off.unit}, ${way} it</span></td>
              <td>${figureCell(planned)}</td>
              <td>${figureCell(now)}</td>
            </tr>`,
        )}
      </tbody>
    </table>`;

/** @param {AsLaidReply} reply */
function held({ held }) {
  const fits = held.filter(({ fate }) => fate === 'fits').length;
  return html` <h2>Pieces already cut</h2>
    <p>${fits} of ${held.length} still fit where the floor lies.</p>
    ${
      fits < held.length
        ? html`<details>
            <summary>What becomes of the others</summary>
            <ul class="list">
              ${held.filter(({ fate }) => fate !== 'fits').map(
                ({ id, words }) => html`<li><span class="row between"><strong>${id}</strong><span>${words}</span></span></li>`,
              )}
            </ul>
          </details>`
        : nothing
    }`;
}

/** @param {AsLaidReply} reply */
const readings = (reply) =>
  html` <h2>Read so far</h2>
    ${takenTable({
      caption: 'As typed; as planned, and off the others, in mm.',
      heads: ['Corner', 'Read', 'Planned', 'Off'],
      rows: standingOnFloor(desk.job?.doc).map((reading) => row(reading, reply)),
    })}`;

/** @param {any} reading @param {AsLaidReply} reply @returns {import('../parts/taken_table.js').Row} */
function row(reading, reply) {
  const said = reply.readings.find(({ id }) => id === reading.id);
  const name = `${reading.piece} ${reading.end} ${reading.side}`;
  return {
    name,
    mark: `to ${reading.to}`,
    typed: typedText(reading),
    cells: said ? [figureCell(said.planned), figureCell(said.residual)] : ['', 'not used'],
    doubted: said?.is_doubted,
    out: () => change(withdrawLaidReading(desk.job?.doc, reading, new Date().toISOString()), `Taken back: ${name}`),
  };
}
