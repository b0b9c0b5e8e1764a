// @ts-check
/**
 * Why this file exists: a number that was typed and not taken when the page went is told in words once it is back. It
 * is not put into its field again, which may ask for something else by then; and not into the job: nobody took it.
 */
import { html, nothing } from './lit.js';

const KEY = 'typed and not taken';
/** @typedef {{label: string, text: string}} Typed what it was typed for, and what */

/** What was typed before this page, and in it, by the field's key. @type {Map<string, Typed>} */
const before = new Map(Object.entries(stored()));
/** @type {Map<string, Typed>} */
const now = new Map();
store();

/** @returns {Record<string, Typed>} */
function stored() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? '{}') ?? {};
  } catch {
    return {}; // storage that is closed or spoiled costs no more than these words
  }
}

function store() {
  try {
    localStorage.setItem(KEY, JSON.stringify(Object.fromEntries(now)));
  } catch {
    // As above.
  }
}

/** @param {string} key @param {string} label @param {string} text */
export function noteTyped(key, label, text) {
  if (text.trim()) now.set(key, { label, text });
  else now.delete(key);
  store();
}

/** It was taken, or let go. @param {string} key */
export function forgetTyped(key) {
  before.delete(key);
  if (now.delete(key)) store();
}

/** Said below the field, unless its number stands there. @param {string} key @param {string} shown */
export function typedBefore(key, shown) {
  const typed = before.get(key);
  return typed && typed.text !== shown
    ? html`<span class="hint">Typed before the page was loaded anew, not taken: ${typed.label} <strong>${typed.text}</strong></span>`
    : nothing;
}
