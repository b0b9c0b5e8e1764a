// @ts-check
/**
 * Why this file exists: a phone's camera gives pictures of many megabytes, with
 * the place where they were taken written into them. The app keeps a small one.
 */
import { refused } from './refused.js';
import { MOST_JPEG_BYTES } from './store/photo_limits.js';

const LONGEST_SIDE = 1280;
/** The first that comes out small enough is kept; nearly always that is the first. */
const QUALITIES = [0.7, 0.5, 0.3];

/**
 * The picture as a JPEG, upright, its longest side 1280 px at most. Drawn anew, it carries its dots alone: where
 * and with what it was taken is gone.
 * @param {Blob} picture @returns {Promise<Blob>}
 */
export async function shrunk(picture) {
  const bitmap = await decoded(picture);
  const canvas = drawn(bitmap);
  bitmap.close();
  for (const quality of QUALITIES) {
    const jpeg = await encoded(canvas, quality);
    if (jpeg && jpeg.size <= MOST_JPEG_BYTES) return jpeg;
  }
  throw refused('no room for photo', 'The phone could not make this photo smaller. Close other apps and take it again.');
}

/** Cameras write which way is up beside the dots; from here on the dots themselves stand upright. @param {Blob} picture */
async function decoded(picture) {
  try {
    return await createImageBitmap(picture, { imageOrientation: 'from-image' });
  } catch {
    throw refused('no photo', 'This picture cannot be read. Take it again, or choose a JPEG or PNG.');
  }
}

/** @param {ImageBitmap} bitmap */
function drawn(bitmap) {
  const canvas = document.createElement('canvas');
  const scale = Math.min(1, LONGEST_SIDE / Math.max(bitmap.width, bitmap.height));
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d', { alpha: false }));
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/** @param {HTMLCanvasElement} canvas @param {number} quality @returns {Promise<Blob | null>} */
const encoded = (canvas, quality) => new Promise((done) => canvas.toBlob(done, 'image/jpeg', quality));
