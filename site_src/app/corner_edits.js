// @ts-check
/**
 * Why this file exists: a corner never comes or goes alone; the walls that meet
 * in it change with it. Pure: from a room to the edits of the job.
 */

/** @typedef {import('./store/index.js').Edit} Edit */
/** @typedef {[number, number]} Pair */

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** The names of the corners in the order round the room. @param {any} room @returns {string[]} */
export const cornerNames = (room) => {
  const named = Object.keys(room.corners ?? {});
  return named.length ? named : (room.walls ?? []).map((/** @type {any} */ { from }) => from);
};

/** A name no corner has yet. @param {any} room */
export function freeName(room) {
  const taken = new Set(cornerNames(room));
  const names = [...LETTERS, ...LETTERS.flatMap((letter) => [1, 2, 3, 4].map((count) => `${letter}${count}`))];
  return names.find((name) => !taken.has(name)) ?? `Z${taken.size}`;
}

/** A ring of plain walls. @param {string[]} names */
const ring = (names) =>
  names.map((from, index) => ({
    from,
    to: names[(index + 1) % names.length],
    face: 'wall',
    gap: 10,
    curve: 'smooth',
    offsets: [],
  }));

/**
 * A new corner after another (the last when none is named). Readings stay with the wall that begins there.
 * @param {any} room @param {string} name @param {Pair} at @param {string} [after] @returns {Edit[]}
 */
export function addCorner(room, name, at, after) {
  const names = cornerNames(room);
  const index = after === undefined ? names.length - 1 : names.indexOf(after);
  const next = names[index + 1];
  const corner = room.corners
    ? [{ path: ['room', 'corners', name], value: at, ...(next === undefined ? {} : { before: next }) }]
    : [{ path: ['room', 'corners'], value: { [name]: at } }];
  return [...corner, ...wallsFor(room, names, name, index)];
}

/** @param {any} room @param {string[]} names @param {string} name @param {number} index @returns {Edit[]} */
function wallsFor(room, names, name, index) {
  if (names.length < 2) return [];
  const wall = room.walls.findIndex((/** @type {any} */ { from }) => from === names[index]);
  if (wall < 0) return [{ path: ['room', 'walls'], value: ring(names.toSpliced(index + 1, 0, name)) }];
  const [plain] = ring([name]);
  return [
    { path: ['room', 'walls', wall, 'to'], value: name },
    { path: ['room', 'walls', wall + 1], value: { ...plain, to: room.walls[wall].to }, insert: true },
  ];
}

/** Take a corner out; the wall before it reaches on to the next. @param {any} room @param {string} name @returns {Edit[]} */
export function removeCorner(room, name) {
  const corner = room.corners && name in room.corners ? [{ path: ['room', 'corners', name], remove: true }] : [];
  if (cornerNames(room).length <= 3)
    return [...corner, { path: ['room', 'walls'], value: [] }, { path: ['room', 'ties'], value: [] }];
  const before = room.walls.findIndex((/** @type {any} */ { to }) => to === name);
  const after = room.walls.findIndex((/** @type {any} */ { from }) => from === name);
  const ties = (room.ties ?? []).filter((/** @type {any} */ { from, to }) => from !== name && to !== name);
  return [
    ...corner,
    ...(before < 0 || after < 0
      ? []
      : [
          { path: ['room', 'walls', before, 'to'], value: room.walls[after].to },
          { path: ['room', 'walls', after], remove: true },
        ]),
    { path: ['room', 'ties'], value: ties },
  ];
}

/** A room to start from and correct, with the pattern in its middle. @param {number} wide @param {number} deep @returns {Edit[]} */
export const rectangle = (wide, deep) => [
  { path: ['room', 'corners'], value: { A: [0, 0], B: [wide, 0], C: [wide, deep], D: [0, deep] } },
  { path: ['room', 'walls'], value: ring(['A', 'B', 'C', 'D']) },
  { path: ['floor', 'anchor'], value: [wide / 2, deep / 2] },
];

/** A ring of walls whose lengths are still to be measured. @param {any} room @param {number} count @returns {Edit[]} */
export const ringOfWalls = (room, count) => [
  ...(room.corners ? [{ path: ['room', 'corners'], remove: true }] : []),
  { path: ['room', 'walls'], value: ring(LETTERS.slice(0, count)) },
];
