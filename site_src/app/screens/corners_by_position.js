// @ts-check
/** Why this file exists: two crossed laser lines give each corner an x and a y. */
import { cornerNames, hasPlace, rectangle, removeCorner } from '../corner_edits.js';
import { change, desk } from '../desk.js';
import { jobNumber, numberField, select, takeDraft, written } from '../parts/field.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { askAgain } from '../parts/reading_entry.js';
import { typedText } from '../parts/taken_table.js';
import { goTo, jobAddress } from '../routes.js';
import { placeReading } from '../survey_edits.js';

/** @type {{wide: number | null, deep: number | null}} */
const rough = { wide: null, deep: null };

/** @param {any} doc */
export const byPosition = (doc) => {
  const names = cornerNames(doc);
  return html` <p class="soft">
      Lay two laser lines square to each other: x to the right along one, y up along the other. Go round the room
      counter-clockwise.
    </p>
    <a class="button main tall" href=${jobAddress(desk.route.job, 'read', 'corners')}
      >${names.length ? 'Measure more corners' : 'Measure corner by corner'}</a
    >
    ${names.length ? nothing : roughRoom()}
    ${names.some((name) => placeReading(doc, name, 'x')) ? html`<p class="small soft">Tap a figure to read it again.</p>` : nothing}
    ${names.map((name) => cornerRow(doc, name))}
    ${names.length > 2 ? between(names) : nothing}`;
};

/** @param {any} doc @param {string} name */
const cornerRow = (doc, name) =>
  html` <section class="corner-row" aria-label="Corner ${name}">
    <h2>${name}</h2>
    ${coordinate(doc, name, 'x')} ${coordinate(doc, name, 'y')}
    <button
      class="button bare"
      aria-label="Take out corner ${name}"
      @click=${() => change(removeCorner(doc, name), `Corner ${name} taken out`)}
    >
      ${icon('gone')}
    </button>
  </section>`;

/** As read, to be read again; as typed into an older file, to be corrected there. @param {any} doc @param {string} name @param {'x' | 'y'} axis */
function coordinate(doc, name, axis) {
  const reading = placeReading(doc, name, axis);
  const place = doc.room.corners?.[name];
  if (reading) return readCoordinate(reading, name, axis);
  if (!place) return html`<p class="soft">${hasPlace(doc, name, axis) ? '' : 'by lengths'}</p>`;
  const index = axis === 'x' ? 0 : 1;
  return jobNumber({ id: `${axis}-${name}`, label: `${name}, ${axis} mm`, unit: '', signed: true, value: place[index], path: ['room', 'corners', name, index] });
}

/** @param {any} reading @param {string} name @param {string} axis */
const readCoordinate = (reading, name, axis) =>
  html` <button
    class="figure"
    @click=${() => {
      const address = jobAddress(desk.route.job, 'read', 'corners');
      askAgain(address, reading, `Corner ${name}, ${axis}`);
      goTo(address);
    }}
  >
    <span class="label">${name}, ${axis}</span><span class="value">${typedText(reading)}</span>
  </button>`;

/** Where the next corner goes when it is not the last. */
const between = (/** @type {string[]} */ names) =>
  select({
    id: 'after',
    label: 'A corner was left out',
    value: '',
    options: [['', 'none'], ...names.map((name, index) => /** @type {[string, string]} */ ([name, `between ${name} and ${names[(index + 1) % names.length]}`]))],
    take: (name) => name && goTo(jobAddress(desk.route.job, 'read', 'corners', 'after', name)),
  });

const ROUGH = /** @type {const} */ ([
  ['wide', 'Length along x'],
  ['deep', 'Width along y'],
]);

/** @param {'wide' | 'deep'} key @param {string} label */
const roughField = (key, label) => ({
  id: key,
  label,
  value: rough[key],
  take: (/** @type {number | null} */ value) => {
    rough[key] = value;
  },
});

const roughRoom = () =>
  html` <section class="sheet plain" aria-label="Start from a rectangle">
    <h2>Or start from a rectangle</h2>
    <p class="small soft">Roughly, to be corrected corner by corner.</p>
    <div class="pair">${ROUGH.map(([key, label]) => numberField(roughField(key, label)))}</div>
    <button class="button" @click=${takeRough}>Start from this rectangle</button>
  </section>`;

async function takeRough() {
  for (const [key, label] of ROUGH) {
    if (!(await takeDraft(roughField(key, label)))) return;
    if (!rough[key]) return document.getElementById(key)?.focus();
  }
  const { wide, deep } = /** @type {{wide: number, deep: number}} */ (rough);
  if (await change(rectangle(wide, deep), `Rectangle ${written(wide)} by ${written(deep)}`))
    Object.assign(rough, { wide: null, deep: null });
}
