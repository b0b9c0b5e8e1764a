// @ts-check
/**
 * Putting shapes into GEOS and taking them out, with everything it lends given back.
 *
 * GEOS hands out addresses; the views of its memory go stale when that memory
 * grows, so they are asked for anew at each use.
 *
 * @typedef {any} Geos the object that geos-wasm makes; its functions carry GEOS's own C names
 */

const POLYGON = 3;
const MULTIPOLYGON = 6;
const DOUBLE = 8;
export const POINTER = 4;

/** Reads shapes out of the two arrays, front to back. */
export class Reader {
  /** @param {Float64Array} coords @param {Int32Array} counts */
  constructor(coords, counts) {
    this.coords = coords;
    this.counts = counts;
    this.atCoord = 0;
    this.atCount = 0;
  }

  count() {
    this.atCount += 1;
    return this.counts[this.atCount - 1];
  }

  /** The coordinates of the next ring, its first point not repeated. */
  ring() {
    const start = this.atCoord;
    this.atCoord += 2 * this.count();
    return this.coords.subarray(start, this.atCoord);
  }

  /** Bounding box of the next polygon's outer ring, which stays to be read. */
  nextBox() {
    const points = this.counts[this.atCount + 1];
    const box = [Infinity, Infinity, -Infinity, -Infinity];
    for (let at = this.atCoord; at < this.atCoord + 2 * points; at += 2) {
      box[0] = Math.min(box[0], this.coords[at]);
      box[1] = Math.min(box[1], this.coords[at + 1]);
      box[2] = Math.max(box[2], this.coords[at]);
      box[3] = Math.max(box[3], this.coords[at + 1]);
    }
    return box;
  }
}

/** Collects regions for the reply. */
export class Writer {
  constructor() {
    /** @type {number[]} */
    this.counts = [];
    /** @type {Float64Array[]} */
    this.rings = [];
  }

  /** @param {Talk} talk @param {number} geometry lines and points in it are left out */
  region(talk, geometry) {
    const polygons = talk.polygonsOf(geometry);
    this.counts.push(polygons.length);
    for (const polygon of polygons) this.polygon(talk, polygon);
  }

  /** @param {Talk} talk @param {number} polygon */
  polygon(talk, polygon) {
    const { geos } = talk;
    const holes = geos.GEOSGetNumInteriorRings(polygon);
    this.counts.push(1 + holes);
    this.ring(talk, geos.GEOSGetExteriorRing(polygon));
    for (let hole = 0; hole < holes; hole += 1) this.ring(talk, geos.GEOSGetInteriorRingN(polygon, hole));
  }

  /** @param {Talk} talk @param {number} ring */
  ring(talk, ring) {
    const points = talk.points(ring).slice(0, -2);
    this.counts.push(points.length / 2);
    this.rings.push(points);
  }

  /** @returns {import("./geos_kernel.js").Reply} */
  reply() {
    const coords = new Float64Array(this.rings.reduce((sum, ring) => sum + ring.length, 0));
    let at = 0;
    for (const ring of this.rings) {
      coords.set(ring, at);
      at += ring.length;
    }
    return { coords, counts: Int32Array.from(this.counts), text: "" };
  }
}

/** One conversation with GEOS: remembers what it was lent and gives it back. */
export class Talk {
  /** @param {Geos} geos @param {{text: string}} trouble what GEOS last complained of */
  constructor(geos, trouble) {
    this.geos = geos;
    this.trouble = trouble;
    /** @type {number[]} geometries of the moment */
    this.lent = [];
    /** @type {number[]} geometries for the whole conversation */
    this.lasting = [];
    /** @type {number[]} */
    this.preparations = [];
    this.memory = 0;
    this.memorySize = 0;
  }

  failure() {
    return new Error(`The geometry library could not compute a shape: ${this.trouble.text || "no reason given"}`);
  }

  /** @param {number} geometry @returns {number} the same, or an error where GEOS gave none */
  keep(geometry) {
    if (!geometry) throw this.failure();
    this.lent.push(geometry);
    return geometry;
  }

  /** @param {number} verdict 0, 1 or 2 for a failure */
  isTrue(verdict) {
    if (verdict === 2) throw this.failure();
    return verdict === 1;
  }

