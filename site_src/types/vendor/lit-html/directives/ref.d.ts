export * from 'lit-html/directives/ref.js';
