// Promises of worker/geos_kernel.js that only show on the JavaScript side.
// Arguments: the site_src folder, the geos-wasm package folder. Ends with an error when one is broken.
import assert from "node:assert/strict";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [site, geosFolder] = process.argv.slice(2).map((path) => resolve(path));
const load = (/** @type {string[]} */ ...parts) => import(pathToFileURL(join(...parts)).href);
const { startGeos, forPython } = await load(site, "worker", "geos_kernel.js");
const initGeosJs = (await load(geosFolder, "build", "package", "geos.esm.js")).default;

const GRID = 1e-6;
const MARGIN = 1.7;
const square = (/** @type {number} */ x, /** @type {number} */ side) => [x, 0, x + side, 0, x + side, side, x, side];

async function aStartThatNeverEndsIsRefused() {
  await assert.rejects(startGeos(() => new Promise(() => {}), 20), /did not start in time/);
  await assert.rejects(startGeos(async () => ({}), 20), /did not start\./);
}

/** @param {any} batch */
function anUnknownVerbIsRefused(batch) {
  assert.throws(() => batch("melt", new Float64Array(), Int32Array.from([0]), GRID, MARGIN), /"melt"/);
}

/** @param {any} batch */
function aRingThatGeosRefusesBecomesASentence(batch) {
  const onePoint = Float64Array.from([5, 5]);
  const ask = () => batch("unite", onePoint, Int32Array.from([1, 1, 1]), GRID, MARGIN);
  assert.throws(ask, /could not compute a shape: .*point/i);
}

/** @param {any} batch @param {any} geos */
function memoryDoesNotGrow(batch, geos) {
  const coords = Float64Array.from([...square(0, 100), ...Array.from({ length: 40 }, (_, k) => square(k * 4 - 30, 25)).flat()]);
  const counts = Int32Array.from([1, 1, 4, 40, ...Array(40).fill([1, 4]).flat()]);
  const union = Int32Array.from([41, ...Array(41).fill([1, 4]).flat()]);
  const work = () => {
    batch("clip", coords, counts, GRID, MARGIN);
    batch("unite", coords, union, GRID, MARGIN);
    for (let time = 0; time < 5; time += 1) batch("fault", Float64Array.from([0, 0, 2, 0, 0, 2, 2, 2]), Int32Array.from([1, 1, 4]), GRID, MARGIN);
    assert.throws(() => batch("subtract", Float64Array.from([...square(0, 9), 1, 1]), Int32Array.from([1, 1, 4, 1, 1, 1]), GRID, MARGIN));
  };
  for (let turn = 0; turn < 20; turn += 1) work();
  // The allocator hands out the same address again when all has been given back.
  const probe = () => {
    const address = geos.Module._malloc(4_000_000);
    geos.Module._free(address);
    return address;
  };
  const before = probe();
  const size = geos.Module.HEAPU8.length;
  for (let turn = 0; turn < 400; turn += 1) work();
  assert.equal(geos.Module.HEAPU8.length, size);
  assert.ok(Math.abs(probe() - before) < 10_000, `${probe() - before} bytes were not given back`);
}

/** @param {any} batch */
function buffersLentByPythonAreReleasedEvenOnAnError(batch) {
  let open = 0;
  const lend = (/** @type {any} */ data) => ({
    getBuffer: () => {
      open += 1;
      return { data, release: () => { open -= 1; } };
    },
  });
  const reply = forPython(batch)("fault", lend(Float64Array.from(square(0, 9))), lend(Int32Array.from([1, 1, 4])), GRID, MARGIN);
  assert.equal(reply.text, "");
  assert.throws(() => forPython(batch)("melt", lend(new Float64Array()), lend(Int32Array.from([0])), GRID, MARGIN));
  assert.equal(open, 0);
}

await aStartThatNeverEndsIsRefused();
const batch = await startGeos(initGeosJs);
const geos = await initGeosJs();
anUnknownVerbIsRefused(batch);
aRingThatGeosRefusesBecomesASentence(batch);
buffersLentByPythonAreReleasedEvenOnAnError(batch);
memoryDoesNotGrow(batch, geos);
