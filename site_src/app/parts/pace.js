// @ts-check
/** Why this file exists: how fast the cutting goes, from the times of the marks, and what is left: always a spread. */
import { desk, redraw, setting } from '../desk.js';
import { doneWith } from '../pieces.js';
import { askEngine } from '../thinking.js';
import { figureGrid } from './figure.js';
import { html, nothing } from './lit.js';

/** The pace as last told, of which job and which marks. @type {{job: string, of: string, said: any}} */
const told = { job: '', of: '', said: null };

/** @param {any[]} cards */
export function pace(cards) {
  const pieces = cards.map(marksOf);
  void ask(pieces);
  const works = [told.said?.cutting, told.said?.fitting].filter(Boolean);
  return works.length ? html`<details class="sheet plain">
          <summary>${works.map(({ title }) => title).join('. ')}</summary>
          ${works.map(work)}
        </details>`
    : nothing;
}

/** @param {any} card */
const marksOf = ({ id, kind }) => {
  const { cut = false, fitted = false, cut_at = '', fitted_at = '' } = doneWith(id);
  return { kind, is_cut: cut || fitted, is_fitted: fitted, cut_at, fitted_at };
};

/** @param {any} shown */
const work = ({ rate, left, kinds, words }) =>
  html`${figureGrid([rate, left])}
    ${
      kinds.length
        ? html`<table>
            <tbody>
              ${kinds.map(
                (/** @type {any} */ kind) =>
                  html`<tr>
                    <th scope="row">${kind.kind_text}</th>
                    <td>${kind.rate ? `${kind.rate.text} ${kind.rate.unit}` : 'too few yet'}</td>
                    <td>${kind.left}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
        : nothing
    }
    <p class="small soft">${words}</p>`;

/** Nobody waits for it: what was told last stands until it is told anew. @param {any[]} pieces */
async function ask(pieces) {
  const job = desk.job?.id ?? '';
  const of = JSON.stringify([job, pieces, setting('decimal', '.')]);
  if (of === told.of || desk.engine !== 'ready') return;
  Object.assign(told, { job, of, said: job === told.job ? told.said : null });
  const reply = await askEngine({ ask: 'pace', pieces, decimal: setting('decimal', '.') });
  if (told.of !== of || reply.reply !== 'pace') return;
  told.said = reply;
  if (desk.plan) desk.plan.formulas = { ...desk.plan.formulas, ...reply.formulas };
  redraw();
}
