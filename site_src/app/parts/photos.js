// @ts-check
/** Why this file exists: a picture of a wall or a thing says what no reading does; it is taken, looked at and taken out here. */
import { attempt, change, desk, keepPhoto, redraw } from '../desk.js';
import { shrunk } from '../shrink.js';
import { icon } from './icons.js';
import { html, nothing, render } from './lit.js';

/** @typedef {import('../store/photos.js').Photo} Photo */
/** @typedef {import('../store/photos.js').PhotoOf} PhotoOf */

/** Addresses of pictures on the screen, empty where the picture cannot be read, none while it is fetched. @type {Map<string, string | null>} */
const addresses = new Map();

// A picture stays in memory for as long as it has an address, so no screen leaves its own behind.
addEventListener('hashchange', () => {
  for (const address of addresses.values()) if (address) URL.revokeObjectURL(address);
  addresses.clear();
  viewer().close();
});

/**
 * The photos of one wall or thing, and the way to take one more.
 * @param {PhotoOf} of
 */
export function photos(of) {
  const shown = all().filter((photo) => isOf(photo, of));
  const what = nameOf(of);
  return html` <section aria-label="Photos of ${what}">
    <h2>Photos</h2>
    ${strip(shown)}
    ${
      desk.job?.readOnly
        ? nothing
        : html`<div class="row">
            <span class="button grow file"
              >${icon('photo')} Take a photo
              <input
                type="file"
                accept="image/*"
                capture="environment"
                aria-label="Take a photo of ${what}"
                @change=${(/** @type {Event} */ event) => take(event, of)}
            /></span>
          </div>`
    }
  </section>`;
}

/** Photos of what is no longer in the room: kept until they are taken out by hand. */
export function photosOfWhatIsGone() {
  const { walls = [], fixed = [] } = desk.job?.doc.room ?? {};
  const isThere = (/** @type {Photo} */ photo) =>
    walls.some((/** @type {any} */ { from, to }) => isOf(photo, { wall: [from, to] })) ||
    fixed.some((/** @type {any} */ { name }) => isOf(photo, { thing: name }));
  const shown = all().filter((photo) => !isThere(photo));
  if (!shown.length) return nothing;
  return html` <section aria-label="Photos of what is gone">
    <h2>Photos of what is no longer in the room</h2>
    ${strip(shown)}
  </section>`;
}

/**
 * The edits that let photos follow a thing to its new name, to be saved with it.
 * @param {string} from @param {string} to @returns {import('../store/edits.js').Edit[]}
 */
export const photosFollow = (from, to) =>
  all().flatMap((photo, index) => (photo.thing === from ? [{ path: ['photos', index, 'thing'], value: to }] : []));

/** @returns {Photo[]} */
const all = () => (Array.isArray(desk.job?.doc.photos) ? desk.job.doc.photos : []);

/** @param {Photo} photo @param {PhotoOf} of */
function isOf({ wall, thing }, of) {
  if ('thing' in of) return thing === of.thing;
  return Array.isArray(wall) && of.wall.every((corner) => wall.includes(corner));
}

/** @param {PhotoOf} of */
const nameOf = (of) => ('thing' in of ? of.thing : `wall ${of.wall.join('–')}`);
/** @param {Photo} photo */
const nameOfPhoto = ({ wall, thing }) => nameOf(wall ? { wall } : { thing: thing ?? 'the room' });

/** @param {Photo[]} shown */
const strip = (shown) => (shown.length ? html`<div class="photos">${shown.map(thumbnail)}</div>` : nothing);

/** @param {Photo} photo */
function thumbnail(photo) {
  const address = addressOf(photo.id);
  const words = address === '' ? 'Cannot be read' : 'Fetching…';
  const label = `${nameOfPhoto(photo)}, ${taken(photo)}`;
  return html` <button
    class="photo"
    aria-label=${address ? `Look at the photo of ${label}` : `${words}: photo of ${label}`}
    @click=${() => look(photo)}
  >
    ${address ? html`<img src=${address} alt="" />` : html`<span class="small">${words}</span>`}
  </button>`;
}

/** @param {Photo} photo */
function taken({ time }) {
  const when = new Date(time ?? '');
  if (Number.isNaN(when.getTime())) return 'time not known';
  return new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' }).format(when);
}

/** @param {string} id @returns {string | null} */
function addressOf(id) {
  const key = `${desk.job?.id} ${id}`;
  if (!addresses.has(key)) {
    addresses.set(key, null);
    void fetchPicture(key, id);
  }
  return addresses.get(key) ?? null;
}

/** @param {string} key @param {string} id */
async function fetchPicture(key, id) {
  const picture = await desk.store?.readPhoto(/** @type {any} */ (desk.job).id, id).catch(() => null);
  if (addresses.get(key) !== null) return; // fetched twice, or the screen was left
  addresses.set(key, picture ? URL.createObjectURL(picture) : '');
  redraw();
}

/** @param {Event} event @param {PhotoOf} of */
async function take(event, of) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const [picture] = input.files ?? [];
  const job = desk.job?.id;
  if (!picture || !job) return;
  desk.said = 'Saving…';
  redraw();
  await attempt(async () => {
    const jpeg = await shrunk(picture);
    await keepPhoto(job, jpeg, of, `Photo of ${nameOf(of)}`);
  });
  input.value = ''; // the same picture may be chosen again
}

const viewer = () => /** @type {HTMLDialogElement} */ (document.getElementById('explain'));

/** @param {Photo} photo */
function look(photo) {
  const dialog = viewer();
  render(large(photo, dialog), dialog);
  dialog.showModal();
}

/** @param {Photo} photo @param {HTMLDialogElement} dialog */
function large(photo, dialog) {
  const address = addressOf(photo.id);
  return html` <h2 id="explain-title" tabindex="-1" autofocus>Photo of ${nameOfPhoto(photo)}</h2>
    ${
      address
        ? html`<img class="photo-large" src=${address} alt="Photo of ${nameOfPhoto(photo)}" />`
        : html`<p>This photo cannot be read on this phone.</p>`
    }
    <p class="small soft">Taken: ${taken(photo)}</p>
    <div class="row">
      ${desk.job?.readOnly ? nothing : html`<button class="button grow" @click=${() => takeOut(photo, dialog)}>${icon('gone')} Take it out</button>`}
      <button class="button grow" @click=${() => dialog.close()}>Close</button>
    </div>`;
}

/** @param {Photo} photo @param {HTMLDialogElement} dialog */
async function takeOut(photo, dialog) {
  const index = all().findIndex(({ id }) => id === photo.id);
  dialog.close();
  if (index >= 0) await change([{ path: ['photos', index], remove: true }], `Photo of ${nameOfPhoto(photo)} taken out`);
}
