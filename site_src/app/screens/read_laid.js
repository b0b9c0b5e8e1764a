// @ts-check
/** Why this file exists: one distance at a time from a corner of a laid board: tap the board, the corner, what it is read to. */
import { change, desk, redraw, setting } from '../desk.js';
import { addLaidReading, standingOnFloor } from '../laid_edits.js';
import { readReading } from '../numbers.js';
import { drawnText, planDrawing } from '../parts/drawing.js';
import { choice, draftFault, draftText, dropDraft, numberField, select, setDraft, textField } from '../parts/field.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { instrumentFor, measuredWith, measuredWithWords, unitFor } from '../parts/measured_with.js';
import { jobAddress } from '../routes.js';
import { askEngine } from '../thinking.js';

/** @typedef {import('../messages.js').LaidBoardReply} LaidBoardReply */
/** @typedef {import('../messages.js').LaidTarget} LaidTarget */

const FIELD = 'laid-distance';
const OF = 'laid';

/** What is being read. @type {{job: string, piece: string, board: LaidBoardReply | null, wrong: string, corner: string, to: string}} */
const hand = { job: '', piece: '', board: null, wrong: '', corner: '', to: '' };

export const readLaidScreen = () => {
  if (hand.job !== desk.route.job) begin();
  return jobPage({
    step: 'set-out',
    title: 'Read a laid corner',
    back: jobAddress(desk.route.job, 'staying-true'),
    // The field stays where it is in the page: a board's answer may come while another number is being typed.
    body: html` ${hand.board ? html`${plan()} ${entry(hand.board)}` : nothing} ${whichBoard()} ${hand.board ? nothing : plan()}
      <a class="button tall" href=${jobAddress(desk.route.job, 'staying-true')}>That is all ${icon('tick')}</a>
      <details class="sheet plain">
        <summary>${measuredWithWords(OF)}</summary>
        ${measuredWith(OF)}
      </details>`,
  });
};

/** At the board that was read last, where the hand is: on the whole floor a board is a thread. */
function begin() {
  Object.assign(hand, { job: desk.route.job, piece: '', board: null, wrong: '', corner: '', to: '' });
  const last = standingOnFloor(desk.job?.doc).at(-1);
  if (last) void chooseBoard(last.piece);
}

const whichBoard = () =>
  html` ${textField({ id: 'laid-piece', label: 'Which board?', value: hand.piece, take: chooseBoard, hint: 'Tap it on the plan, or type its number.' })}
    ${hand.wrong ? html`<p class="finding error">${hand.wrong}</p>` : nothing}
    ${hand.board ? html`<button class="button" @click=${otherBoard}>Show the whole plan</button>` : nothing}`;

/** The whole floor to tap a board on, or that board with the numbers of its corners. */
const plan = () =>
  html`<div class=${hand.board ? 'near-board' : ''}>
    ${
      desk.plan?.floor
        ? planDrawing({
            key: hand.board ? `laid-${hand.piece}` : 'laid',
            label: hand.board ? `Board ${hand.piece} and its corners` : 'Tap a laid board',
            room: desk.plan.room,
            floor: desk.plan.floor,
            axis: desk.job?.doc.floor.axis,
            progress: desk.job?.doc.progress,
            here: hand.piece,
            box: hand.board?.near,
            letters: hand.board?.letters,
            over: hand.board?.corners.map(({ at }, index) => drawnText({ text: String(index + 1), at, turn: 0 }, 'corner-number')),
            onPiece: chooseBoard,
          })
        : nothing
    }
  </div>`;

/** @param {string} piece */
async function chooseBoard(piece) {
  Object.assign(hand, { piece: piece.trim(), board: null, wrong: '', corner: '', to: '' });
  if (!hand.piece) return redraw();
  const reply = await askEngine({ ask: 'laid board', job: desk.job?.doc, piece: hand.piece, decimal: setting('decimal', '.') });
  if (hand.piece !== piece.trim()) return;
  if (reply.reply === 'laid board') {
    hand.board = /** @type {LaidBoardReply} */ (reply);
    hand.corner = reply.corners[0]?.name ?? '';
    nextTarget();
  } else hand.wrong = reply.findings?.[0]?.sentence ?? reply.message;
  redraw();
}

