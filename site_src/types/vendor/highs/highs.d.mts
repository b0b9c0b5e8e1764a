export { default } from 'highs';
