// @ts-check
/** Why this file exists: a new version of the app is used when the user says so, and looked for when the user asks. */
import { attempt, desk, redraw } from '../desk.js';
import { html, nothing } from './lit.js';

const FOUND = {
  coming: 'A new version is on its way. Keep the page open.',
  newest: 'This is the newest version.',
  'no signal': 'The newest version could not be asked for. Try again with a signal.',
};

export const useNewVersion = () =>
  desk.newVersion ? html`<button class="button" @click=${() => desk.useNewVersion?.()}>Use the new version now</button>` : nothing;

export const lookForNewVersion = () =>
  html`<button class="button" ?disabled=${!desk.lookForNewVersion} @click=${look}>Look for a new version</button>`;

const look = () =>
  attempt(async () => {
    desk.said = 'Looking for a new version…';
    redraw();
    desk.said = FOUND[(await desk.lookForNewVersion?.()) ?? 'no signal'];
  });
