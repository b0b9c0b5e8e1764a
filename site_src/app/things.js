// @ts-check
/** Why this file exists: the kinds of things that a floor goes round, what each is asked for, and what it is called. */

/**
 * `shape` is asked for only where it is 'either'. `pair`: two of them, one after the other.
 * @typedef {{key: string, words: string, kind: string, shape: 'round' | 'corners' | 'either', pair?: boolean}} Kind
 */

/** @type {readonly Kind[]} */
export const KINDS = [
  { key: 'pipe', words: 'Pipe', kind: 'pipe', shape: 'round' },
  { key: 'pipes', words: 'Pair of pipes', kind: 'pipe', shape: 'round', pair: true },
  { key: 'island', words: 'Island', kind: 'island', shape: 'corners' },
  { key: 'plinth', words: 'Plinth', kind: 'plinth', shape: 'corners' },
  { key: 'chimney breast', words: 'Chimney breast', kind: 'chimney breast', shape: 'corners' },
  { key: 'column', words: 'Column', kind: 'column', shape: 'either' },
  { key: 'door lining', words: 'Door lining', kind: 'door lining', shape: 'corners' },
  { key: 'threshold', words: 'Threshold', kind: 'threshold', shape: 'corners' },
  { key: 'opening', words: 'Opening', kind: 'opening', shape: 'corners' },
  { key: 'other', words: 'Other', kind: 'other', shape: 'either' },
];

/** All round a floating floor: common practice, no source. */
export const USUAL_GAP = 10;

/** @param {string | undefined} kind */
export const kindWords = (kind) => KINDS.find(({ key }) => key === (kind ?? 'other'))?.words ?? 'Other';

/** Names that no other thing has, for readings and photos know a thing by its name. @param {any} doc @param {string} wanted @param {number} [count] */
export function freeThingNames(doc, wanted, count = 1) {
  const taken = new Set((doc.room.fixed ?? []).map((/** @type {any} */ { name }) => name));
  const numbered = Array.from({ length: taken.size + count }, (_, index) => `${wanted} ${index + (count === 1 ? 2 : 1)}`);
  return [...(count === 1 ? [wanted] : []), ...numbered].filter((name) => !taken.has(name)).slice(0, count);
}
