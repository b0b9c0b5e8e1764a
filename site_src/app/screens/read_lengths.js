// @ts-check
/** Why this file exists: wall lengths and ties, one after the other, until nothing can shift and a wrong one shows. */
import { cornerNames } from '../corner_edits.js';
import { desk } from '../desk.js';
import { select } from '../parts/field.js';
import { findings, isAboutCorners } from '../parts/findings.js';
import { jobPage } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { focusReading, readingEntry } from '../parts/reading_entry.js';
import { roomPicture } from '../parts/room_picture.js';
import { jobAddress } from '../routes.js';
import { lengthReadings as lengthsRead } from '../survey_edits.js';
import { wallName } from '../walls.js';

/** @typedef {[string, string]} Pair */

/** The pair chosen by hand, and those left out for now. @type {{job: string, chosen: Pair | null, skipped: Set<string>}} */
const hand = { job: '', chosen: null, skipped: new Set() };

export const lengthReadings = () => {
  if (hand.job !== desk.route.job) Object.assign(hand, { job: desk.route.job, chosen: null, skipped: new Set() });
  return jobPage({
    step: 'room',
    title: 'Lengths and ties',
    back: jobAddress(desk.route.job, 'corners'),
    body: html` ${readingEntry(target, { below: below() })} ${roomPicture({ key: 'read-lengths', here: wallName({ from: pairNow()[0], to: pairNow()[1] }) })}
    ${findings(isAboutCorners)}`,
  });
};

/** @returns {import('../parts/reading_entry.js').Target} */
function target() {
  const [from, to] = pairNow();
  const wall = isWall([from, to]);
  return {
    label: wall ? `Wall ${from}–${to}, corner to corner` : `Tie ${from}–${to}`,
    fields: { of: 'length', from, to },
    hint: wall ? '' : 'A tie runs across the room from corner to corner. One more than needed, and a wrong length shows.',
    onTaken: () => {
      hand.chosen = null;
    },
  };
}

/** What was chosen; else what the address asks for, walls, then ties. @returns {Pair} */
function pairNow() {
  const left = pairs().find((pair) => !isRead(pair) && !hand.skipped.has(pair.join()));
  return hand.chosen ?? left ?? pairs()[0];
}

/** @returns {Pair[]} */
function pairs() {
  const doc = desk.job?.doc;
  const names = cornerNames(doc);
  const walls = doc.room.walls.map((/** @type {any} */ { from, to }) => [from, to]);
  const ties = names.flatMap((from, index) => names.slice(index + 2).map((to) => /** @type {Pair} */ ([from, to])));
  return [...asked(), ...walls, ...ties.filter((pair) => !isWall(pair))];
}

/** The address may name pairs to read first: `read/lengths/A/E/B/E`. @returns {Pair[]} */
function asked() {
  const names = desk.route.rest.slice(1);
  return names.flatMap((from, index) => (index % 2 === 0 && names[index + 1] ? [/** @type {Pair} */ ([from, names[index + 1]])] : []));
}

/** @param {Pair} pair */
const isWall = ([one, other]) =>
  desk.job?.doc.room.walls.some(
    (/** @type {any} */ { from, to }) => (from === one && to === other) || (from === other && to === one),
  );

/** @param {Pair} pair */
function isRead([one, other]) {
  const doc = desk.job?.doc;
  const known = [...doc.room.walls, ...(doc.room.ties ?? [])].some(
    ({ from, to, length }) => length != null && ((from === one && to === other) || (from === other && to === one)),
  );
  return known || lengthsRead(doc, one, other).length > 0;
}

function below() {
  const [from, to] = pairNow();
  const options = cornerNames(desk.job?.doc).map((name) => /** @type {Pair} */ ([name, name]));
  return html` <div class="pair">
      ${select({ id: 'from', label: 'From', value: from, options, take: (name) => name !== to && choose([name, to]) })}
      ${select({ id: 'to', label: 'To', value: to, options, take: (name) => name !== from && choose([from, name]) })}
    </div>
    <div class="row">
      <button class="button grow" @click=${() => skip([from, to])}>Not this one</button>
      <a class="button grow" href=${jobAddress(desk.route.job, 'corners')}>That is all</a>
    </div>`;
}

/** @param {Pair} pair */
function choose(pair) {
  hand.chosen = pair;
  focusReading();
}

/** @param {Pair} pair */
function skip(pair) {
  hand.chosen = null;
  hand.skipped.add(pair.join());
  focusReading();
}
