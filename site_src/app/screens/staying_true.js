// @ts-check
/** Why this file exists: is the floor still where it should be? Where it lies, where it will end, and what to do about it. */
import { change, desk, redraw, setting } from '../desk.js';
import { standingOnFloor, takeAsItLies, takeBackLast, withdrawLaidReading } from '../laid_edits.js';
import { figureButton, figureCell, figureGrid, knowFormulas } from '../parts/figure.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { takenTable, typedText } from '../parts/taken_table.js';
import { together } from '../parts/together.js';
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
    body: html` ${state.reply?.set_aside ? setAside(state.reply.set_aside) : nothing} ${state.reply?.now.length ? told(state.reply) : before()} ${trouble()}
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

/** What goes wrong on the way, and what is not known yet. */
const trouble = () =>
  html`${state.wrong ? html`<p class="finding error">${state.wrong}</p>` : nothing} ${said(({ level }) => level !== 'warning')}`;

/** @param {(finding: any) => boolean} wanted */
const said = (wanted) =>
  (state.reply?.findings ?? []).filter(wanted).map(({ sentence, level }) => html`<p class="finding ${level}">${together(sentence)}</p>`);

/** How far off it is now, and which way, largest; then what to do. @param {AsLaidReply} reply */
const told = (reply) =>
  html` ${isOld() ? html`<p class="finding note" role="status">Being worked out again…</p>` : nothing}
    <p class="soft">Now, at ${reply.at}, read last</p>
    <div class="figures huge off">
      ${figureButton(reply.now[0], true)}
      ${
        reply.verdict
          ? nothing
          : html`<svg class="towards" viewBox="0 0 28 28" aria-hidden="true" focusable="false">
              <path transform="rotate(${reply.arrow} 14 14)" d="M3 14H24M15 5L24 14L15 23" />
            </svg>`
      }
    </div>
    ${reply.verdict ? html`<p><strong>${reply.verdict}</strong></p>` : nothing}
    ${figureGrid([...reply.now.slice(1), ...reply.ends.slice(0, 1).map(({ off }) => off)])}
    ${toDo(reply)} ${said(({ level }) => level === 'warning')}`;

/** What is proposed, with its button; nothing changes before that is tapped. @param {AsLaidReply} reply */
const toDo = (reply) =>
  html` ${reply.proposals.filter(({ best }) => best).map((one) => proposal(one, reply, true))}
    ${reply.taken ? taken(reply) : nothing}
    ${reply.proposals.filter(({ best, kind }) => !best && kind === 'take').map((one) => proposal(one, reply, false))}`;

/** @param {import('../messages.js').ProposalRow} one @param {AsLaidReply} reply @param {boolean} isBest */
const proposal = ({ kind, title, sentence, can }, reply, isBest) =>
  html` <section class="sheet ${isBest ? '' : 'plain'}">
    ${isBest ? html`<h2>${title}</h2>` : html`<h3>Or: ${title}</h3>`}
    <p class=${can ? '' : 'soft'}>${together(sentence)}</p>
    ${
      kind === 'take' && reply.take && reply.ends.length
        ? html`<button class="button ${isBest ? 'main tall' : ''}" ?disabled=${isOld()} @click=${() => take(reply)}>
            Make the new cut list
          </button>`
        : nothing
    }
  </section>`;

/** @param {AsLaidReply} reply */
const taken = (reply) =>
  html` <p class="finding note">${reply.taken}</p>
    <a class="button" href=${jobAddress(desk.route.job, 'strike')}>Lines to strike as it lies</a>
    ${reply.spare.map(pile)} ${reply.spare.length ? groups('Pieces that were cut before', reply.spare) : nothing}
    <button class="button" ?disabled=${isOld()} @click=${takeBack}>Back to the list before</button>`;

/** It stays in the job, for the pattern may be put back, until it is taken out. @param {string} words */
const setAside = (words) =>
  html` <p class="finding warning">${together(words)}</p>
    <button class="button" ?disabled=${isOld()} @click=${() => change([{ path: ['laid', 'taken'], remove: true }], 'Floor as it lay taken out')}>
      Take it out of the job
    </button>`;

/** @param {import('../messages.js').HeldRow} row */
const pile = ({ words, count }) => html`<p class="row between"><span>${words}</span><strong>${count}</strong></p>`;

/** Pieces in piles, as one sorts them. @param {string} title @param {import('../messages.js').HeldRow[]} rows */
const groups = (title, rows) =>
  html` <details>
    <summary>${title}</summary>
    ${rows.map(
      ({ words, count, pieces }) =>
        html`<h3>${words}: ${count}</h3>
          <p class="number">${together(pieces.join(', '))}</p>`,
    )}
  </details>`;

/** @param {AsLaidReply} reply */
const take = (reply) =>
  change(takeAsItLies(desk.job?.doc, reply.take, new Date().toISOString()), 'The rest is cut from the floor as it lies');

const takeBack = () => change(takeBackLast(desk.job?.doc), 'Back to the list before');

/** @param {AsLaidReply} reply */
function afterwards(reply) {
  const others = reply.proposals.filter(({ best, kind }) => !best && kind !== 'take');
  return html` ${reply.held.length ? held(reply) : nothing} ${reply.ends.length ? ends(reply) : nothing}
    ${reply.creep.length ? creep(reply) : nothing}
    ${
      others.length
        ? html`<details>
            <summary>What else can be done</summary>
            ${others.map(({ title, sentence, can }) => html`<p class=${can ? '' : 'soft'}><strong>${title}.</strong> ${sentence}</p>`)}
          </details>`
        : nothing
    }
    ${reply.readings.length ? readings(reply) : nothing}`;
}

/** @param {AsLaidReply} reply */
const ends = ({ ends }) =>
  html` <h2>Where it will end</h2>
    <table>
      <caption class="small soft">In mm, if it goes on so; and the smallest piece still to be fitted there, as planned and then.</caption>
      <thead>
        <tr>
          <th scope="col">Wall</th>
          <th scope="col">Off</th>
          <th scope="col">Plan</th>
          <th scope="col">Then</th>
        </tr>
      </thead>
      <tbody>
        ${ends.map(
          ({ wall, off, way, planned, now, warning }) =>
            html` <tr class=${warning ? 'doubted' : ''}>
              <th scope="row">${wall}${warning ? html`<br /><span class="small">${warning}</span>` : nothing}</th>
              <td>${figureCell(off)}<br /><span class="small soft">${way}<br />${off.unit}</span></td>
              <td>${figureCell(planned)}</td>
              <td>${figureCell(now)}</td>
            </tr>`,
        )}
      </tbody>
    </table>`;

/** @param {AsLaidReply} reply */
const creep = ({ creep, turn, joints }) =>
  html` <h2>Creep, row by row</h2>
    <p class="small soft">+ is on from where laying began: boards take more room than planned.</p>
    ${creep.map(
      ({ name, gain, front, last }) =>
        html`<h3>${name}</h3>
          ${figureGrid([gain, front, last])}`,
    )}
    ${figureGrid([turn, joints].filter((one) => one !== null))}`;

/** @param {AsLaidReply} reply */
const held = ({ held }) =>
  html` <h2>Pieces already cut</h2>
    ${held.map(pile)}
    ${groups('Which they are', held)}`;

/** Many, and seldom looked at again; open where one is doubted. @param {AsLaidReply} reply */
const readings = (reply) =>
  html` <details ?open=${reply.readings.some(({ is_doubted }) => is_doubted)}>
    <summary>${String(reply.readings.length)} ${reply.readings.length === 1 ? 'distance' : 'distances'} read</summary>
    ${takenTable({
      caption: 'As typed, and off the others, in mm.',
      heads: ['Corner', 'Read', 'Off'],
      rows: standingOnFloor(desk.job?.doc).map((reading) => row(reading, reply)),
    })}
  </details>`;

/** @param {any} reading @param {AsLaidReply} reply @returns {import('../parts/taken_table.js').Row} */
function row(reading, reply) {
  const said = reply.readings.find(({ id }) => id === reading.id);
  const name = `${reading.piece} ${reading.end} ${reading.side}`;
  return {
    name,
    mark: `to ${reply.read_to[reading.to] ?? reading.to}`,
    typed: typedText(reading),
    cells: [said ? figureCell(said.residual) : 'not used'],
    doubted: said?.is_doubted,
    out: () => change(withdrawLaidReading(desk.job?.doc, reading, new Date().toISOString()), `Taken back: ${name}`),
  };
}
