// @ts-check
/** Why this file exists: the sheet for the floor: lines to strike, first boards, which way round, order of laying. */
import { desk } from '../desk.js';
import { boardLegend, boardsPicture } from '../parts/boards_picture.js';
import { drawnText, planDrawing } from '../parts/drawing.js';
import { figureButton, figureGrid } from '../parts/figure.js';
import { jobPage } from '../parts/frame.js';
import { icon } from '../parts/icons.js';
import { html, nothing, svg } from '../parts/lit.js';
import { whole, zoom } from '../parts/view_box.js';
import { jobAddress } from '../routes.js';
import { isOld, oldMark } from './plan.js';

/** The whole sheet, or one of its lines. */
export const strikeScreen = () => {
  const sheet = desk.plan?.setting_out;
  const line = sheet?.lines[Number(desk.route.rest[0] ?? NaN)];
  if (sheet && line) return linePage(sheet, line);
  return jobPage({
    step: 'set-out',
    title: 'Lines to strike',
    back: jobAddress(desk.route.job, 'set-out'),
    body: sheet ? wholeSheet(sheet) : noSheet(),
  });
};

const noSheet = () => html`<p class="sheet">The lines are given as soon as the floor is worked out.</p>`;

/** @param {any} sheet */
const wholeSheet = (sheet) =>
  html` ${oldMark()} ${sheet.as_it_lies ? html`<p class="finding note">${sheet.as_it_lies}</p>` : nothing}
    ${roomWith('strike', 'The lines to strike, with the numbers of their marks', sheet, marksOf(now(sheet)), sheet.letters)}
    ${lineList(sheet, now(sheet))} ${now(sheet).length < sheet.lines.length ? html`<h2>Struck before</h2>${lineList(sheet, before(sheet))}` : nothing}
    ${sheet.cautions.map(caution)} ${squareSheet(sheet)} ${firstBoards(sheet.first)} ${inHand(sheet.in_hand)} ${laying(sheet.laying)}
    <a class="button" href=${jobAddress(desk.route.job, 'more')}>Print the setting-out sheet</a>`;

/** Where a string is held and a laser set, not after that. @param {string} words */
const caution = (words) => html`<p class="finding warning">${words}</p>`;

/** @param {string} key @param {string} label @param {any} sheet @param {unknown} over @param {number} [letters] */
const roomWith = (key, label, sheet, over, letters) =>
  planDrawing({
    key,
    label,
    room: desk.plan.room,
    floor: { lay_area: desk.plan.floor.lay_area, pieces: [], rows: [], lines: sheet.lines },
    still: true,
    old: isOld(),
    over,
    letters,
  });

/** The lines that are to be struck next. @param {any} sheet */
const now = ({ lines }) => lines.filter((/** @type {any} */ { is_struck }) => !is_struck);

/** @param {any} sheet */
const before = ({ lines }) => lines.filter((/** @type {any} */ { is_struck }) => is_struck);

/** @param {any[]} lines */
const marksOf = (lines) => lines.flatMap(({ marks }) => marks).map(markNumber);

/** @param {any} sheet @param {any[]} lines */
const lineList = (sheet, lines) =>
  html`<ul class="list">
    ${lines.map((line) => lineLink(line, sheet.lines.indexOf(line)))}
  </ul>`;

/** @param {any} mark */
const markNumber = ({ label }) => drawnText(label, 'mark-text');

/** @param {any} line @param {number} index */
const lineLink = ({ name, marks, length }, index) =>
  html` <li>
    <a class="open" href=${jobAddress(desk.route.job, 'strike', index)}
      ><span class="name">${name}</span>
      <span class="small soft"
        >marks ${marks.map((/** @type {any} */ { number }) => number).join(' and ')}, ${length.text} ${length.unit}
        apart</span
      ></a
    >
  </li>`;

