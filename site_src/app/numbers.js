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

/**
 * A reading as typed: a tape in the hand, or a laser that types like a keyboard and may write its unit behind the number.
 * The text is kept as it is; whether it makes sense in the room is the engine's to say.
 * @param {string} text @param {Unit} unit the unit in use
 * @returns {{typed: string, unit: Unit, sentence?: undefined} | {sentence: string, typed?: undefined}}
 */
export function readReading(text, unit) {
  const [, typed = '', said = ''] = /^\s*(.*?)\s*(mm|cm|m|in|)\s*$/i.exec(text) ?? [];
  const used = /** @type {Unit} */ (said.toLowerCase() || (/["″]$/.test(typed) ? 'in' : unit));
  if (used === 'in') return INCHES.test(typed) ? { typed: typed.replace(/\s*["″]$/, ''), unit: used } : { sentence: notInches(typed) };
  const { sentence } = readNumber(typed, used === 'mm');
  return sentence === undefined ? { typed, unit: used } : { sentence };
}

/** @typedef {'mm' | 'cm' | 'm' | 'in'} Unit */

/** Feet, whole inches and a fraction, or a decimal. */
const INCHES = /^[+\-−]?(?=.*\d)(\d+['’′]\s*)?(\d+[\s-]+)?(\d*[.,]?\d*|\d+\/\d+)\s*["″]?$/;
/** @param {string} typed */
const notInches = (typed) =>
  typed ? `“${shown(typed)}” is not a length in inches. Type it such as 12 5/8 or 12.5.` : 'Type a number.';

const NUMBER = /^([+\-−]?)(\d*)(?:[.,](\d*))?$/;
const LARGEST = 1e9;

/** @typedef {{value: number, sentence?: undefined} | {sentence: string, value?: undefined}} NumberRead */

/**
 * Read one number as typed.
 * @param {string} text
 * @param {boolean} [mayBeThousands] only in millimetres can a mark be taken for one that parts thousands
 * @returns {NumberRead} the value, or a sentence that says what to mend
 */
export function readNumber(text, mayBeThousands = true) {
  const typed = text.trim();
  if (typed === '') return { sentence: 'Type a number.' };
  const parts = NUMBER.exec(typed);
  if (!parts) return { sentence: notANumber(typed) };
  const [, sign, whole, decimals = ''] = parts;
  if (whole === '' && decimals === '') return { sentence: `“${typed}” has no digits. Type a number.` };
  if (mayBeThousands && isUnclear(whole, decimals)) return { sentence: unclear(typed, whole, decimals) };
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
