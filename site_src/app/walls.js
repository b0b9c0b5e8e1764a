// @ts-check
/** Why this file exists: a wall of the job and the same wall as the engine drew it, and what both are called. */
import { desk, isRoomCurrent } from './desk.js';

export const FACES = /** @type {const} */ ([
  ['wall', 'Wall'],
  ['threshold', 'Threshold'],
  ['opening', 'Opening'],
  ['fixed', 'Fixed'],
  ['glazing', 'Glazing'],
]);

/** @param {any} wall */
export const wallName = (wall) => `${wall.from}–${wall.to}`;
export const faceName = (/** @type {string} */ face) => FACES.find(([key]) => key === face)?.[1] ?? face;

/** The wall as the engine drew it. @param {any} wall */
export const drawnWall = (wall) => desk.plan?.room?.walls.find((/** @type {any} */ { name }) => samePlace(name, wall));
/** @param {string} name @param {any} wall */
const samePlace = (name, wall) =>
  name.startsWith(wall.from) && name.endsWith(wall.to) && name.length <= wall.from.length + wall.to.length + 4;

/** The drawn room does not hold the newest readings yet. */
export const isRoomOld = () => desk.plan !== null && !isRoomCurrent();
