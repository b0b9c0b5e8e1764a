// @ts-check
/**
 * Why this file exists: storage on a phone can be torn or altered. Every record
 * carries the schema it was written with and a checksum over all its fields, and
 * none is believed before both have been looked at.
 */

/** The shape of the records below; raise it when one changes, and read the older ones. */
export const SCHEMA = 1;

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >>> 1) ^ 0xedb88320 : rest >>> 1;
  return rest;
});

/**
 * CRC-32 of the UTF-8 bytes of a text (ISO 3309, ITU-T V.42; reflected 0xEDB88320).
 *
 * Synchronous on purpose: an IndexedDB transaction would not wait for a digest.
 * It finds accidents, not forgery; whoever can write here owns the page anyway.
 * @param {string} text
 */
export const crc32 = (text) => crc32OfBytes(new TextEncoder().encode(text));

/** @param {Uint8Array} bytes */
export function crc32OfBytes(bytes) {
  let rest = 0xffffffff;
  for (const byte of bytes) rest = TABLE[(rest ^ byte) & 0xff] ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
}

/** Random from the secure source where there is one; pages that are not secure lack randomUUID. */
export const newId = () => [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, '0')).join('');

/**
 * @template {object} Fields
 * @param {Fields} fields plain JSON values
 * @returns {Fields & {schema: number, checksum: number}}
 */
export function sealed(fields) {
  const { checksum: _, ...rest } = /** @type {any} */ (fields);
  const whole = { ...rest, schema: SCHEMA };
  return { ...whole, checksum: crc32(JSON.stringify(whole)) };
}

/**
 * What is wrong with a stored record: nothing, or a word for it.
 * @param {any} record
 * @returns {'' | 'missing' | 'newer' | 'damaged'}
 */
export function faultOf(record) {
  if (record === undefined) return 'missing';
  if (typeof record !== 'object' || record === null) return 'damaged';
  if (record.schema > SCHEMA) return 'newer';
  const { checksum, ...rest } = record;
  return crc32(JSON.stringify(rest)) === checksum ? '' : 'damaged';
}
