// @ts-check
/** Why this file exists: the one place that knows where the template library lies. */
export { html, nothing, render, svg } from '../../vendor/lit-html/lit-html.js';
export { guard } from '../../vendor/lit-html/directives/guard.js';
export { live } from '../../vendor/lit-html/directives/live.js';
export { ref } from '../../vendor/lit-html/directives/ref.js';
export { repeat } from '../../vendor/lit-html/directives/repeat.js';
