// @ts-check
/** Why this file exists: the job and its sheets leave the phone here; an exported file is the only real backup. */
import { attempt, change, desk, setting } from '../desk.js';
import { textField } from '../parts/field.js';
import { jobPage, redoButton, undoButton } from '../parts/frame.js';
import { html } from '../parts/lit.js';
import { labelSheet } from '../parts/label_sheet.js';
import { fileName, sendFiles } from '../share.js';
import { labels, prepareSheets, sheetNow } from '../sheets.js';

const TO_PRINT = /** @type {Sheet[]} */ ([
  ['setting-out.pdf', 'Setting-out sheet', 'lines to strike with their distances, first boards, which way round, order of laying'],
  ['cuts.pdf', 'Cut list', 'a line and a picture for each piece to cut, wall by wall, to tick off'],
  ['saw.pdf', 'Cut list in saw order', 'the same pieces as the saw is set for them, with stops'],
  ['plan.pdf', 'Plan', 'the whole floor, then its parts with the name of each piece to cut'],
  ['corners.pdf', 'Corner templates', 'notches, holes and corners of two cuts at full size, to mark along'],
  ['scribes.pdf', 'Scribe strips', 'curved cuts at full size, to mark along'],
  ['labels.pdf', 'Labels', 'one for each piece not fitted yet: name, board, lengths, which end is which'],
]);
const FOR_PROGRAMS = /** @type {Sheet[]} */ ([
  ['cuts.csv', 'Cut list', 'one row per piece to cut, for a spreadsheet'],
  ['plan.svg', 'Drawing', 'the plan to scale'],
  ['pieces.svg', 'Drawing of the pieces', 'each piece to cut at full size, inside its board'],
  ['plan.dxf', 'CAD drawing', 'the plan at full size in layers, DXF release 12'],
  ['pieces.dxf', 'CAD drawing of the pieces', 'each piece to cut at full size, inside its board'],
  ['plan.json', 'Plan file', 'every piece with its outline'],
]);

/** File name, what it is called, what is on it. @typedef {readonly [string, string, string]} Sheet */
const NAMES = [...TO_PRINT, ...FOR_PROGRAMS].map(([name]) => name);

export const moreScreen = () => {
  void prepareSheets(NAMES);
  return jobPage({
    step: '',
    title: 'Files and more',
    back: `#/job/${encodeURIComponent(desk.route.job)}/plan`,
    body: html` ${textField({ id: 'name', label: 'Name of this job', value: desk.job?.doc.name ?? '', take: rename })}
      <h2>Take with you</h2>
      ${exportState()}
      <button class="button main tall" @click=${sendJob}>Job file</button>
      <p class="small soft">Opens in this app anywhere: Jobs, “Bring in a job file”.</p>
      <h3>To print</h3>
      <ul class="list">
        ${TO_PRINT.map(sheetLine)}
      </ul>
      <p class="small soft">For ${setting('paper', 'A4')} paper; Settings changes that. Print at actual size.</p>
      ${labelSheet(labels)}
      <h3>For other programs</h3>
      <ul class="list">
        ${FOR_PROGRAMS.map(sheetLine)}
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

/** @param {Sheet} sheet */
const sheetLine = ([file, words, what]) => {
  const made = sheetNow(file);
  return html` <li>
    <button class="open" ?disabled=${!made?.content} @click=${() => sendSheet(file)}>
      <span class="name">${words} (${file})</span>
      <span class="small soft">${made?.sentence ?? what}</span>
      <span class="small">${made ? (made.size ?? '') : waiting()}</span>
    </button>
  </li>`;
};

const waiting = () => (desk.engine === 'failed' ? 'the engine has stopped' : 'being made…');

/** @param {string} name */
const rename = (name) => name !== desk.job?.doc.name && change([{ path: ['name'], value: name }], `Name: ${name}`);

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
    const content = sheetNow(file)?.content;
    if (!content) return;
    const sent = await sendFiles([{ name: fileName(desk.job?.doc.name ?? '', file), ...content }]);
    if (sent.done) desk.said = sent.how === 'shared' ? 'Shared' : `Saved: ${file}`;
  });
