// @ts-check
/**
 * Why this file exists: photos travel inside the job file as base64, and lie
 * beside the job everywhere else. What comes in is looked at before it is kept; a
 * picture that cannot be read costs itself and no reading.
 */
import { isJpeg, MOST_JPEG_BYTES, MOST_PHOTOS } from './photo_limits.js';
import { newId } from './records.js';

/** @typedef {{id: string, bytes: Uint8Array<ArrayBuffer>}} Jpeg */
/** `characters` is how much of the file was pictures. @typedef {{value: any, jpegs: Jpeg[], notes: string[], characters: number}} Lifted */

const FIT_ID = /^[\w-]{1,40}$/;
const MOST_CHARACTERS = Math.ceil(MOST_JPEG_BYTES / 3) * 4;

/**
 * Take the pictures out of a file as parsed; nothing else of it is looked at here.
 * @param {any} value @returns {Lifted}
 */
export function liftJpegs(value) {
  /** @type {Lifted} */
  const lifted = { value, jpegs: [], notes: [], characters: 0 };
  if (!Array.isArray(value?.photos)) return lifted;
  const seen = new Set();
  let unread = 0;
  const photos = value.photos.map((/** @type {any} */ photo) => {
    if (typeof photo?.jpeg !== 'string') return photo;
    const { jpeg, ...rest } = photo;
    const id = FIT_ID.test(rest.id) && !seen.has(rest.id) ? rest.id : newId();
    const bytes = lifted.jpegs.length < MOST_PHOTOS ? readBase64(jpeg) : null;
    seen.add(id);
    lifted.characters += jpeg.length;
    if (bytes) lifted.jpegs.push({ id, bytes });
    else unread += 1;
    return { ...rest, id };
  });
  if (unread) lifted.notes.push(unreadNote(unread));
  return { ...lifted, value: { ...value, photos } };
}

/** @param {number} count */
const unreadNote = (count) =>
  `${count} ${count === 1 ? 'photo' : 'photos'} in the file could not be read and ${count === 1 ? 'was' : 'were'} left there. A photo is a JPEG of 1 MB at most, and a job holds ${MOST_PHOTOS}. All else is here.`;

/** @param {string} text @returns {Uint8Array<ArrayBuffer> | null} a JPEG, or nothing */
function readBase64(text) {
  if (text.length > MOST_CHARACTERS) return null;
  try {
    const raw = atob(text);
    const bytes = new Uint8Array(raw.length);
    for (let index = 0; index < raw.length; index += 1) bytes[index] = raw.charCodeAt(index);
    return isJpeg(bytes) && bytes.length <= MOST_JPEG_BYTES ? bytes : null;
  } catch {
    return null; // no base64
  }
}

/**
 * The document with its pictures in it, to leave the phone. One that cannot be read stays a name.
 * @param {any} doc @param {(id: string) => Promise<Uint8Array | null>} jpegOf
 */
export async function withJpegs(doc, jpegOf) {
  if (!Array.isArray(doc.photos)) return doc;
  const photos = [];
  for (const photo of doc.photos) {
    const jpeg = typeof photo?.id === 'string' ? await jpegOf(photo.id) : null;
    photos.push(jpeg ? { ...photo, jpeg: base64(jpeg) } : photo);
  }
  return { ...doc, photos };
}

/** More arguments than this at once overflow the stack of some browsers. */
const AT_ONCE = 0x2000;

/** @param {Uint8Array} bytes */
function base64(bytes) {
  let raw = '';
  for (let start = 0; start < bytes.length; start += AT_ONCE) raw += String.fromCharCode(...bytes.subarray(start, start + AT_ONCE));
  return btoa(raw);
}
