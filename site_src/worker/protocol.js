// @ts-check
/**
 * Why this file exists: the page and the engine's worker agree here on what passes
 * between them. Types only; what stands in `text` and `reply` is engine/wire/requests.py and replies.py.
 *
 * @typedef {{reply: string, [key: string]: any}} Reply
 * @typedef {{step: string, done: number}} Progress
 * @typedef {{kind: 'start', cache: string | null} | {kind: 'ask', id: number, text: string}} ToWorker
 * @typedef {{kind: 'starting', step: string} | {kind: 'ready', fromCache: string | null}
 *   | {kind: 'failed', sentence: string, trace: string} | {kind: 'progress', id: number, progress: Progress}
 *   | {kind: 'reply', id: number, reply: Reply}} FromWorker
 */
export {};
