export { default } from 'geos-wasm';
