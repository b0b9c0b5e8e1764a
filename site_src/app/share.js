// @ts-check
/**
 * Why this file exists: files leave the phone by the share sheet where the
 * browser offers one for them, and as a download everywhere else.
 */

/** A file is its `text`, or its bytes in `base64`. @typedef {{name: string, text?: string, base64?: string, type?: string}} OutgoingFile */
/** @typedef {{done: boolean, how: 'shared' | 'downloaded' | 'stopped'}} Sent */

const TYPES = /** @type {Record<string, string>} */ ({
  json: 'application/json', csv: 'text/csv', svg: 'image/svg+xml', txt: 'text/plain', pdf: 'application/pdf',
  dxf: 'image/vnd.dxf',
});

/**
 * Hand files over. Call it from a tap: browsers open the share sheet for nothing else.
 * @param {OutgoingFile[]} outgoing
 * @returns {Promise<Sent>} `stopped` when the person closed the share sheet
 */
export async function sendFiles(outgoing) {
  const files = outgoing.map(asFile);
  if (!canShare(files)) return download(files);
  try {
    await navigator.share({ files });
    return { done: true, how: 'shared' };
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'AbortError') return { done: false, how: 'stopped' };
    return download(files);
  }
}

/** Save files as downloads, without asking the share sheet. @param {OutgoingFile[]} outgoing */
export const downloadFiles = async (outgoing) => download(outgoing.map(asFile));

/**
 * A file name made of a job's name, safe on every system.
 * @param {string} jobName
 * @param {string} ending such as `job.json`
 */
export function fileName(jobName, ending) {
  const plain = jobName.normalize('NFC').replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '');
  return `${plain.slice(0, 60) || 'floor'}.${ending}`;
}

/** @param {OutgoingFile} outgoing */
function asFile({ name, text = '', base64, type }) {
  const ending = name.slice(name.lastIndexOf('.') + 1);
  const content = base64 === undefined ? text : Uint8Array.from(atob(base64), (byte) => byte.charCodeAt(0));
  return new File([content], name, { type: type ?? TYPES[ending] ?? 'application/octet-stream' });
}

/** @param {File[]} files */
function canShare(files) {
  return typeof navigator.share === 'function' && navigator.canShare?.({ files }) === true;
}

/** @param {File[]} files @returns {Sent} */
function download(files) {
  for (const file of files) {
    const address = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = address;
    link.download = file.name;
    link.click();
    // The browser reads the blob after the click returns; a minute is ample.
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
  }
  return { done: true, how: 'downloaded' };
}
