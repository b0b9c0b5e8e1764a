// @ts-check
/** Why this file exists: how the app looks and writes, what it is, and the cautions that belong to the work. */
import { desk, redraw, setSetting, setting } from '../desk.js';
import { choice } from '../parts/field.js';
import { page } from '../parts/frame.js';
import { html, nothing } from '../parts/lit.js';
import { lookForNewVersion, useNewVersion } from '../parts/new_version.js';
import { hasVoice, onVoices, readBack } from '../read_back.js';

const lastPlace = () => (desk.job ? `#/job/${encodeURIComponent(desk.job.id)}/plan` : '#/jobs');

export const settingsScreen = () =>
  page({
    title: 'Settings',
    back: lastPlace(),
    body: html` ${choice({
        id: 'theme',
        label: 'Light',
        value: setting('theme', 'light'),
        options: [
          ['light', 'Paper'],
          ['sun', 'Bright sun'],
        ],
        take: (theme) => setSetting('theme', theme),
      })}
      ${choice({
        id: 'hand',
        label: 'Buttons for',
        value: setting('hand', 'right'),
        options: [
          ['right', 'Right hand'],
          ['left', 'Left hand'],
        ],
        take: (hand) => setSetting('hand', hand),
      })}
      ${choice({
        id: 'decimal',
        label: 'Decimals are written',
        value: setting('decimal', '.'),
        options: [
          ['.', '412.5'],
          [',', '412,5'],
        ],
        take: (mark) => setSetting('decimal', mark),
      })}
      <p class="small soft">Both comma and point are read, whichever is written.</p>
      ${choice({
        id: 'paper',
        label: 'Paper to print on',
        value: setting('paper', 'A4'),
        options: [
          ['A4', 'A4'],
          ['Letter', 'Letter'],
        ],
        take: (paper) => setSetting('paper', paper),
      })}
      ${choice({
        id: 'read-back',
        label: 'Read readings back aloud',
        value: setting('read back', 'off'),
        options: [
          ['on', 'On'],
          ['off', 'Off'],
        ],
        take: setReadBack,
      })}
      ${hasVoice() ? nothing : html`<p class="finding note">${NO_VOICE}</p>`}
      <a class="button" href="#/cautions">Cautions</a>
      <h2>About</h2>
      <p>
        Out of True makes a patterned wood floor fit a room that is out of true. Everything is computed and kept on this
        phone; nothing is sent anywhere.
      </p>
      <p id="settings-readiness">${desk.offline?.sentence ?? ''}</p>
      <div class="row">${lookForNewVersion()} ${useNewVersion()}</div>
      <a class="button" href="#/licences">Parts made by others</a>`,
  });

const NO_VOICE =
  'This phone has no English voice of its own, so it reads nothing aloud. One can be added in the phone’s settings, under text to speech.';
onVoices(redraw);

/** @param {string} value */
async function setReadBack(value) {
  await setSetting('read back', value);
  readBack('Readings are read back.');
}

const CAUTIONS = [
  [
    'Saw',
    'Keep the guard on. Unplug before a blade is touched or changed. Clamp small pieces and offcuts; never hold them by hand. Read the saw maker’s instructions.',
  ],
  [
    'Dust',
    'Hardwood dust harms lungs and nose. Use extraction, wear a fitting mask, eye and ear protection. National limits apply.',
  ],
  [
    'Before the first cut',
    'Cut one piece, try it in its place, and measure again before the rest are cut. A wrong reading makes every cut along that wall wrong.',
  ],
  [
    'Gaps',
    'A floating floor moves with the seasons. The gaps here are usual practice, not a promise: the board maker’s instructions come first.',
  ],
  [
    'Electricity',
    'Under a heated floor nothing is drilled or nailed. Connecting heating is the work of a licensed electrician; the local code decides.',
  ],
  ['Weight', 'Packs are heavy. Carry them with two, and spread them over the floor.'],
];

export const cautionsScreen = () =>
  page({
    title: 'Before you saw',
    back: lastPlace(),
    body: html` ${CAUTIONS.map(
        ([title, words]) =>
          html`<section>
            <h2>${title}</h2>
            <p>${words}</p>
          </section>`,
      )}
      <p class="finding note">
        These are the usual cautions, not all there are. Local codes and licensed trades decide.
      </p>`,
  });
