// @ts-check
/** Why this file exists: every computed figure can be tapped for where it comes from. */
import { desk } from '../desk.js';
import { html, nothing, render } from './lit.js';
import { together } from './together.js';

/** @typedef {import('../messages.js').Figure} Figure */

/** @param {Figure} figure @param {boolean} [huge] */
export const figureButton = (figure, huge = false) =>
  html` <button type="button" class="figure ${huge ? 'huge' : ''} ${figure.key}" @click=${() => explain(figure)}>
    <span class="label">${together(figure.label)}${huge && figure.unit ? `, ${figure.unit}` : nothing}</span>
    <span class="value"
      >${figure.text}${!huge && figure.unit ? html`<span class="unit"> ${figure.unit}</span>` : nothing}</span
    >
  </button>`;

/** A figure in a table, whose head says what it is. @param {Figure} figure */
export const figureCell = (figure) =>
  html`<button type="button" class="button bare" aria-label="${figure.label} ${figure.text} ${figure.unit}" @click=${() => explain(figure)}>${figure.text}</button>`;

/** Formulas of figures that do not come with the plan. @type {Record<string, {words: string, expression: string, source: string}>} */
const others = {};

/** @param {typeof others} formulas */
export const knowFormulas = (formulas) => void Object.assign(others, formulas);

/** @param {Figure[]} figures */
export const figureGrid = (figures) =>
  html`<div class="figures">${figures.map((figure) => figureButton(figure))}</div>`;

/** Show formula, source and inputs. @param {Figure} figure */
function explain(figure) {
  const dialog = /** @type {HTMLDialogElement} */ (document.getElementById('explain'));
  render(explanation(figure, desk.plan?.formulas?.[figure.formula] ?? others[figure.formula], dialog), dialog);
  dialog.showModal();
}

/** @param {Figure} figure @param {{words: string, expression: string, source: string} | undefined} formula @param {HTMLDialogElement} dialog */
const explanation = (figure, formula, dialog) =>
  html` <h2 id="explain-title" tabindex="-1" autofocus>${figure.label}: ${figure.text} ${figure.unit}</h2>
    ${
      formula
        ? html`<p>${formula.words}</p>
            <p class="expression">${formula.expression}</p>
            <p class="soft">Source: ${formula.source}</p>`
        : html`<p>The kept plan does not say how this was computed. It will when the engine is ready.</p>`
    }
    ${
      figure.inputs?.length
        ? html`<h3>From</h3>
            ${inputTable(figure.inputs)}`
        : nothing
    }
    <div class="row"><button class="button grow" @click=${() => dialog.close()}>Close</button></div>`;

/** @param {[string, string][]} inputs */
const inputTable = (inputs) =>
  html` <table>
    <tbody>
      ${inputs.map(
        ([name, text]) =>
          html`<tr>
            <th scope="row">${name}</th>
            <td>${text}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
