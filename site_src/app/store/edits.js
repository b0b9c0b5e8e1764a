// @ts-check
/**
 * Why this file exists: a change to a job is a list of edits, each at a path, and
 * each knows how it is taken back. Pure; the document given is never touched.
 */
import { refused } from '../refused.js';
import { faultsOfValue, isUnsafeKey } from './safe_values.js';

/** @typedef {(string | number)[]} Path */
/**
 * One edit. `value` puts, `remove` takes out. In a list, `insert` moves the rest
 * up, and an index equal to its length appends. `before` is the key a new entry
 * stands in front of, so that what is taken back stands where it stood.
 * @typedef {{path: Path, value?: any, remove?: boolean, insert?: boolean, before?: string}} Edit
 */
/** @typedef {{doc: any, back: Edit[]}} Edited */

/**
 * Apply edits in order.
 * @param {any} doc
 * @param {readonly Edit[]} edits
 * @returns {Edited} the new document, and the edits that lead back
 */
export function applyEdits(doc, edits) {
  /** @type {Edit[]} */
  const back = [];
  let current = doc;
  for (const edit of edits) {
    checkEdit(edit);
    const step = at(current, edit.path, 0, edit);
    current = step.doc;
    back.unshift(step.back);
  }
  return { doc: current, back };
}

/** @param {Edit} edit */
function checkEdit(edit) {
  const { path } = edit;
  if (!Array.isArray(path) || path.length === 0) throw refused('edit path', 'An edit needs a path.');
  if (path.some(isUnsafeKey)) throw refused('unsafe key', 'This name cannot be used. Choose another.', path.join('.'));
  if (edit.remove) return;
  const [fault] = faultsOfValue(edit.value, path);
  if (fault) throw refused(fault.code, fault.sentence, fault.path);
}

/**
 * @param {any} holder
 * @param {Path} path
 * @param {number} depth
 * @param {Edit} edit
 * @returns {{doc: any, back: Edit}}
 */
function at(holder, path, depth, edit) {
  const key = path[depth];
  checkHolder(holder, key, path, depth);
  if (depth === path.length - 1) return Array.isArray(holder) ? inList(holder, edit) : inObject(holder, edit);
  if (holder[key] === undefined && !edit.remove) return at(holder, path.slice(0, depth + 1), depth, wrapped(edit, depth));
  const step = at(holder[key], path, depth + 1, edit);
  return { doc: withValue(holder, key, step.doc), back: step.back };
}

/**
 * The edit that makes what is missing on the way to its place (`progress` of a new job) and puts the value in it.
 * @param {Edit} edit @param {number} depth of the missing holder @returns {Edit}
 */
function wrapped({ path, value }, depth) {
  const inner = path.slice(depth + 1);
  if (inner.some((key) => typeof key === 'number' && key !== 0)) throw refused('edit path', 'This place is not in the job.', path.join('.'));
  const whole = inner.reduceRight((held, key) => (typeof key === 'number' ? [held] : { [key]: held }), value);
  return { path: path.slice(0, depth + 1), value: whole };
}

/** @param {any} holder @param {string | number} key @param {Path} path @param {number} depth */
function checkHolder(holder, key, path, depth) {
  const isList = Array.isArray(holder);
  const fits = isList ? Number.isInteger(key) : typeof holder === 'object' && holder !== null && typeof key === 'string';
  if (!fits) throw refused('edit path', 'This place is not in the job.', path.slice(0, depth + 1).join('.'));
}

/** @param {any} holder @param {string | number} key @param {any} value */
function withValue(holder, key, value) {
  const copy = Array.isArray(holder) ? [...holder] : { ...holder };
  copy[key] = value;
  return copy;
}

/** @param {any[]} list @param {Edit} edit @returns {{doc: any[], back: Edit}} */
function inList(list, { path, value, remove, insert }) {
  const index = Number(path[path.length - 1]);
  const adds = !remove && (insert || index === list.length);
  if (index < 0 || index > list.length - (adds ? 0 : 1)) {
    throw refused('edit path', 'This place is not in the list.', path.join('.'));
  }
  if (remove) return { doc: list.toSpliced(index, 1), back: { path, value: list[index], insert: true } };
  if (adds) return { doc: list.toSpliced(index, 0, value), back: { path, remove: true } };
  return { doc: list.with(index, value), back: { path, value: list[index] } };
}

/** @param {Record<string, any>} object @param {Edit} edit @returns {{doc: any, back: Edit}} */
function inObject(object, { path, value, remove, before }) {
  const key = String(path[path.length - 1]);
  const has = Object.hasOwn(object, key);
  if (!remove && has) return { doc: { ...object, [key]: value }, back: { path, value: object[key] } };
  if (!remove) return { doc: placed(object, key, value, before), back: { path, remove: true } };
  if (!has) throw refused('edit path', 'There is nothing here to take out.', path.join('.'));
  const { [key]: old, ...rest } = object;
  const keys = Object.keys(object);
  const next = keys[keys.indexOf(key) + 1];
  return { doc: rest, back: next === undefined ? { path, value: old } : { path, value: old, before: next } };
}

/** @param {Record<string, any>} object @param {string} key @param {any} value @param {string} [before] */
function placed(object, key, value, before) {
  const entries = Object.entries(object);
  const index = entries.findIndex(([name]) => name === before);
  return Object.fromEntries(entries.toSpliced(index < 0 ? entries.length : index, 0, [key, value]));
}
