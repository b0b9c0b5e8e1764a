// @ts-check
/** Why this file exists: those whose work this is made of are named, with their licences. */
import { attempt, redraw } from '../desk.js';
import { page } from '../parts/frame.js';
import { html } from '../parts/lit.js';

/** @typedef {{name: string, version: string, licence: string}} Part */

/** @type {Map<string, Part> | null} */
let parts = null;
let asked = false;

/** The list is a shipped file, so it is here without a signal too. */
async function load() {
  if (asked) return;
  asked = true;
  await attempt(async () => {
    const reply = await fetch(new URL('../../THIRD_PARTY.json', import.meta.url));
    const { files } = /** @type {{files: Part[]}} */ (await reply.json());
    parts = new Map(files.map((file) => [file.name, file]));
    redraw();
  });
}

export function licencesScreen() {
  void load();
  return page({
    title: 'Parts made by others',
    back: '#/settings',
    body: html` <p>
        The app is made of its own files and of these, shipped beside them. The full list with checksums is in
        <a href="./THIRD_PARTY.json">THIRD_PARTY.json</a>; the licence texts lie in the folder “licences” of the app.
      </p>
      ${parts ? table([...parts.values()]) : html`<p class="soft">Reading the list…</p>`}`,
  });
}

/** @param {Part[]} all */
const table = (all) =>
  html` <table>
    <thead>
      <tr>
        <th scope="col">Part</th>
        <th scope="col">Version</th>
        <th scope="col">Licence</th>
      </tr>
    </thead>
    <tbody>
      ${all.map(
        ({ name, version, licence }) =>
          html`<tr>
            <td>${name}</td>
            <td class="number">${version}</td>
            <td>${licence}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
