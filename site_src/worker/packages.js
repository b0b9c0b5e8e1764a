// @ts-check
/**
 * Why this file exists: it lays the packages that the lock file names where Python
 * finds them. The runtime's own loader unpacks archives of every kind, in Python, and loads a
 * part of the library for that which nothing else needs; ours are only stored.
 */

/** Where the packages lie for Python. */
const FOLDER = '/packages';
/** How each file in a zip archive begins; source: PKWARE, APPNOTE.TXT 4.3.7. */
const FILE_HEADER = 0x04034b50;
const HEADER_LENGTH = 30;

/** @typedef {(address: string, integrity: string) => Promise<Uint8Array>} Read */
/** @typedef {{packages: Record<string, {file_name: string, sha256: string}>}} Lock as pyodide-lock writes it */

/**
 * Every package's archive.
 * @param {Lock} lock @param {string} folder @param {Read} read
 */
export const readPackages = ({ packages }, folder, read) => Promise.all(Object.values(packages).map(
  ({ file_name, sha256 }) => read(folder + file_name, integrityOf(sha256))));

/** Lay them. @param {any} python the running runtime @param {Uint8Array[]} archives */
export function layPackages(python, archives) {
  const made = new Set();
  for (const [path, content] of archives.flatMap((archive) => [...filesOf(archive)])) {
    const target = `${FOLDER}/${path}`;
    const parent = target.slice(0, target.lastIndexOf('/'));
    if (!made.has(parent)) python.FS.mkdirTree(parent);
    made.add(parent);
    python.FS.writeFile(target, content, { canOwn: true });
  }
  python.pyimport('sys').path.append(FOLDER);
}

/**
 * What is in a zip archive whose files are stored, front to back.
 * @param {Uint8Array} archive
 * @returns {Generator<[path: string, content: Uint8Array]>}
 */
function* filesOf(archive) {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const text = new TextDecoder();
  for (let at = 0; view.getUint32(at, true) === FILE_HEADER;) {
    const name = at + HEADER_LENGTH;
    const nameEnd = name + view.getUint16(at + 26, true);
    const content = nameEnd + view.getUint16(at + 28, true);
    at = content + view.getUint32(at + 18, true);
    yield [text.decode(archive.subarray(name, nameEnd)), archive.subarray(content, at)];
  }
}

/** As `fetch` wants it. @param {string} sha256 in hexadecimal digits */
function integrityOf(sha256) {
  const bytes = (sha256.match(/../g) ?? []).map((pair) => parseInt(pair, 16));
  return `sha256-${btoa(String.fromCharCode(...bytes))}`;
}
