// @ts-check
/** Why this file exists: what counts as a photo that a job may hold, the same for one just taken and for one from a file. */

/** A picture of 1280 px is a fifth of this; what is larger was not shrunk by the app. */
export const MOST_JPEG_BYTES = 1024 * 1024;
/** All of them fit a job file that a phone can still read in one piece. */
export const MOST_PHOTOS = 60;

/** Every JPEG file begins with the marker SOI and the first byte of the next one (ITU-T T.81, B.1.1.3). @param {Uint8Array} bytes */
export const isJpeg = (bytes) => bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff;
