// @ts-check
/**
 * Why this file exists: a length typed by hand must never be taken a thousand
 * times too large or too small. Parsing only; nothing is rounded here.
 *
 * The rule: one decimal mark at most, comma or point. A mark that could just as
 * well part thousands (one to three digits that do not begin with 0, the mark,
 * exactly three digits: "1,234", "12.500") is refused, whatever the mark, for
 * keyboards and papers differ and nobody can tell. "0,125" (no thousands begin
 * with 0), "1234,567" (a group has at most three digits) and "1,2340" (a group
 * has exactly three) can be read in one way only and are taken.
 */

const NUMBER = /^([+\-−]?)(\d*)(?:[.,](\d*))?$/;
const LARGEST = 1e9;

/** @typedef {{value: number, sentence?: undefined} | {sentence: string, value?: undefined}} NumberRead */

/**
 * Read one number as typed.
 * @param {string} text
 * @returns {NumberRead} the value, or a sentence that says what to mend
 */
export function readNumber(text) {
  const typed = text.trim();
  if (typed === '') return { sentence: 'Type a number.' };
  const parts = NUMBER.exec(typed);
  if (!parts) return { sentence: notANumber(typed) };
  const [, sign, whole, decimals = ''] = parts;
  if (whole === '' && decimals === '') return { sentence: `“${typed}” has no digits. Type a number.` };
  if (isUnclear(whole, decimals)) return { sentence: unclear(typed, whole, decimals) };
  const value = Number(`${whole || '0'}.${decimals || '0'}`);
  if (value > LARGEST) return { sentence: `“${typed}” is too large. Type the measure in millimetres.` };
  return { value: sign === '-' || sign === '−' ? 0 - value : value };
}

/** @param {string} whole @param {string} decimals */
const isUnclear = (whole, decimals) => decimals.length === 3 && /^[1-9]\d{0,2}$/.test(whole);

/** @param {string} typed @param {string} whole @param {string} decimals */
const unclear = (typed, whole, decimals) =>
  `“${typed}” can be read as ${whole}${decimals} or as a decimal. ` +
  `Write ${whole}${decimals}, or ${typed}0 if the mark is a decimal mark.`;

/** @param {string} typed */
function notANumber(typed) {
  if (/\d[\s.,'’]+\d.*[.,'’\s]/.test(typed) || /\d[\s'’]\d/.test(typed)) {
    return `“${shown(typed)}” is not one plain number. Write it without spaces or thousands marks, such as 1234.5.`;
  }
  return `“${shown(typed)}” is not a number. Write digits only, with one comma or point for decimals.`;
}

/** @param {string} typed */
const shown = (typed) => (typed.length > 24 ? `${typed.slice(0, 24)}…` : typed);
