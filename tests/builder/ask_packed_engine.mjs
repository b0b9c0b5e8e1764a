// Starts the built app's own runtime in Node and puts questions to it.
// Argument: the built app's folder, with questions.json in it. Prints the replies as the engine wrote them,
// and in the end loads whatever no question needed: a module that cannot be loaded is a fault here.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const folder = process.argv[2];
const { startEngine } = await import(pathToFileURL(join(folder, 'worker', 'runtime.js')).href);
const read = async (path) => readFileSync(path);
const engine = await startEngine(() => {}, join(folder, 'runtime/'), read);
const questions = JSON.parse(readFileSync(join(folder, 'questions.json'), 'utf8'));
const replies = questions.map((text) => engine.handle(text));
while (engine.loadMore());
process.stdout.write(JSON.stringify(replies));
