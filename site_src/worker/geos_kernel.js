// @ts-check
/**
 * GEOS for the engine: one call per verb, flat arrays in, flat arrays out.
 *
 * Runs in the engine worker (and in Node for the conformance test). How shapes
 * are laid out in the arrays is written in engine/geometry/flat.py. All that is
 * decided about geometry (grid, margin, canonical form) is decided in Python;
 * here is only the conversation with GEOS.
 *
 * @typedef {{coords: Float64Array, counts: Int32Array, text: string}} Reply
 * @typedef {(verb: string, coords: Float64Array, counts: Int32Array, grid: number, margin: number) => Reply} Batch
 * @typedef {import("./geos_talk.js").Geos} Geos
 */

import { POINTER, Reader, Talk, Writer } from "./geos_talk.js";

/** Number of polygons that says: this board is whole, keep your own points. */
const UNTOUCHED = -1;

/**
 * Start GEOS.
 *
 * @param {(config: object) => Promise<Geos>} initGeosJs the default export of geos-wasm; it never rejects,
 *   hence the time limit
 * @param {number} [limitMs] longest wait
 * @returns {Promise<Batch>}
 */
export async function startGeos(initGeosJs, limitMs = 20_000) {
  const trouble = { text: "" };
  const config = {
    // A handler that throws would leave GEOS half-way; so only remember, and look at the result.
    errorHandler: (/** @type {string} */ text) => { trouble.text = text; },
    noticeHandler: () => {},
  };
  const geos = await withinTime(initGeosJs(config), limitMs);
  if (!geos._ctx) throw new Error("The geometry library did not start. Close the app and open it again.");
  return (verb, coords, counts, grid, margin) => {
    trouble.text = "";
    const talk = new Talk(geos, trouble);
    try {
      return answer(talk, verb, new Reader(coords, counts), grid, margin);
    } finally {
      talk.end();
    }
  };
}

/**
 * Wrap a batch function for Python, whose arrays arrive as proxies that lend their memory.
 *
 * @param {Batch} batch
 */
export function forPython(batch) {
  return (
    /** @type {string} */ verb, /** @type {any} */ coords, /** @type {any} */ counts,
    /** @type {number} */ grid, /** @type {number} */ margin,
  ) => {
    const doubles = coords.getBuffer("f64");
    try {
      const integers = counts.getBuffer("i32");
      try {
        return batch(verb, doubles.data, integers.data, grid, margin);
      } finally {
        integers.release();
      }
    } finally {
      doubles.release();
    }
  };
}

/**
 * @template T
 * @param {Promise<T>} promise
 * @param {number} limitMs
 * @returns {Promise<T>}
 */
async function withinTime(promise, limitMs) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  const limit = new Promise((_, reject) => {
    const late = "The geometry library did not start in time. Close the app and open it again.";
    timer = setTimeout(() => reject(new Error(late)), limitMs);
  });
  try {
    return await Promise.race([promise, /** @type {Promise<never>} */ (limit)]);
  } finally {
    clearTimeout(timer);
  }
}

/**
 * @param {Talk} talk
 * @param {string} verb
 * @param {Reader} reader
 * @param {number} grid
 * @param {number} margin
 * @returns {Reply}
 */
function answer(talk, verb, reader, grid, margin) {
  const { geos } = talk;
  const writer = new Writer();
  if (verb === "unite") {
    writer.region(talk, talk.keep(geos.GEOSUnaryUnionPrec(talk.region(reader), grid)));
  } else if (verb === "subtract") {
    const region = talk.region(reader);
    writer.region(talk, talk.keep(geos.GEOSDifferencePrec(region, talk.region(reader), grid)));
  } else if (verb === "clip") {
    clip(talk, reader, writer, grid, margin);
  } else if (verb === "fault") {
    return fault(talk, reader);
  } else {
    throw new Error(`The geometry library was asked for "${verb}", which it does not know.`);
  }
  return writer.reply();
}

/**
 * Boards clear of the region's edges are told by a prepared region; each of the others is cut with
 * the part of the region around it.
 *
 * @param {Talk} talk
 * @param {Reader} reader
 * @param {Writer} writer
 * @param {number} grid
 * @param {number} margin
 */
function clip(talk, reader, writer, grid, margin) {
  const { geos } = talk;
  const region = talk.region(reader);
  const prepared = talk.prepare(region);
  for (let left = reader.count(); left > 0; left -= 1) {
    const box = reader.nextBox();
    const board = talk.polygon(reader);
    if (!talk.isTrue(geos.GEOSPreparedIntersects(prepared, board))) {
      writer.counts.push(0);
    } else if (talk.isTrue(geos.GEOSPreparedCovers(prepared, board))) {
      writer.counts.push(UNTOUCHED);
    } else {
      writer.region(talk, cut(talk, region, board, box, grid, margin));
    }
    talk.release();
  }
}

/**
 * Cut one board with the part of the region around it, or with all of it where no part can be had.
 *
 * @param {Talk} talk
 * @param {number} region
 * @param {number} board
 * @param {number[]} box
 * @param {number} grid
 * @param {number} margin
 */
function cut(talk, region, board, [left, low, right, high], grid, margin) {
  const { geos } = talk;
  const around = geos.GEOSClipByRect(region, left - margin, low - margin, right + margin, high + margin);
  const part = around && geos.GEOSIntersectionPrec(talk.keep(around), board, grid);
  return talk.keep(part || geos.GEOSIntersectionPrec(region, board, grid));
}

/**
 * @param {Talk} talk
 * @param {Reader} reader
 * @returns {Reply}
 */
function fault(talk, reader) {
  const { geos } = talk;
  reader.count();
  const polygon = talk.polygon(reader);
  const answers = talk.scratch(2 * POINTER);
  geos.Module.HEAPU32.fill(0, answers / POINTER, answers / POINTER + 2);
  const sound = geos.GEOSisValidDetail(polygon, 0, answers, answers + POINTER);
  const [reason, place] = geos.Module.HEAPU32.slice(answers / POINTER, answers / POINTER + 2);
  try {
    if (sound === 1) return { coords: new Float64Array(), counts: new Int32Array(), text: "" };
    if (sound !== 0 || !place) throw talk.failure();
    const coords = talk.points(place).slice();
    return { coords, counts: new Int32Array(), text: geos.Module.UTF8ToString(reason) };
  } finally {
    if (reason) geos.GEOSFree(reason);
    if (place) geos.GEOSGeom_destroy(place);
  }
}
