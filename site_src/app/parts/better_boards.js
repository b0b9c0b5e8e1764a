// @ts-check
/**
 * Why this file exists: a solver may find a board less, or prove that there is none. The engine writes its programmes
 * and looks at what it found; here they are carried from one to the other, beside everything else that is asked.
 * A board less is shown before it is taken, as one step, which undo takes back.
 */
import { change, desk, isPlanCurrent, planKey, PROOF_KEPT, redraw, setting } from '../desk.js';
import { openSolver } from '../solver.js';
import { askEngine } from '../thinking.js';
import { figureGrid } from './figure.js';
import { html, nothing } from './lit.js';

/** @typedef {import('../messages.js').ImproveReply} ImproveReply */
/** @typedef {import('../solver.js').Solved} Solved */
/** @typedef {import('../solver.js').SoFar} SoFar */

/**
 * The one search there is; `solver` while it runs, `told` once the job has what it found.
 * @type {{job: string, of: string, start: number, solved: Solved[], reply: ImproveReply | null, told: string,
 *   wrong: string, solver: import('../solver.js').Solver | null}}
 */
const search = { job: '', of: '', start: 0, solved: [], reply: null, told: '', wrong: '', solver: null };

/** Whether boards can be saved, and the search for them. */
export function betterBoards() {
  const saving = desk.plan?.saving;
  if (!saving) return nothing;
  const mine = search.job === desk.job?.id;
  return html` <section class="sheet" aria-label="Saving boards">
    ${mine && search.solver ? running(search.reply) : resting(saving, mine)}
  </section>`;
}

/** @param {any} saving @param {boolean} mine */
function resting(saving, mine) {
  if (mine && isSame() && search.reply) return result(search.reply);
  const told = mine && isSame() && search.told;
  return html` ${mine && search.wrong ? html`<p class="finding warning">${search.wrong}</p>` : nothing}
    ${told ? html`<p aria-live="polite">${told}</p>` : nothing}
    ${isPlanCurrent() && !told ? html`<p>${saving.words}</p>` : nothing}
    ${
      saving.can_be_sought && isPlanCurrent()
        ? html`<button class="button tall" ?disabled=${Boolean(search.solver)} @click=${() => void look()}>Look for boards to save</button>`
        : nothing
    }`;
}

/** @param {ImproveReply} reply */
const result = (reply) =>
  html` ${figureGrid(reply.figures)}
    <p aria-live="polite">${reply.words}</p>
    ${reply.saved ? html`<button class="button tall" @click=${() => void take(reply)}>Take these boards</button>` : nothing}`;

/** @param {ImproveReply | null} reply */
const running = (reply) =>
  html` ${reply ? figureGrid(reply.figures) : nothing}
    <p>${reply?.words ?? 'Looking…'}</p>
    <progress max="1" value=${reply?.part ?? 0} aria-label="How far the search is"></progress>
    <button class="button tall" @click=${stop}>Stop</button>`;

/** Programme after programme until the engine has no more, or it is stopped, or the job is another. */
async function look() {
  const { job } = desk;
  if (!job || search.solver) return;
  const solver = openSolver();
  const of = planKey(job.doc);
  Object.assign(search, { job: job.id, of, start: performance.now(), solved: [], reply: null, told: '', wrong: '', solver });
  redraw();
  try {
    while (search.solver === solver && !search.reply?.is_done) await goOn(solver, job.doc);
  } catch (fault) {
    if (search.solver === solver) search.wrong = `The search stopped: ${/** @type {Error} */ (fault).message}. The job is as it was.`;
  }
  if (search.solver !== solver) return;
  stop();
  const { reply } = search;
  if (reply && !reply.saved && proofEdits(reply).length) await keep(reply, proofEdits(reply), PROOF_KEPT);
}

/** @param {import('../solver.js').Solver} solver @param {any} doc */
async function goOn(solver, doc) {
  await ask(solver, doc, null);
  const text = search.solver === solver ? search.reply?.programme : '';
  if (!text) return;
  let isAsking = false;
  const solved = await solver.solve(text, async (news) => {
    if (isAsking) return;
    isAsking = true;
    await ask(solver, doc, news);
    isAsking = false;
  });
  search.solved = [...search.solved, solved];
}

/** @param {import('../solver.js').Solver} solver @param {any} doc @param {SoFar | null} news */
async function ask(solver, doc, news) {
  const { solved } = search;
  const seconds = (performance.now() - search.start) / 1000;
  const reply = /** @type {any} */ (
    await askEngine({ ask: 'improve', job: doc, solved, under_way: news, seconds, decimal: setting('decimal', '.') })
  );
  if (search.solver !== solver) return;
  if (!isSame()) return stop();
  if (reply.reply === 'improve') {
    // What comes late is of a programme that is solved by now.
    if (solved === search.solved) search.reply = reply;
    return redraw();
  }
  throw new Error(reply.findings?.map((/** @type {any} */ { sentence }) => sentence).join(' ') ?? reply.message);
}

function stop() {
  search.solver?.end();
  search.solver = null;
  if (!search.reply?.is_done) search.reply = null;
  redraw();
}

/** @param {ImproveReply} reply */
const take = (reply) => keep(reply, [{ path: ['shared_boards'], value: reply.together }, ...proofEdits(reply)], reply.words);

/** @param {ImproveReply} reply @param {import('../desk.js').Edit[]} edits @param {string} words */
async function keep(reply, edits, words) {
  if (!isSame() || !(await change(edits, words)) || desk.job?.id !== search.job) return;
  Object.assign(search, { of: planKey(desk.job.doc), reply: null, told: reply.words });
  redraw();
}

/** @param {ImproveReply} reply */
const proofEdits = ({ proofs }) =>
  Object.keys(proofs).length ? [{ path: ['proven_boards'], value: { ...desk.job?.doc.proven_boards, ...proofs } }] : [];

/** Is the job still the one that the search is for? */
const isSame = () => desk.job !== null && desk.job.id === search.job && planKey(desk.job.doc) === search.of;
