// @ts-check
/** Why this file exists: which tools there are, what the mitre saw can be set to, and how boards are marked. */
import { desk, putInto, redraw } from '../desk.js';
import { cuttingNumber } from '../parts/cutting_number.js';
import { choice, written } from '../parts/field.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { readNumber } from '../numbers.js';
import { jobAddress } from '../routes.js';

const TOOLS = /** @type {const} */ ([
  ['mitre saw', 'Mitre saw'],
  ['track saw', 'Track saw with its guide'],
  ['jigsaw', 'Jigsaw'],
  ['table saw', 'Table saw'],
]);
const USUAL_TOOLS = ['mitre saw', 'track saw', 'jigsaw'];
const USUAL_DETENTS = [15, 22.5, 30, 45];
const NUMBERS = /** @type {const} */ ([
  ['saw_step', 'Angle step', '°', 0.5, '0: any angle can be set.'],
  ['saw_error', 'May be off by, more or less', '°', 0, 'So much of the gap’s tolerance is left to it.'],
  ['largest_left', 'Largest angle to the left', '°', 50, ''],
  ['largest_right', 'Largest angle to the right', '°', 50, ''],
  ['saw_reach', 'Cuts across a board, at square', 'mm', 0, '0: not known. Turned, it reaches less.'],
  ['kerf', 'Kerf: what the blade takes', 'mm', 2.4, ''],
]);
const GUIDE = /** @type {const} */ (['guide', 'Guide’s edge to the blade', 'mm', 0, '0: the guide lies on the line itself.']);
const HAND = /** @type {const} */ (['hand_clearance', 'A hand stays off the blade by', 'mm', 150, 'A shorter piece is never held by hand.']);

const FACES = /** @type {const} */ ([
  ['up', 'Face up'],
  ['down', 'Face down'],
]);
const MARKED = /** @type {const} */ ([
  ['face', 'On the face'],
  ['back', 'On the back'],
]);
const ON_THE_BACK =
  'Cards, cut lists and labels name left and right as seen from the back, the start end towards you. Plan, laying order and files for other programs keep the face.';
const BLADE = /** @type {const} */ ([
  ['beyond the line', 'Beside the line'],
  ['half the line', 'On the line'],
]);

/** What the click-in angles were typed as, as long as they cannot be read. */
const detents = { text: '', fault: '' };

const cutting = () => desk.job?.doc.cutting ?? {};

/** @param {string} key @param {unknown} value @param {string} words */
const take = (key, value, words) => putInto('cutting', { [key]: value }, words);

export const toolsScreen = () =>
  jobPage({
    step: 'cut',
    title: 'Tools',
    back: jobAddress(desk.route.job, 'cut'),
    body: html` ${findings((path) => path.startsWith('cutting'))}
      <fieldset class="choice">
        <legend>At hand</legend>
        ${TOOLS.map(([key, words]) => tool(key, words))}
      </fieldset>
      <h2>Mitre saw</h2>
      <div class="pair">${NUMBERS.map(cuttingNumber)}</div>
      ${detentField()}
      ${pick('face', 'The board lies on it', FACES, 'up')}
      <h2>Track saw</h2>
      ${cuttingNumber(GUIDE)}
      <h2>Marking</h2>
      ${pick('marked_on', 'Boards are marked', MARKED, 'face')}
      ${cutting().marked_on === 'back' ? html`<p class="finding note">${ON_THE_BACK}</p>` : nothing}
      ${pick('blade_takes', 'The blade runs', BLADE, 'beyond the line')}
      <h2>Hands</h2>
      ${cuttingNumber(HAND)}
      <a class="way" href="#/cautions">Before you saw</a>`,
  });

/** @param {string} key @param {string} words */
const tool = (key, words) =>
  html` <label class="check"
    ><input type="checkbox" .checked=${tools().includes(key)} @change=${() => turn(key, words)} /><span
      >${words}</span
    ></label
  >`;

/** @returns {string[]} */
const tools = () => cutting().tools ?? USUAL_TOOLS;

/** @param {string} key @param {string} words */
function turn(key, words) {
  const has = tools().includes(key);
  const next = TOOLS.map(([each]) => each).filter((each) => (each === key ? !has : tools().includes(each)));
  return take('tools', next, `${words}: ${has ? 'no' : 'yes'}`);
}

/** @param {string} key @param {string} label @param {readonly (readonly [string, string])[]} options @param {string} usual */
const pick = (key, label, options, usual) =>
  choice({
    id: key,
    label,
    value: cutting()[key] ?? usual,
    options,
    take: (value) => take(key, value, `${label}: ${value}`),
  });

/** Several angles in one line, apart by spaces. */
const detentField = () =>
  html` <div class="field ${detents.fault ? 'wrong' : ''}">
    <label for="detents">Clicks in at</label>
    <div class="entry">
      <input
        id="detents"
        type="text"
        autocomplete="off"
        spellcheck="false"
        .value=${detents.fault ? detents.text : (cutting().detents ?? USUAL_DETENTS).map(written).join('  ')}
        @change=${(/** @type {Event} */ event) => readDetents(/** @type {HTMLInputElement} */ (event.target).value)}
      />
      <span class="unit">°</span>
    </div>
    ${detents.fault ? html`<span class="fault">${detents.fault}</span>` : html`<span class="hint">On both sides, with spaces between; square goes without saying.</span>`}
  </div>`;

/** @param {string} text */
async function readDetents(text) {
  const read = text.split(/[\s;/°]+/).filter(Boolean).map((text) => readNumber(text));
  const wrong = read.find(({ sentence }) => sentence !== undefined);
  Object.assign(detents, { text, fault: wrong?.sentence ?? '' });
  if (!wrong) await take('detents', read.map(({ value }) => value), `Clicks in at ${text.trim()}`);
  redraw();
}
