// @ts-check
/** Why this file exists: the small picture of the room as read so far, beside whatever is being measured. */
import { desk } from '../desk.js';
import { isRoomOld } from '../walls.js';
import { planDrawing } from './drawing.js';
import { nothing } from './lit.js';

/** @param {{key: string, label?: string, bowed?: boolean, ellipses?: boolean, here?: string, thing?: string}} picture */
export const roomPicture = ({ label = 'The room so far', ...picture }) =>
  desk.plan?.room
    ? planDrawing({ ...picture, label, room: desk.plan.room, still: true, mini: true, old: isRoomOld() })
    : nothing;
