// @ts-check
/** Why this file exists: the first screen. Jobs on this phone, and every way to get one here. */
import { attempt, desk, redraw } from '../desk.js';
import { textField } from '../parts/field.js';
import { page } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing, svg } from '../parts/lit.js';
import { useNewVersion } from '../parts/new_version.js';
import { goTo, jobAddress } from '../routes.js';
import { sendFiles } from '../share.js';

/** @typedef {import('../store/heads.js').JobLine} JobLine */

export const jobsScreen = () =>
  page({
    title: 'Jobs',
    body: html` ${desk.jobs.length ? nothing : welcome()}
      ${
        desk.jobs.length
          ? html`<ul class="list">
              ${desk.jobs.map(jobLine)}
            </ul>`
          : installHint()
      }
      <div class="row">
        <a class="button main grow tall" href="#/start">${icon('plus')} Start a job</a>
      </div>
      <div class="row">
        <button class="button grow" @click=${openDemo}>Open the demo job</button>
        <span class="button grow file"
          >Bring in a job file
          <input type="file" accept=".json,application/json" aria-label="Bring in a job file" @change=${bringIn}
        /></span>
        ${desk.bin.length ? html`<a class="button grow" href="#/bin">Bin (${desk.bin.length})</a>` : nothing}
      </div>
      ${unreadable()} ${readiness()} ${desk.jobs.length ? installHint() : nothing}`,
  });

const welcome = () =>
  html` <section>
    ${lettering}
    <h2>A patterned wood floor for a room that is out of true.</h2>
    <p>Measure the room as it is, place the pattern, and take each cut along the walls to the saw.</p>
  </section>`;

const lettering = svg`
  <svg class="lettering" viewBox="0 0 320 150" role="img" aria-label="A room with bowed walls and a straight chalk line through it">
    <path class="hair" d="M24 20H300V132H24Z" />
    <path class="heavy" d="M24 22C110 34 210 30 302 16C294 54 306 96 298 134C200 122 120 138 22 130C30 96 16 56 24 22Z" />
    <path class="hair" d="M112 128L162 78L212 128M112 98L162 48L212 98M112 68L152 28M212 68L172 28M82 128L162 48L242 128M52 128L152 28M272 128L172 28" />
    <path class="chalked" d="M162 8V144" />
  </svg>`;

/** @param {JobLine} job */
const jobLine = (job) =>
  html` <li>
    <a class="open" href=${jobAddress(job.id, 'plan')}>
      <span class="name">${job.damaged ? 'A damaged job' : job.name || 'No name'}</span>
      <span class="small soft"
        >${job.damaged ? 'Open it: what can be read is put together anew.' : whenChanged(job)}</span
      >
    </a>
    <button class="button bare" aria-label="Put ${job.name || 'this job'} in the bin" @click=${() => bin(job)}>
      ${icon('gone')}
    </button>
  </li>`;

/** @param {JobLine} job */
function whenChanged({ changed, sinceExport }) {
  const when = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' }).format(changed);
  return sinceExport > 0 ? `Changed ${when}. Not exported since.` : `Changed ${when}. Exported.`;
}

/** What was set aside is never deleted: whoever can read it may still save a measure from it. */
const unreadable = () =>
  desk.unreadable
    ? html` <section class="sheet plain" aria-label="Records that could not be read">
        <p>
          ${desk.unreadable === 1 ? '1 stored record' : `${desk.unreadable} stored records`} could not be read. Nothing of
          it was deleted.
        </p>
        <button class="button" @click=${saveUnreadable}>Save to a file</button>
      </section>`
    : nothing;

const saveUnreadable = () =>
  attempt(async () => {
    const text = await desk.store?.exportQuarantine();
    if (text === undefined) return;
    const sent = await sendFiles([{ name: 'unreadable-records.txt', text }]);
    if (sent.done) desk.said = sent.how === 'shared' ? 'Shared' : 'Saved: unreadable-records.txt';
  });

const readiness = () =>
  html` <p class="sheet plain small" id="readiness" data-ready=${desk.offline?.ready ? 'yes' : 'no'}>
    <strong>${desk.offline?.sentence ?? 'Looking whether the app works without signal…'}</strong>
    ${useNewVersion()}
  </p>`;

