// @ts-check
/** Why this file exists: what the user wishes for the place of the pattern, as edits of the job. */
import { change, desk, putInto } from './desk.js';

/** @typedef {import('./messages.js').SettingOut} SettingOut */
/** @typedef {import('./store/index.js').Edit} Edit */

/** @returns {SettingOut} */
export const wishes = () => desk.job?.doc.setting_out ?? {};

/** @param {keyof SettingOut} key @param {any} value @param {string} words */
export const wish = (key, value, words) => putInto('setting_out', { [key]: value }, words);

/**
 * Wish a list anew that may have been changed a moment before.
 * @param {'edges' | 'through'} key @param {(list: any[]) => any[]} changed @param {string} words
 */
export const wishList = (key, changed, words) =>
  change((doc) => [{ path: ['setting_out', key], value: changed(doc.setting_out?.[key] ?? []) }], words);

/** @typedef {{from: string, to: string, weight?: number}} Edge */

/** @param {Edge} edge @param {{from: string, to: string}} wall */
const isAlong = (edge, wall) =>
  (edge.from === wall.from && edge.to === wall.to) || (edge.from === wall.to && edge.to === wall.from);

/** How much a wall matters; 0 where it does not. @param {{from: string, to: string}} wall */
export const weightOf = (wall) => {
  const edge = wishes().edges?.find((each) => isAlong(each, wall));
  return edge ? (edge.weight ?? 1) : 0;
};

/** @param {{from: string, to: string}} wall @param {number} weight 0: it no longer matters */
export const letMatter = ({ from, to }, weight) =>
  wishList(
    'edges',
    (edges) => {
      const others = edges.filter((edge) => !isAlong(edge, { from, to }));
      return weight ? [...others, weight === 1 ? { from, to } : { from, to, weight }] : others;
    },
    weight ? `${from}–${to} matters` : `${from}–${to} no longer matters`,
  );

/** Put the pattern somewhere: its boards are counted anew. @param {{anchor: number[], axis?: number}} place @param {string} words */
export function putPattern({ anchor, axis }, words) {
  /** @type {Edit[]} */
  const edits = [{ path: ['floor', 'anchor'], value: anchor }];
  if (axis !== undefined && axis !== (desk.job?.doc.floor.axis ?? 90)) edits.push({ path: ['floor', 'axis'], value: axis });
  if (desk.job?.doc.floor.count_from) edits.push({ path: ['floor', 'count_from'], remove: true });
  return change(edits, words);
}

/** Where the pattern sits now. */
export const placeNow = () => {
  const { anchor, axis = 90 } = desk.job?.doc.floor ?? { anchor: [0, 0] };
  return { anchor, axis };
};
