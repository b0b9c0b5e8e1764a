// @ts-check
/**
 * Why this file exists: a share sheet opens only straight from a tap, so files
 * are made ahead of it, one after the other: a fault in one costs that one.
 */
import { desk, redraw, setting } from './desk.js';
import { labelsAsked } from './parts/label_sheet.js';
import { askEngine } from './thinking.js';

/** @typedef {Omit<import('./share.js').OutgoingFile, 'name'>} Content */
/** Made for one state of one job: `content` and its `size`, or a `sentence` that says why there is none. */
/** @typedef {{of: string, content?: Content, size?: string, sentence?: string}} Made */

/** @type {Map<string, Made>} */
const made = new Map();
/** The label sheets there are, and why there are no labels. */
export const labels = { grids: /** @type {string[]} */ ([]), fault: '' };
let isAtWork = false;

/** @param {string} name */
const askedFor = (name) => ({
  only: [name],
  paper: setting('paper', 'A4'),
  decimal: setting('decimal', '.'),
  ...(name === 'labels.pdf' ? labelsAsked() : {}),
});
/** @param {string} name */
const stateNow = (name) => JSON.stringify([desk.job?.id, desk.job?.seq, askedFor(name)]);

/** A file as it is for the job now; undefined while it still has to be made. @param {string} name */
export const sheetNow = (name) => {
  const file = made.get(name);
  return file?.of === stateNow(name) ? file : undefined;
};

/** Make what is not made yet, in that order, as long as it is wanted. @param {readonly string[]} names */
export async function prepareSheets(names) {
  if (isAtWork) return;
  isAtWork = true;
  try {
    for (let name = nextOf(names); name; name = nextOf(names)) await make(name);
  } finally {
    isAtWork = false;
  }
}

/** @param {readonly string[]} names */
const nextOf = (names) =>
  desk.job && desk.route.screen === 'more' && desk.engine !== 'failed' ? names.find((name) => !sheetNow(name)) : undefined;

/** @param {string} name */
async function make(name) {
  const of = stateNow(name);
  const reply = await askEngine({ ask: 'sheets', job: desk.job?.doc, ...askedFor(name) });
  made.set(name, { of, ...read(name, reply) });
  redraw();
}

/** @param {string} name @param {any} reply @returns {Omit<Made, 'of'>} */
function read(name, reply) {
  if (reply.reply === 'refused') return { sentence: 'cannot be computed yet: see the findings on the plan' };
  if (reply.reply !== 'sheets') return { sentence: `could not be made (${reply.name}: ${reply.message}). The job is saved.` };
  labels.grids = reply.label_grids;
  if (name === 'labels.pdf') labels.fault = reply.findings.find((/** @type {any} */ { path }) => path === 'labels')?.sentence ?? '';
  const size = reply.sizes[name];
  if (name in reply.files) return { content: { text: reply.files[name] }, size };
  if (name in reply.binary_files) return { content: { base64: reply.binary_files[name] }, size };
  return { sentence: name === 'labels.pdf' ? 'see the label sheet below' : 'no piece needs one' };
}
