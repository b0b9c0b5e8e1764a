// @ts-check
/** Why this file exists: every screen stands in the same frame: title block, what was said, the work, the steps. */
import { desk, redo, setting, undo } from '../desk.js';
import { jobAddress } from '../routes.js';
import { icon } from './icons.js';
import { html, nothing } from './lit.js';

const STEPS = /** @type {const} */ ([
  ['plan', 'Plan', 'plan'],
  ['room', 'Room', 'room'],
  ['set-out', 'Set out', 'setOut'],
  ['cut', 'Cut', 'cut'],
]);

/**
 * A screen outside any job.
 * @param {{title: string, over?: string, back?: string, body: unknown}} page
 */
export const page = ({ title, over = 'Out of True', back, body }) =>
  html` <header class="title-block">
      ${back ? backLink(back) : nothing}
      <div class="titles">
        <span class="over">${over}</span>
        <h1 tabindex="-1">${title}</h1>
      </div>
      ${desk.route.screen === '' ? html`<a class="button bare" href="#/settings" aria-label="Settings and about">${icon('more')}</a>` : nothing}
    </header>
    <div class="tape" aria-hidden="true"></div>
    ${said()}
    <main id="work">${body}</main>`;

/**
 * A screen of the open job. What is in `bar` stays under the thumb, above the steps.
 * @param {{step: string, title: string, back?: string, body: unknown, bar?: unknown}} page
 */
export const jobPage = ({ step, title, back = '#/jobs', body, bar = nothing }) =>
  html` <header class="title-block">
      ${backLink(back)}
      <div class="titles">
        <span class="over">${desk.job?.doc.name || 'No name'}</span>
        <h1 tabindex="-1">${title}</h1>
      </div>
      <button
        class="button bare"
        ?disabled=${desk.job?.undo == null}
        @click=${undo}
        aria-label=${undoWords('Undo', desk.job?.undo)}
      >
        ${icon('undo')}
      </button>
      <a class="button bare" href=${jobAddress(desk.route.job, 'more')} aria-label="Files and more">${icon('more')}</a>
    </header>
    <div class="tape" aria-hidden="true"></div>
    ${said()}
    <main id="work">
      ${desk.job?.sentence ? html`<p class="finding warning">${desk.job.sentence}</p>` : nothing} ${body}
    </main>
    <div class="foot">
      ${bar}
      <nav class="steps" aria-label="Steps of the work">
        ${STEPS.map(
          ([screen, words, picture]) =>
            html` <a href=${jobAddress(desk.route.job, screen)} aria-current=${screen === step ? 'step' : nothing}
              >${icon(picture)}<span>${words}</span></a
            >`,
        )}
      </nav>
    </div>`;

/** @param {string} words @param {string | null | undefined} what */
const undoWords = (words, what) => (what ? `${words}: ${what}` : words);

export const undoButton = () =>
  html` <button class="button" ?disabled=${desk.job?.undo == null} @click=${undo}>
    ${icon('undo')} ${undoWords('Undo', desk.job?.undo)}
  </button>`;

export const redoButton = () =>
  html` <button class="button" ?disabled=${desk.job?.redo == null} @click=${redo}>
    ${icon('redo')} ${undoWords('Do again', desk.job?.redo)}
  </button>`;

/** @param {string} address */
const backLink = (address) => html`<a class="button bare" href=${address} aria-label="Back">${icon('back')}</a>`;

const said = () =>
  html` <div class="progress" ?hidden=${!desk.busy}><i></i></div>
    <section class="said" aria-label="State of the work">
      <span role="status">${desk.said}</span><span>${desk.busy}</span>
    </section>
    ${desk.wrong ? html`<p class="finding error aside" role="alert">${desk.wrong}</p>` : nothing}`;

/** Left-hand mirror and theme stand on the page itself. */
export function dressPage() {
  const root = document.documentElement;
  root.dataset.theme = setting('theme', 'light');
  root.dataset.hand = setting('hand', 'right');
}
