// @ts-check
/** Why this file exists: whatever is read, one reading at a time; the address says what. */
import { desk } from '../desk.js';
import { cornerReadings } from './read_corners.js';
import { datumReadings } from './read_datum.js';
import { lengthReadings } from './read_lengths.js';
import { thingReadings } from './read_thing.js';
import { wallReadings } from './read_wall.js';

/** @type {Record<string, () => unknown>} */
const SCREENS = { corners: cornerReadings, lengths: lengthReadings, datum: datumReadings, thing: thingReadings };

export const readingsScreen = () => (SCREENS[desk.route.rest[0]] ?? wallReadings)();
