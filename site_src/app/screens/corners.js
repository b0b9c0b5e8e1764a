// @ts-check
/** Why this file exists: where the corners are: by two laser lines, by lengths and ties, or by two tapes. */
import { desk, redraw } from '../desk.js';
import { choice } from '../parts/field.js';
import { planDrawing } from '../parts/drawing.js';
import { findings } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { jobAddress } from '../routes.js';
import { byLengths } from './corners_by_length.js';
import { byPosition } from './corners_by_position.js';
import { byTapes } from './corners_by_tape.js';
import { isOld } from './plan.js';

const WAYS = /** @type {const} */ ([
  ['position', 'Two laser lines'],
  ['length', 'Lengths and ties'],
  ['tape', 'Two tapes'],
]);

/** @type {{job: string, way: string}} */
const chosen = { job: '', way: '' };

/** Lengths when the job's corners are worked out of lengths, positions otherwise. @param {any} room */
function wayOf(room) {
  if (chosen.job === desk.route.job && chosen.way) return chosen.way;
  return room.corners === undefined || room.corners === null ? 'length' : 'position';
}

export const cornersScreen = () => {
  const room = desk.job?.doc.room;
  if (!room) return nothing;
  const way = wayOf(room);
  return jobPage({
    step: 'room',
    title: 'Corners',
    back: jobAddress(desk.route.job, 'room'),
    body: html` ${choice({
      id: 'way',
      label: 'How the corners are measured',
      value: way,
      options: WAYS,
      take: (next) => {
        Object.assign(chosen, { job: desk.route.job, way: next });
        redraw();
      },
    })}
    ${way === 'length' ? byLengths(room) : way === 'tape' ? byTapes(room) : byPosition(room)}
    ${desk.plan && room.walls.length ? planDrawing({ key: 'corners', label: 'The room so far', room: desk.plan.room, still: true, mini: true, old: isOld() }) : nothing}
    ${findings((path) => path.startsWith('room'))}`,
  });
};