function otherBoard() {
  dropDraft('laid-piece');
  Object.assign(hand, { piece: '', board: null, wrong: '' });
  redraw();
}

const cornerNow = () => hand.board?.corners.find(({ name }) => name === hand.corner);
const targetNow = () => cornerNow()?.targets.find(({ to }) => to === hand.to);

/** The nearest wall or line that this corner was not read to. */
function nextTarget() {
  const corner = cornerNow();
  const read = standingOnFloor(desk.job?.doc).filter(
    ({ piece, end, side }) => piece === hand.piece && end === corner?.end && side === corner?.side,
  );
  const left = corner?.targets.find(({ to }) => !read.some((reading) => reading.to === to));
  hand.to = (left ?? corner?.targets[0])?.to ?? '';
}

/** @param {LaidBoardReply} board */
function entry(board) {
  if (!board.corners.length) return html`<p class="finding note">No corner of ${hand.piece} is left to read from. Choose another board.</p>`;
  return html` ${choice({
      id: 'laid-corner',
      label: `Corner of ${hand.piece}`,
      value: hand.corner,
      options: board.corners.map(({ name }, index) => /** @type {[string, string]} */ ([name, `${index + 1} ${name}`])),
      take: (name) => {
        hand.corner = name;
        nextTarget();
        redraw();
      },
    })}
    ${hand.to ? targetEntry(cornerNow()?.targets ?? []) : html`<p class="finding note">No tape reaches a wall or line from this corner. Choose another.</p>`}`;
}

/** @param {readonly LaidTarget[]} targets what the corner can be read to, and how far that is by the plan */
const targetEntry = (targets) =>
  html` ${select({
      id: 'laid-to',
      label: 'Shortest distance to',
      value: hand.to,
      options: targets.map(({ to, name, planned }) => /** @type {[string, string]} */ ([to, `${name}, planned ${planned} mm`])),
      take: (to) => {
        hand.to = to;
        redraw();
      },
    })}
    ${distance(targetNow())}
    <button class="button main tall" @click=${takeTyped}>Take it, next ${icon('next')}</button>`;

/** @param {LaidTarget | undefined} target */
const distance = (target) =>
  numberField({
    id: FIELD,
    label: `Distance from ${hand.piece} ${hand.corner} to ${target?.name ?? hand.to}`,
    unit: unitFor(OF),
    huge: true,
    hint: draftFault(FIELD) ? undefined : `planned ${target?.planned ?? '…'} mm`,
    take: () => false, // it is taken by its button, with the unit it was typed in
    onEnter: takeTyped,
  });

/** The text is kept as typed; what it means is the engine's to say. */
async function takeTyped() {
  const text = draftText(FIELD) ?? '';
  const corner = cornerNow();
  const read = readReading(text, unitFor(OF));
  if (read.sentence !== undefined) {
    setDraft(FIELD, text, read.sentence);
    return redraw();
  }
  if (!corner || !hand.to) return;
  const instrument = instrumentFor(OF);
  const words = `${hand.piece} ${corner.name} to ${targetNow()?.name ?? hand.to}: ${read.typed} ${read.unit}`;
  const reading = {
    typed: read.typed,
    unit: read.unit,
    instrument: instrument.name,
    time: new Date().toISOString(),
    piece: hand.piece,
    end: corner.end,
    side: corner.side,
    to: hand.to,
  };
  if (!(await change(addLaidReading(desk.job?.doc, reading, instrument), words))) return;
  dropDraft(FIELD);
  nextTarget();
  redraw();
  requestAnimationFrame(() => document.getElementById(FIELD)?.focus());
}
