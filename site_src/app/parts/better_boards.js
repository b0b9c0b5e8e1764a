// @ts-check
/**
 * Why this file exists: a longer search may save a board. It is asked for slice by slice, so that a tap and every
 * other question get through; what it found goes into the job as one step, which undo takes back.
 */
import { desk, isPlanCurrent, planKey, put, redraw, setting } from '../desk.js';
import { askEngine } from '../thinking.js';
import { figureGrid } from './figure.js';
import { html, nothing } from './lit.js';

/** @typedef {import('../messages.js').ImproveReply} ImproveReply */

/** The one search there is. @type {{job: string, of: string, reply: ImproveReply | null, wrong: string, running: boolean}} */
const search = { job: '', of: '', reply: null, wrong: '', running: false };

/** Whether boards can be saved, and the search for them. */
export function betterBoards() {
  const saving = desk.plan?.saving;
  if (!saving) return nothing;
  const mine = search.job === desk.job?.id;
  return html` <section class="sheet" aria-label="Saving boards">
    ${mine && search.running ? running(search.reply) : resting(saving, mine)}
  </section>`;
}

/** @param {any} saving @param {boolean} mine */
const resting = (saving, mine) =>
  html` ${mine && isTrueStill() ? html`<p aria-live="polite">${search.reply?.words}</p>` : nothing}
    ${mine && search.wrong ? html`<p class="finding warning">${search.wrong}</p>` : nothing}
    ${isPlanCurrent() ? html`<p>${saving.words}</p>` : nothing}
    ${
      saving.can_be_sought && isPlanCurrent()
        ? html`<button class="button tall" ?disabled=${search.running} @click=${() => void look()}>Look for boards to save</button>`
        : nothing
    }`;

/** Has the job what the search found, or is it as it was when nothing was found? */
const isTrueStill = () =>
  search.reply?.saved ? JSON.stringify(desk.job?.doc.shared_boards) === JSON.stringify(search.reply.together) : isSame();

/** @param {ImproveReply | null} reply */
const running = (reply) =>
  html` ${reply ? figureGrid(reply.figures) : nothing}
    <p>${reply?.words ?? 'Looking…'}</p>
    <progress max="1" value=${reply?.part ?? 0} aria-label="How far the search is"></progress>
    <button class="button tall" @click=${() => void (search.running = false)}>Stop</button>`;

/** Slice after slice until it ends, is stopped, or the job is another. */
async function look() {
  const { job } = desk;
  if (!job || search.running) return;
  Object.assign(search, { job: job.id, of: planKey(job.doc), reply: null, wrong: '', running: true });
  redraw();
  const start = performance.now();
  for (let number = 0; search.running; number += 1) {
    const reply = /** @type {any} */ (
      await askEngine({
        ask: 'improve',
        job: job.doc,
        together: search.reply?.together ?? [],
        number,
        seconds: (performance.now() - start) / 1000,
        decimal: setting('decimal', '.'),
      })
    );
    take(reply);
    redraw();
  }
  if (isSame() && search.reply?.saved) await put(['shared_boards'], search.reply.together, search.reply.words);
}

/** @param {any} reply */
function take(reply) {
  if (!isSame()) Object.assign(search, { reply: null, running: false });
  else if (reply.reply === 'improve') Object.assign(search, { reply, running: search.running && !reply.is_done });
  else {
    const wrong = reply.findings?.map((/** @type {any} */ { sentence }) => sentence).join(' ') ?? reply.message;
    Object.assign(search, { wrong, running: false });
  }
}

/** Is the job still the one that the search is for? */
const isSame = () => desk.job !== null && desk.job.id === search.job && planKey(desk.job.doc) === search.of;
