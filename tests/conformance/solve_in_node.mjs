// Solves integer programmes by the app's own solver in Node, as its worker does.
// Arguments: the site_src folder, the folder of the highs package, a JSON file with their texts. Prints what came.
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [site, highsFolder, texts] = process.argv.slice(2).map((path) => resolve(path));
const load = (/** @type {string[]} */ ...parts) => import(pathToFileURL(join(...parts)).href);
const { solve } = await load(site, 'worker', 'solver.js');
const highs = await (await load(highsFolder, 'build', 'highs.mjs')).default();
const solved = JSON.parse(readFileSync(texts, 'utf8')).map((/** @type {string} */ text) => {
  let news = 0;
  return { ...solve(highs, text, () => (news += 1)), news };
});
process.stdout.write(JSON.stringify(solved));
