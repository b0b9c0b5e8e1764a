// @ts-check
/** Why this file exists: those whose work this is made of are named, and their licences can be read without a signal. */
import { attempt, desk, redraw } from '../desk.js';
import { page } from '../parts/frame.js';
import { html } from '../parts/lit.js';
import { refused } from '../refused.js';

/** @typedef {{name: string, version: string, licence: string, texts: string[]}} Part */

/** @type {Part[] | null} */
let parts = null;
/** Licence texts that were read, by their place in the app. @type {Map<string, string>} */
const texts = new Map();
const asked = new Set();

/**
 * The list and the texts are shipped files, so they are here without a signal too.
 * @param {string} path @param {(reply: Response) => Promise<unknown>} take
 */
async function once(path, take) {
  if (asked.has(path)) return;
  asked.add(path);
  await attempt(async () => {
    const reply = await fetch(new URL(`../../${path}`, import.meta.url));
    if (!reply.ok) throw refused('not fetched', 'This text is not on the phone. Load the page again with a signal.');
    await take(reply);
  });
  redraw();
}

export function licencesScreen() {
  void once('THIRD_PARTY.json', async (reply) => {
    ({ parts } = await reply.json());
  });
  const part = parts?.find(({ name }) => name === desk.route.rest[0]);
  return part ? textsOf(part) : list();
}

const list = () =>
  page({
    title: 'Parts made by others',
    back: '#/settings',
    body: html` <p>
        The app is made of its own files and of these, shipped beside them. Tap one for its licence.
      </p>
      ${
        parts
          ? html`<ul class="list">
              ${parts.map(partLine)}
            </ul>`
          : html`<p class="soft">Reading the list…</p>`
      }
      <p class="small soft">The file THIRD_PARTY.json of the app lists every file with its checksum.</p>`,
  });

/** @param {Part} part */
const partLine = ({ name, version, licence }) =>
  html` <li>
    <a class="open" href="#/licences/${encodeURIComponent(name)}">
      <span class="name">${name}</span><span class="small soft">${version} · ${licence}</span>
    </a>
  </li>`;

/** @param {Part} part */
function textsOf({ name, version, licence, texts: paths }) {
  for (const path of paths) void once(path, async (reply) => texts.set(path, await reply.text()));
  return page({
    title: name,
    back: '#/licences',
    body: html` <p>Version ${version}, licence ${licence}.</p>
      ${paths.map(
        (path) =>
          html`<h2>${path.slice(path.lastIndexOf('/') + 1)}</h2>
            <pre class="licence">${texts.get(path) ?? 'Reading…'}</pre>`,
      )}`,
  });
}
