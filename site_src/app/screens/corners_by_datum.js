// @ts-check
/** Why this file exists: what was read from the datum line, and the way to read more. */
import { desk } from '../desk.js';
import { written } from '../parts/field.js';
import { html, nothing } from '../parts/lit.js';
import { askAgain, takeBack } from '../parts/reading_entry.js';
import { takenTable, typedText } from '../parts/taken_table.js';
import { goTo, jobAddress } from '../routes.js';
import { datumReadings } from '../survey_edits.js';

/** @param {any} doc */
export function byDatum(doc) {
  const { walls } = doc.room;
  const isOther = walls.length > 0 && walls.length !== 4;
  return html` <p class="soft">
      Lay one laser line or a string along the room. Read square from it to the wall on the left and on the right,
      station by station: both long walls come out at once, and no corner has to be reached.
    </p>
    ${
      isOther
        ? html`<p class="finding note">A datum line gives a room of four corners. This room has ${walls.length}: measure it another way.</p>`
        : html`<a class="button main tall" href=${jobAddress(desk.route.job, 'read', 'datum')}>Measure from the line</a>`
    }
    ${datumReadings(doc).length ? table(doc) : nothing}`;
}

/** @param {any} doc */
const table = (doc) =>
  takenTable({
    caption: 'Tap a figure to read it again.',
    heads: ['From the line', 'Read'],
    rows: datumReadings(doc).map((reading) => {
      const { side, station = 0 } = reading;
      const name = side === 'left' || side === 'right' ? `${side} at ${written(station)}` : `wall ${side}${station ? ` at ${written(station)}` : ''}`;
      return {
        name,
        typed: typedText(reading),
        cells: [],
        again: () => {
          const address = jobAddress(desk.route.job, 'read', 'datum');
          askAgain(address, reading, name);
          goTo(address);
        },
        out: () => takeBack(reading, name),
      };
    }),
  });