  /** @param {number} bytes @returns {number} address of memory that the next call may use again */
  scratch(bytes) {
    if (bytes > this.memorySize) {
      if (this.memory) this.geos.Module._free(this.memory);
      this.memorySize = 0;
      this.memory = this.geos.Module._malloc(bytes);
      if (!this.memory) throw new Error("There is no memory left for the geometry. Close other apps and try again.");
      this.memorySize = bytes;
    }
    return this.memory;
  }

  /** @param {Float64Array} points @returns {number} a closed ring, kept */
  linearRing(points) {
    const { geos } = this;
    const address = this.scratch((points.length + 2) * DOUBLE);
    const heap = geos.Module.HEAPF64;
    heap.set(points, address / DOUBLE);
    heap.set(points.subarray(0, 2), address / DOUBLE + points.length);
    const sequence = geos.GEOSCoordSeq_copyFromBuffer(address, points.length / 2 + 1, 0, 0);
    if (!sequence) throw this.failure();
    return this.keep(geos.GEOSGeom_createLinearRing(sequence));
  }

  /** @param {Reader} reader @returns {number} the next polygon, kept */
  polygon(reader) {
    const [shell, ...holes] = this.handOver(reader.count(), () => this.linearRing(reader.ring()));
    return this.keep(this.withPointers(holes, (address) =>
      this.geos.GEOSGeom_createPolygon(shell, address, holes.length)));
  }

  /** @param {Reader} reader @returns {number} the next region as one multipolygon, kept until the end */
  region(reader) {
    const polygons = this.handOver(reader.count(), () => this.polygon(reader));
    const region = this.withPointers(polygons, (address) =>
      this.geos.GEOSGeom_createCollection(MULTIPOLYGON, address, polygons.length));
    if (!region) throw this.failure();
    this.lasting.push(region);
    return region;
  }

  /**
   * Make geometries that GEOS is about to own: ours until all are made, then no longer.
   *
   * @param {number} count
   * @param {() => number} make
   */
  handOver(count, make) {
    const before = this.lent.length;
    const made = Array.from({ length: count }, make);
    this.lent.length = before;
    return made;
  }

  /** @param {number[]} pointers @param {(address: number) => number} call */
  withPointers(pointers, call) {
    const address = this.scratch(Math.max(1, pointers.length) * POINTER);
    this.geos.Module.HEAPU32.set(pointers, address / POINTER);
    return call(address);
  }

  /** @param {number} region */
  prepare(region) {
    const prepared = this.geos.GEOSPrepare(region);
    if (!prepared) throw this.failure();
    this.preparations.push(prepared);
    return prepared;
  }

  /** @param {number} geometry @returns {number[]} its polygons, still owned by it */
  polygonsOf(geometry) {
    const { geos } = this;
    const count = geos.GEOSGetNumGeometries(geometry);
    const parts = Array.from({ length: count }, (_, place) => geos.GEOSGetGeometryN(geometry, place));
    return parts.filter((part) => geos.GEOSGeomTypeId(part) === POLYGON && !geos.GEOSisEmpty(part));
  }

  /** @param {number} line a ring, line or point @returns {Float64Array} a view that the next call overwrites */
  points(line) {
    const { geos } = this;
    const count = geos.GEOSGetNumCoordinates(line);
    const address = this.scratch(count * 2 * DOUBLE);
    if (!geos.GEOSCoordSeq_copyToBuffer(geos.GEOSGeom_getCoordSeq(line), address, 0, 0)) throw this.failure();
    return geos.Module.HEAPF64.subarray(address / DOUBLE, address / DOUBLE + 2 * count);
  }

  /** Give back the geometries of the moment. */
  release() {
    for (const geometry of this.lent) this.geos.GEOSGeom_destroy(geometry);
    this.lent = [];
  }

  /** Give back everything. */
  end() {
    for (const prepared of this.preparations) this.geos.GEOSPreparedGeom_destroy(prepared);
    this.release();
    for (const geometry of this.lasting) this.geos.GEOSGeom_destroy(geometry);
    if (this.memory) this.geos.Module._free(this.memory);
  }
}
