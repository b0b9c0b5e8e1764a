// @ts-check
/**
 * Why this file exists: everything that refuses on the page refuses in the same
 * way, with sentences a person can act on, so a screen shows them without
 * knowing who refused.
 */

/** @typedef {{path: string, code: string, sentence: string}} Finding */

/** Something was not done, nothing was changed; `findings` say why and how to mend it. */
export class Refused extends Error {
  /** @param {...Finding} findings */
  constructor(...findings) {
    super(findings.map((finding) => finding.sentence).join(' '));
    this.name = 'Refused';
    this.findings = findings;
  }
}

/**
 * @param {string} code
 * @param {string} sentence
 * @param {string} [path]
 */
export const refused = (code, sentence, path = '') => new Refused({ path, code, sentence });
