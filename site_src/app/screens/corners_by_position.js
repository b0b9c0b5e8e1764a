// @ts-check
/** Why this file exists: two crossed laser lines give each corner an x and a y. */
import { addCorner, cornerNames, freeName, rectangle, removeCorner } from '../corner_edits.js';
import { change } from '../desk.js';
import { dropDraft, jobNumber, numberField, select, takeDraft, written } from '../parts/field.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';

/** The corner that is being entered. @type {{x: number | null, y: number | null, after: string}} */
const next = { x: null, y: null, after: '' };
/** @type {{wide: number | null, deep: number | null}} */
const rough = { wide: null, deep: null };

/** @param {any} room */
export const byPosition = (room) =>
  html` <p class="soft">
      Lay two laser lines square to each other: x to the right along one, y up along the other. Go round the room
      counter-clockwise.
    </p>
    ${cornerNames(room).length ? nothing : roughRoom()}
    ${room.corners ? Object.entries(room.corners).map(([name, at]) => cornerRow(room, name, /** @type {any} */ (at))) : nothing}
    ${newCorner(room)}`;

/** @param {any} room @param {string} name @param {[number, number]} at */
const cornerRow = (room, name, [x, y]) =>
  html` <section class="corner-row" aria-label="Corner ${name}">
    <h2>${name}</h2>
    ${jobNumber({ id: `x-${name}`, label: `${name}, x mm`, unit: '', value: x, path: ['room', 'corners', name, 0] })}
    ${jobNumber({ id: `y-${name}`, label: `${name}, y mm`, unit: '', value: y, path: ['room', 'corners', name, 1] })}
    <button
      class="button bare"
      aria-label="Take out corner ${name}"
      @click=${() => change(removeCorner(room, name), `Corner ${name} taken out`)}
    >
      ${icon('gone')}
    </button>
  </section>`;

/** @param {any} room */
function newCorner(room) {
  const name = freeName(room);
  const names = cornerNames(room);
  const last = names.at(-1) ?? '';
  const add = () => void takeNew(room, name, names.includes(next.after) ? next.after : undefined);
  return html` <section class="sheet" aria-label="New corner">
    <h2>New corner ${name}</h2>
    <div class="pair">
      ${numberField({
        id: 'x-new',
        label: `${name}, x`,
        value: next.x,
        take: (value) => {
          next.x = value;
        },
      })}
      ${numberField({
        id: 'y-new',
        label: `${name}, y`,
        value: next.y,
        take: (value) => {
          next.y = value;
        },
        onEnter: add,
      })}
    </div>
    ${
      names.length > 2
        ? select({
            id: 'after',
            label: 'It comes after',
            value: names.includes(next.after) ? next.after : last,
            options: names.map((each) => [each, each]),
            take: (after) => {
              next.after = after;
            },
          })
        : nothing
    }
    <button class="button main" @click=${add}>Add corner ${name}</button>
  </section>`;
}

/** @param {any} room @param {string} name @param {string | undefined} after */
async function takeNew(room, name, after) {
  const fields = [
    {
      id: 'x-new',
      label: 'x',
      take: (/** @type {any} */ value) => {
        next.x = value;
      },
    },
    {
      id: 'y-new',
      label: 'y',
      take: (/** @type {any} */ value) => {
        next.y = value;
      },
    },
  ];
  for (const field of fields) if (!(await takeDraft(field))) return;
  const { x, y } = next;
  if (x === null || y === null) return document.getElementById(x === null ? 'x-new' : 'y-new')?.focus();
  if (!(await change(addCorner(room, name, [x, y], after), `Corner ${name} at ${written(x)}, ${written(y)}`))) return;
  Object.assign(next, { x: null, y: null, after: '' });
  dropDraft('x-new');
  requestAnimationFrame(() => document.getElementById('x-new')?.focus());
}

const roughRoom = () =>
  html` <section class="sheet plain" aria-label="Start from a rectangle">
    <h2>Start from a rectangle</h2>
    <p class="small soft">Roughly, to be corrected corner by corner. Or leave it and enter the corners below.</p>
    <div class="pair">
      ${numberField({
        id: 'wide',
        label: 'Length along x',
        value: rough.wide,
        take: (value) => {
          rough.wide = value;
        },
      })}
      ${numberField({
        id: 'deep',
        label: 'Width along y',
        value: rough.deep,
        take: (value) => {
          rough.deep = value;
        },
      })}
    </div>
    <button class="button" @click=${takeRough}>Start from this rectangle</button>
  </section>`;

async function takeRough() {
  if (
    !(await takeDraft({
      id: 'wide',
      label: '',
      take: (value) => {
        rough.wide = value;
      },
    }))
  )
    return;
  if (
    !(await takeDraft({
      id: 'deep',
      label: '',
      take: (value) => {
        rough.deep = value;
      },
    }))
  )
    return;
  const { wide, deep } = rough;
  if (!wide || !deep) return document.getElementById(wide ? 'deep' : 'wide')?.focus();
  if (await change(rectangle(wide, deep), `Rectangle ${written(wide)} by ${written(deep)}`))
    Object.assign(rough, { wide: null, deep: null });
}
