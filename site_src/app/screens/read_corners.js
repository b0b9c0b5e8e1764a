// @ts-check
/** Why this file exists: corners by two crossed laser lines, x and y of one after the other, round the room. */
import { cornerNames, freeName, hasPlace, wallsWith } from '../corner_edits.js';
import { desk } from '../desk.js';
import { findings, isAboutCorners } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing } from '../parts/lit.js';
import { readingEntry } from '../parts/reading_entry.js';
import { roomPicture } from '../parts/room_picture.js';
import { jobAddress } from '../routes.js';
import { standing } from '../survey_edits.js';

export const cornerReadings = () => {
  const doc = desk.job?.doc;
  return jobPage({
    step: 'room',
    title: 'Corners',
    back: jobAddress(desk.route.job, 'corners'),
    body: html` ${readingEntry(target, { below: allRead(doc) })} ${picture()}
    ${isHalfRead(doc) ? nothing : findings(isAboutCorners)}`,
  });
};

/** The address may name a corner that is to stand after another one: `read/corners/after/B`. */
const after = () => (desk.route.rest[1] === 'after' ? desk.route.rest[2] : undefined);

/** @returns {import('../parts/reading_entry.js').Target} */
function target() {
  const doc = desk.job?.doc;
  const corner = cornerNow(doc);
  const axis = hasPlace(doc, corner, 'x') ? 'y' : 'x';
  const isNew = !cornerNames(doc).includes(corner) || !doc.room.walls.length;
  return {
    label: `Corner ${corner}, ${axis}`,
    fields: { of: 'place', corner, axis },
    edits: axis === 'y' && isNew ? wallsWith(doc, corner, after()) : [],
    hint: axis === 'x' ? 'x: to the right along the first laser line. Counter-clockwise round the room.' : 'y: away from the first laser line, along the second.',
  };
}

/** The corner half read, else one without a place, else a new one. @param {any} doc @returns {string} */
function cornerNow(doc) {
  const read = standing(doc).filter(({ of }) => of === 'place').map(({ corner }) => corner);
  const names = [...new Set([...read, ...cornerNames(doc)])];
  return names.find((name) => !isPlaced(doc, name)) ?? freeName(doc);
}

/** @param {any} doc @param {string} name */
const isPlaced = (doc, name) => hasPlace(doc, name, 'x') && hasPlace(doc, name, 'y');

/** @param {any} doc */
const isHalfRead = (doc) => hasPlace(doc, cornerNow(doc), 'x');

/** @param {any} doc */
function allRead(doc) {
  const count = cornerNames(doc).filter((name) => isPlaced(doc, name)).length;
  if (count < 3 || isHalfRead(doc)) return nothing;
  const isFirst = !standing(doc).some(({ of }) => of === 'offset');
  const next = isFirst ? jobAddress(desk.route.job, 'read', 0) : jobAddress(desk.route.job, 'corners');
  return html` <a class="button" href=${next}>All ${count} corners are read ${icon('next')}</a>`;
}

const picture = () => (desk.job?.doc.room.walls.length ? roomPicture({ key: 'read-corners' }) : nothing);