const isInstalled = () => matchMedia('(display-mode: standalone)').matches;

const installHint = () =>
  isInstalled()
    ? nothing
    : html` <section class="sheet plain">
        <h2>Put it on the home screen first</h2>
        <p class="small">
          Do this before you enter a room: on some phones the app on the home screen keeps its jobs apart from the
          browser. Use the browser's menu: “Add to Home Screen” or “Install”.
        </p>
        ${desk.install ? html`<button class="button" @click=${install}>Install</button>` : nothing}
      </section>`;

async function install() {
  const question = desk.install;
  desk.install = null;
  await question?.prompt();
  redraw();
}

/** @param {JobLine} job */
const bin = (job) =>
  attempt(async () => {
    await desk.store?.binJob(job.id);
    await listJobs();
    desk.said = `In the bin: ${job.name || 'No name'}`;
  });

export async function listJobs() {
  const { store } = desk;
  if (!store) return;
  [desk.jobs, desk.bin, desk.unreadable] = await Promise.all([store.listJobs(), store.listBin(), store.countQuarantine()]);
  redraw();
}

export const openDemo = () =>
  attempt(async () => {
    const reply = await fetch(new URL('../demo_job.json', import.meta.url));
    await bringInText(await reply.text());
  });

/** @param {Event} event */
function bringIn(event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const [file] = input.files ?? [];
  if (!file) return;
  void attempt(async () => {
    await bringInText(await file.text());
    input.value = '';
  });
}

/** @param {string} text */
async function bringInText(text) {
  const { store } = desk;
  if (!store) return;
  const { id, notes } = await store.importJob(text);
  desk.said = notes.join(' ');
  goTo(jobAddress(id, 'plan'));
}

const start = { name: '' };

export const startScreen = () =>
  page({
    title: 'Start a job',
    back: '#/jobs',
    body: html` <form @submit=${(/** @type {Event} */ event) => event.preventDefault()}>
      ${textField({
        id: 'job-name',
        label: 'Name of the room',
        value: start.name,
        take: (name) => {
          start.name = name;
        },
      })}
      <p class="soft">The corners and walls come next. Nothing has to be square.</p>
      <button class="button main tall" @click=${begin}>Measure the room</button>
    </form>`,
  });

const begin = () =>
  attempt(async () => {
    const { store } = desk;
    if (!store) return;
    const field = /** @type {HTMLInputElement | null} */ (document.getElementById('job-name'));
    const { id } = await store.createJob(emptyJob(field?.value ?? ''));
    start.name = '';
    goTo(jobAddress(id, 'corners'));
  });

/** @param {string} name */
const emptyJob = (name) => ({
  format: 'out-of-true job',
  version: 1,
  name,
  room: { corners: {}, walls: [], ties: [], fixed: [] },
  floor: { pattern: 'herringbone', board: { length: 600, width: 90, thickness: 14 }, axis: 90, anchor: [0, 0] },
  cutting: { kerf: 2.4, gap_tolerance: 2, sliver: 20, saw_step: 0.5 },
});

export const binScreen = () =>
  page({
    title: 'Bin',
    back: '#/jobs',
    body: html` ${
      desk.bin.length
        ? html` <ul class="list">
              ${desk.bin.map(
                (job) =>
                  html` <li>
                    <span class="open"><span class="name">${job.name || 'No name'}</span></span>
                    <button class="button" @click=${() => takeOut(job)}>Take out</button>
                  </li>`,
              )}
            </ul>
            <p class="soft small">Deleting is for good. Export what you may want again first.</p>
            <button class="button" @click=${deleteAll}>Delete all in the bin</button>`
        : html`<p>The bin is empty.</p>`
    }`,
  });

/** @param {JobLine} job */
const takeOut = (job) =>
  attempt(async () => {
    await desk.store?.restoreJob(job.id);
    await listJobs();
  });

const deleteAll = () =>
  attempt(async () => {
    if (!confirm('Delete these jobs for good?')) return;
    await desk.store?.emptyBin();
    await listJobs();
  });
