// @ts-check
/** Why this file exists: a corner that no laser line reaches is found with two tapes from two known corners. */
import { addCorner, cornerNames, freeName } from '../corner_edits.js';
import { attempt, change, desk, put, redraw } from '../desk.js';
import { numberField, select, takeDraft, written } from '../parts/field.js';
import { html, nothing } from '../parts/lit.js';
import { askEngine } from '../thinking.js';

/** @type {{first: string, second: string, one: number | null, two: number | null, point: [number, number] | null, which: string}} */
const fix = { first: '', second: '', one: null, two: null, point: null, which: '' };
const FIELDS = [
  {
    id: 'tape-one',
    label: '',
    take: (/** @type {number | null} */ value) => {
      fix.one = value;
      fix.point = null;
    },
  },
  {
    id: 'tape-two',
    label: '',
    take: (/** @type {number | null} */ value) => {
      fix.two = value;
      fix.point = null;
    },
  },
];

/** @param {any} room */
export function byTapes(room) {
  const names = Object.keys(room.corners ?? {});
  if (names.length < 2)
    return html`<p>
      Two corners must be known first. Enter them with two laser lines, or as A at 0, 0 and B at its distance along x.
    </p>`;
  const first = names.includes(fix.first) ? fix.first : names[0];
  const second =
    names.includes(fix.second) && fix.second !== first ? fix.second : (names.find((name) => name !== first) ?? '');
  const options = /** @type {[string, string][]} */ (names.map((name) => [name, name]));
  return html` <p class="soft">
      Measure from two known corners to the corner that is wanted. It lies on your left as you look from the first to
      the second.
    </p>
    <div class="pair">
      ${select({
        id: 'first',
        label: 'First corner',
        value: first,
        options,
        take: (name) => {
          Object.assign(fix, { first: name, point: null });
          redraw();
        },
      })}
      ${select({
        id: 'second',
        label: 'Second corner',
        value: second,
        options,
        take: (name) => {
          Object.assign(fix, { second: name, point: null });
          redraw();
        },
      })}
    </div>
    <div class="pair">
      ${numberField({ ...FIELDS[0], label: `From ${first}`, value: fix.one })}
      ${numberField({ ...FIELDS[1], label: `From ${second}`, value: fix.two, onEnter: () => find(room, first, second) })}
    </div>
    <button class="button main" @click=${() => find(room, first, second)}>Find the corner</button>
    ${fix.point ? found(room) : nothing}`;
}

/** @param {any} room @param {string} first @param {string} second */
async function find(room, first, second) {
  for (const field of FIELDS) if (!(await takeDraft(field))) return;
  if (fix.one === null || fix.two === null)
    return document.getElementById(fix.one === null ? 'tape-one' : 'tape-two')?.focus();
  await attempt(async () => {
    const reply = await askEngine({
      ask: 'two-tape fix',
      first: room.corners[first],
      second: room.corners[second],
      from_first: fix.one,
      from_second: fix.two,
    });
    fix.point = reply.reply === 'two-tape fix' ? reply.point : null;
    desk.wrong =
      reply.reply === 'refused' ? reply.findings.map((/** @type {any} */ { sentence }) => sentence).join(' ') : '';
    if (reply.reply === 'fault') desk.wrong = `The engine could not work this out: ${reply.message}`;
  });
}

/** @param {any} room */
function found(room) {
  const [x, y] = /** @type {[number, number]} */ (fix.point);
  const name = freeName(room);
  const options = /** @type {[string, string][]} */ ([
    [name, `new corner ${name}`],
    ...cornerNames(room).map((each) => [each, `corner ${each}`]),
  ]);
  const which = options.some(([key]) => key === fix.which) ? fix.which : name;
  return html` <section class="sheet" aria-label="Corner found">
    <h2>Found</h2>
    <p class="expression">x ${written(x)} mm<br />y ${written(y)} mm</p>
    ${select({
      id: 'which',
      label: 'This is',
      value: which,
      options,
      take: (key) => {
        fix.which = key;
        redraw();
      },
    })}
    <button class="button main" @click=${() => keep(room, which, [x, y])}>Keep it</button>
  </section>`;
}

/** @param {any} room @param {string} name @param {[number, number]} at */
async function keep(room, name, at) {
  const done =
    name in room.corners
      ? await put(['room', 'corners', name], at, `Corner ${name} by two tapes`)
      : await change(addCorner(room, name, at), `Corner ${name} by two tapes`);
  if (done) Object.assign(fix, { one: null, two: null, point: null, which: '' });
  redraw();
}
