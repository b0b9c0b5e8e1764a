// @ts-check
/**
 * Why this file exists: a name from elsewhere may carry characters that are not
 * seen and that turn what stands beside it. They are taken out before it is kept.
 */

// C0 and C1 controls but tab and line feed; bidirectional marks, embeddings and
// isolates (Unicode UAX #9); the byte order mark.
const UNSEEN = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]/g;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** @param {string} text */
export const plainText = (text) => text.replace(UNSEEN, '').replace(LONE_SURROGATE, '');

/** One line, for names. @param {string} text */
export const plainName = (text) => plainText(text.replace(/[\t\n\r\u2028\u2029]+/g, ' ')).trim();

/**
 * The same value with every text and every key made plain. Keys that become equal lose
 * nothing: the caller is told by `clash`.
 * @param {any} value plain JSON
 * @returns {{value: any, changed: number, clash: boolean}}
 */
export function plainTexts(value) {
  const seen = { changed: 0, clash: false };
  return { value: plainValue(value, seen, ''), ...seen };
}

/** @param {any} value @param {{changed: number, clash: boolean}} seen @param {string} key @returns {any} */
function plainValue(value, seen, key) {
  if (typeof value === 'string') return counted(value, key === 'name' ? plainName(value) : plainText(value), seen);
  if (Array.isArray(value)) return value.map((item) => plainValue(item, seen, ''));
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([name, item]) => [counted(name, plainName(name), seen), plainValue(item, seen, name)]);
  const result = Object.fromEntries(entries);
  if (Object.keys(result).length !== entries.length) seen.clash = true;
  return result;
}

/** @param {string} old @param {string} plain @param {{changed: number}} seen */
function counted(old, plain, seen) {
  if (old !== plain) seen.changed += 1;
  return plain;
}