/** @param {any} sheet @param {any} line */
function linePage(sheet, line) {
  const index = sheet.lines.indexOf(line);
  const back = jobAddress(desk.route.job, 'strike');
  return jobPage({
    step: 'set-out',
    title: line.name,
    back,
    body: html` ${oldMark()}
      <p>${line.words}</p>
      ${roomWith('line', `${line.name} in the room, with the tapes to its marks`, sheet, oneLine(line))}
      ${line.marks.map(markSheet)}
      <h2>Check the line</h2>
      <div class="figures huge">${figureButton(line.length, true)}</div>
      ${
        line.laser.length
          ? html`<p>With a laser along it, corners lie so far from it, square across:</p>
              ${figureGrid(line.laser)}`
          : nothing
      }
      ${figureGrid(line.field)} ${caution(sheet.cautions[0])}
      <nav class="row pager" aria-label="Other lines">
        ${pageLink(index - 1, sheet.lines.length, html`${icon('back')} Back`, 'Back')}
        ${pageLink(index + 1, sheet.lines.length, html`Next ${icon('next')}`, 'Next')}
      </nav>`,
  });
}

/** @param {number} index @param {number} count @param {unknown} words @param {string} label */
const pageLink = (index, count, words, label) =>
  index >= 0 && index < count
    ? html`<a
        class="button grow ${label === 'Next' ? 'main' : ''}"
        href=${jobAddress(desk.route.job, 'strike', index)}
        aria-label="${label} line"
        >${words}</a
      >`
    : html`<button class="button grow" disabled>${words}</button>`;

/** @param {any} line */
const oneLine = (line) => svg`
  <path class="strike here" d=${line.path} />
  ${line.marks.map((/** @type {any} */ { tapes }) => svg`<path class="tape-line" d=${tapes} />`)}
  ${line.marks.map(markNumber)}`;

/** @param {any} mark */
const markSheet = (mark) =>
  html` <section class="sheet mark">
    <h2>Mark ${mark.number}</h2>
    <div class="figures huge">${mark.ties.map((/** @type {any} */ figure) => figureButton(figure, true))}</div>
    ${mark.words ? html`<p class="finding warning">${mark.words}</p>` : nothing}
    ${figureGrid([mark.check, mark.along, mark.known_to].filter(Boolean))}
  </section>`;

/** @param {any} sheet */
const squareSheet = (sheet) =>
  sheet.square
    ? html`<section>
        <h2>Is it square?</h2>
        ${roomWith('square', 'Three, four and five on the two lines', sheet, squareLayer(sheet.square))}
        ${figureGrid(sheet.square.figures)} ${sentences(sheet.square.words)}
      </section>`
    : nothing;

/** @param {any} square */
const squareLayer = ({ path, diagonals, labels }) => svg`
  <path class="square-check" d=${path} /><path class="tape-line" d=${diagonals} />
  ${labels.map((/** @type {any} */ label) => drawnText(label, 'mark-text'))}`;

const axis = () => desk.job?.doc.floor.axis ?? 90;

/** @param {any} first */
const firstBoards = (first) =>
  html`<section>
    <h2>First boards</h2>
    ${boardsPicture({ key: 'first', label: 'The first boards where the lines cross, numbered', boards: first, axis: axis() })}
    ${boardLegend()} ${sentences(first.words)}
  </section>`;

/** @param {any} inHand */
const inHand = (inHand) =>
  html`<section>
    <h2>Which way round</h2>
    ${boardsPicture({ key: 'in-hand', label: inHand.words.join(' '), boards: inHand, axis: axis() })}
    ${sentences(inHand.words)}
  </section>`;

/** @param {any} laying */
const laying = (laying) =>
  html`<section>
    <h2>Order of laying</h2>
    ${planDrawing({
      key: 'laying',
      label: 'The floor with the number of each piece in the order of laying',
      room: desk.plan.room,
      floor: desk.plan.floor,
      axis: axis(),
      progress: desk.job?.doc.progress,
      names: laying.numbers,
      old: isOld(),
      over: svg`<path class="field-end" d=${laying.field} />`,
    })}
    <div class="tools" role="group" aria-label="Look at the order">
      <button class="button" aria-label="Closer" @click=${() => zoom('laying', 0.5)}>${icon('plus')}</button>
      <button class="button" aria-label="Farther" @click=${() => zoom('laying', 2)}>${icon('minus')}</button>
      <button class="button" aria-label="Whole room" @click=${() => whole('laying')}>${icon('fit')}</button>
    </div>
    <p class="small soft">Closer, every piece shows its number.</p>
    ${figureGrid(laying.figures)} ${sentences(laying.words)}
  </section>`;

/** @param {string[]} words */
const sentences = (words) =>
  html`<ul class="bare sentences">
    ${words.map((sentence) => html`<li>${sentence}</li>`)}
  </ul>`;
