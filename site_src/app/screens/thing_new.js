// @ts-check
/** Why this file exists: a thing is added by its kind first; then only what that kind needs is asked for. */
import { change, desk, redraw } from '../desk.js';
import { choice, numberField, takeDraft, textField } from '../parts/field.js';
import { html, nothing } from '../parts/lit.js';
import { goTo, jobAddress } from '../routes.js';
import { freeThingNames, KINDS, USUAL_GAP } from '../things.js';

/** @typedef {import('../things.js').Kind} Kind */

const FRESH = { kind: '', name: '', shape: 'round', place: 'lengths', undercut: 'no' };
/** @type {{kind: string, name: string, shape: string, place: string, undercut: string, numbers: Record<string, number | null>}} */
const draft = { ...FRESH, numbers: {} };

export const newThing = () => {
  const kind = KINDS.find(({ key }) => key === draft.kind);
  return kind ? sizeAndPlace(kind) : whichKind();
};

const whichKind = () =>
  html` <h2>What is it?</h2>
    <div class="tools wide" role="group" aria-label="What is it?">
      ${KINDS.map(({ key, words }) => html`<button class="button tall" @click=${() => choose({ kind: key })}>${words}</button>`)}
    </div>
    <p class="small soft">
      A threshold or an opening as long as a whole wall is set on that wall:
      <a class="way" href=${jobAddress(desk.route.job, 'room')}>Room, Walls</a>.
    </p>`;

/** @param {Partial<typeof draft>} chosen */
function choose(chosen) {
  Object.assign(draft, chosen);
  redraw();
}

/** @param {Kind} kind */
const shapeOf = ({ shape }) => (shape === 'either' ? draft.shape : shape);

/** @param {Kind} kind */
const sizeAndPlace = (kind) =>
  html` <div class="row between">
      <h2 class="grow">${kind.words}</h2>
      <button class="button" @click=${() => choose({ kind: '' })}>Another kind</button>
    </div>
    ${textField({ id: 'thing-name', label: 'Name', value: draft.name, hint: 'Empty: what it is.', take: (name) => void (draft.name = name) })}
    ${kind.shape === 'either' ? choice({ id: 'shape', label: 'Its shape', value: draft.shape, options: [['round', 'Round'], ['corners', 'With corners']], take: (shape) => choose({ shape }) }) : nothing}
    ${kind.kind === 'door lining' ? choice({ id: 'undercut', label: 'Sawn off below, so that the floor runs under it', value: draft.undercut, options: [['no', 'No'], ['yes', 'Yes, undercut']], take: (undercut) => choose({ undercut }) }) : nothing}
    ${choice({ id: 'place', label: 'Where it stands', value: draft.place, options: [['lengths', 'By lengths from corners'], ['xy', 'By x and y']], take: (place) => choose({ place }) })}
    <div class="pair">${fields(kind).map(([key, label]) => numberField({ ...fieldOf(key), label, signed: /^[xy]/.test(key), value: draft.numbers[key] ?? null }))}</div>
    <button class="button main tall" @click=${() => add(kind)}>${draft.place === 'lengths' ? 'Measure it' : 'Add it'}</button>`;

/** What has to be typed: its size, and its place unless lengths give that. @param {Kind} kind @returns {[string, string][]} */
function fields(kind) {
  const byLengths = draft.place === 'lengths';
  if (shapeOf(kind) === 'round') return [...(byLengths ? [] : centres(kind)), ['diameter', 'Diameter']];
  if (byLengths) return [['long', 'Its length'], ['deep', 'Its depth']];
  return [['x', 'One corner, x'], ['y', 'One corner, y'], ['x2', 'Opposite corner, x'], ['y2', 'Opposite corner, y']];
}

/** @param {Kind} kind @returns {[string, string][]} */
const centres = ({ pair }) =>
  pair
    ? [['x', 'First centre, x'], ['y', 'First centre, y'], ['x2', 'Second centre, x'], ['y2', 'Second centre, y']]
    : [['x', 'Centre, x'], ['y', 'Centre, y']];

/** @param {string} key */
const fieldOf = (key) => ({
  id: `thing-${key}`,
  label: '',
  take: (/** @type {number | null} */ value) => {
    draft.numbers[key] = value;
  },
});

/** @param {Kind} kind */
async function add(kind) {
  for (const [key] of fields(kind)) {
    if (!(await takeDraft(fieldOf(key)))) return;
    if (draft.numbers[key] == null) return document.getElementById(`thing-${key}`)?.focus();
  }
  const fixed = desk.job?.doc.room.fixed ?? [];
  const things = thingsOf(kind);
  const edits = things.map((value, index) => ({ path: ['room', 'fixed', fixed.length + index], value }));
  if (!(await change(edits, `Added: ${things.map(({ name }) => name).join(', ')}`))) return;
  const byLengths = draft.place === 'lengths';
  Object.assign(draft, FRESH, { numbers: {} });
  goTo(byLengths ? jobAddress(desk.route.job, 'read', 'thing', fixed.length, 0) : jobAddress(desk.route.job, 'room'));
}

/** One thing, or the two pipes of a pair. @param {Kind} kind @returns {any[]} */
function thingsOf(kind) {
  const doc = desk.job?.doc;
  const [name, second] = freeThingNames(doc, draft.name.trim() || kind.kind, kind.pair ? 2 : 1);
  const { x, y, x2, y2 } = /** @type {Record<string, number>} */ (draft.numbers);
  const common = {
    kind: kind.kind,
    gap: USUAL_GAP,
    ...(draft.place === 'lengths' ? { by_lengths: true } : {}),
    ...(kind.kind === 'door lining' && draft.undercut === 'yes' ? { undercut: true } : {}),
  };
  if (kind.pair) return [{ name, ...round(x, y), ...common }, { name: second, ...round(x2, y2), ...common }];
  return [{ name, ...(shapeOf(kind) === 'round' ? round(x, y) : { outline: outline() }), ...common }];
}

/** A thing by lengths has no place until they are read; what stands in the file says only its size. @param {number} [x] @param {number} [y] */
const round = (x, y) => ({ centre: draft.place === 'lengths' ? [0, 0] : [x, y], diameter: draft.numbers.diameter });

/** Counter-clockwise, its length first. */
function outline() {
  const { x, y, x2, y2, long, deep } = /** @type {Record<string, number>} */ (draft.numbers);
  const [left, right, near, far] =
    draft.place === 'lengths'
      ? [0, long, 0, deep]
      : [Math.min(x, x2), Math.max(x, x2), Math.min(y, y2), Math.max(y, y2)];
  return [[left, near], [right, near], [right, far], [left, far]];
}
