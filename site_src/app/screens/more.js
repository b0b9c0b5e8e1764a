// @ts-check
/** Why this file exists: the job and its sheets leave the phone here; an exported file is the only real backup. */
import { attempt, change, desk, redraw } from '../desk.js';
import { textField } from '../parts/field.js';
import { jobPage, redoButton, undoButton } from '../parts/frame.js';
import { html } from '../parts/lit.js';
import { fileName, sendFiles } from '../share.js';
import { askEngine } from '../thinking.js';

const SHEETS = /** @type {const} */ ([
  ['plan.json', 'Plan file', 'every piece with its outline'],
  ['cuts.csv', 'Cut list', 'one row per piece to cut, for a spreadsheet'],
  ['plan.svg', 'Drawing', 'the plan to scale'],
]);

/** Sheets as computed for one state of one job. @type {{of: string, files: Record<string, string> | null, asking: boolean}} */
const sheets = { of: '', files: null, asking: false };
const stateNow = () => `${desk.job?.id} ${desk.job?.seq}`;

export const moreScreen = () => {
  void prepareSheets();
  return jobPage({
    step: '',
    title: 'Files and more',
    back: `#/job/${encodeURIComponent(desk.route.job)}/plan`,
    body: html` ${textField({ id: 'name', label: 'Name of this job', value: desk.job?.doc.name ?? '', take: rename })}
      <h2>Take with you</h2>
      ${exportState()}
      <button class="button main tall" @click=${sendJob}>Job file</button>
      <p class="small soft">Opens in this app anywhere: Jobs, “Bring in a job file”.</p>
      <ul class="list">
        ${SHEETS.map(sheetLine)}
      </ul>
      <h2>Changes</h2>
      <div class="row">${undoButton()} ${redoButton()}</div>
      <a class="button" href="#/settings">Settings and about</a>`,
  });
};

function exportState() {
  const count = desk.job?.sinceExport ?? 0;
  const words =
    count > 0
      ? `${count === 1 ? '1 change is' : `${count} changes are`} on this phone only. An exported file is the only backup.`
      : 'The last exported file holds everything.';
  return html`<p class="finding ${count > 20 ? 'warning' : 'note'}">${words}</p>`;
}

/** @param {readonly [string, string, string]} sheet */
const sheetLine = ([file, words, what]) =>
  html` <li>
    <button class="open" ?disabled=${!sheets.files} @click=${() => sendSheet(file)}>
      <span class="name">${words} (${file})</span><span class="small soft">${sheets.files ? what : sheetsWait()}</span>
    </button>
  </li>`;

const sheetsWait = () =>
  desk.engine === 'ready' && !sheets.asking
    ? 'cannot be computed yet: see the findings on the plan'
    : 'being computed…';

/** @param {string} name */
const rename = (name) => name !== desk.job?.doc.name && change([{ path: ['name'], value: name }], `Name: ${name}`);

/** Asked for ahead of the tap: a share sheet opens only straight from a tap. */
async function prepareSheets() {
  const { job } = desk;
  if (!job || sheets.of === stateNow()) return;
  Object.assign(sheets, { of: stateNow(), files: null, asking: true });
  const mine = sheets.of;
  const reply = await askEngine({ ask: 'sheets', job: job.doc });
  if (sheets.of !== mine) return;
  Object.assign(sheets, { asking: false, files: reply.reply === 'sheets' ? reply.files : null });
  redraw();
}

const sendJob = () =>
  attempt(async () => {
    const { store, job } = desk;
    if (!store || !job) return;
    const { text, name, seq } = await store.exportJob(job.id);
    const sent = await sendFiles([{ name: fileName(name, 'job.json'), text }]);
    if (!sent.done) return;
    await store.markExported(job.id, seq);
    desk.job = await store.openJob(job.id);
    desk.said = sent.how === 'shared' ? 'Job file shared' : 'Job file saved';
  });

/** @param {string} file */
const sendSheet = (file) =>
  attempt(async () => {
    const text = sheets.files?.[file];
    if (text === undefined) return;
    const sent = await sendFiles([{ name: fileName(desk.job?.doc.name ?? '', file), text }]);
    if (sent.done) desk.said = sent.how === 'shared' ? 'Shared' : `Saved: ${file}`;
  });
