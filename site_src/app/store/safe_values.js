// @ts-check
/**
 * Why this file exists: whatever enters a job, by file or by hand, is plain JSON
 * of a bounded size, with no key that reaches into the language and no number
 * that no floor can have.
 */

/** @typedef {import('../refused.js').Finding} Finding */

export const MOST_VALUES = 200_000;
export const DEEPEST = 24;
export const LONGEST_TEXT = 20_000;
/** A thousand kilometres in millimetres. */
export const LARGEST_NUMBER = 1e9;
const MOST_FINDINGS = 20;

const UNSAFE_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

/** @param {unknown} key */
export const isUnsafeKey = (key) => typeof key === 'string' && UNSAFE_KEYS.has(key);

/**
 * All that keeps a value out of a job. Walks without recursion, so no nesting can exhaust the stack.
 * @param {unknown} value
 * @param {readonly (string | number)[]} [root] path of the value
 * @returns {Finding[]} the first few, each with its path
 */
export function faultsOfValue(value, root = []) {
  /** @type {Finding[]} */
  const findings = [];
  /** @type {{value: unknown, path: readonly (string | number)[]}[]} */
  const waiting = [{ value, path: root }];
  let count = 0;
  for (let next = waiting.pop(); next && findings.length < MOST_FINDINGS; next = waiting.pop()) {
    count += 1;
    if (count > MOST_VALUES) return [...findings, tooMany()];
    findings.push(...faultsHere(next.value, next.path, next.path.length - root.length));
    // One by one: a list spread into arguments overflows the stack when it is long.
    for (const item of inside(next.value, next.path, next.path.length - root.length)) waiting.push(item);
  }
  return findings;
}

/** @param {unknown} value @param {readonly (string | number)[]} path @param {number} depth */
function inside(value, path, depth) {
  if (typeof value !== 'object' || value === null || depth > DEEPEST) return [];
  if (Array.isArray(value)) return value.map((item, index) => ({ value: item, path: [...path, index] })).reverse();
  return Object.entries(value).map(([key, item]) => ({ value: item, path: [...path, key] })).reverse();
}

/** @param {unknown} value @param {readonly (string | number)[]} path @param {number} depth @returns {Finding[]} */
function faultsHere(value, path, depth) {
  const place = pathText(path);
  const key = path[path.length - 1];
  if (isUnsafeKey(key)) return [finding(place, 'unsafe key', `The name “${key}” cannot be used. Choose another.`)];
  if (depth > DEEPEST) return [finding(place, 'too deep', `This is nested more than ${DEEPEST} deep. A job is not.`)];
  return faultsOfKind(value, place);
}

/** @param {unknown} value @param {string} place @returns {Finding[]} */
function faultsOfKind(value, place) {
  switch (typeof value) {
    case 'boolean':
      return [];
    case 'number':
      return Number.isFinite(value) && Math.abs(value) <= LARGEST_NUMBER ? [] : [badNumber(place)];
    case 'string':
      return value.length <= LONGEST_TEXT ? [] : [finding(place, 'too long', 'This text is too long. Shorten it.')];
    case 'object':
      return isPlain(value) ? [] : [notPlain(place)];
    default:
      return [notPlain(place)];
  }
}

/** @param {object | null} value */
function isPlain(value) {
  if (value === null || Array.isArray(value)) return true;
  const prototype = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

/** @param {readonly (string | number)[]} path such as ["room", "walls", 2] → `room.walls[2]` */
export const pathText = (path) =>
  path.map((part, index) => (typeof part === 'number' ? `[${part}]` : index ? `.${part}` : part)).join('').slice(0, 200);

/** @param {string} path @param {string} code @param {string} sentence @returns {Finding} */
const finding = (path, code, sentence) => ({ path, code, sentence });
/** @param {string} place */
const badNumber = (place) => finding(place, 'absurd number', 'This number is too large for any floor. Measures are in millimetres.');
/** @param {string} place */
const notPlain = (place) => finding(place, 'not plain', 'Only texts, numbers, yes or no, lists and named values can be kept in a job.');
const tooMany = () => finding('', 'too many', `This holds more than ${MOST_VALUES} values. A job does not.`);
