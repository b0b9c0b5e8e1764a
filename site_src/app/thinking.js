// @ts-check
/**
 * Why this file exists: after every change the engine is asked again, once the
 * hand rests. An answer to an older state of the job is shown as such.
 */
import { desk, isPlanCurrent, isRoomCurrent, NUMBERS_KEPT, planKey, redraw, setting } from './desk.js';

const REST_MS = 250;
/** Where the pattern is moved step by step the plan waits longer: while it is made no move can be answered. */
const REST_MOVING_MS = 2000;
/** How many times larger the offsets are drawn when the bow is to be seen. */
export const EXAGGERATION = 20;

/** @type {import('./engine_client.js').Engine | null} */
let engine = null;
/** The job the engine is at work for, and the way to end that. @type {{job: string, control: AbortController} | null} */
let running = null;
let timer = 0;

/** @param {import('./engine_client.js').Engine} client */
export function wireEngine(client) {
  engine = client;
  engine.onState(({ state, step, sentence }) => {
    desk.engine = state === 'asleep' ? 'starting' : state;
    desk.engineSentence = sentence;
    desk.busy = state === 'starting' ? ['The engine is starting', step].filter(Boolean).join(': ') : '';
    redraw();
  });
}

/** @param {object} request */
export const askEngine = (request) => /** @type {import('./engine_client.js').Engine} */ (engine).ask(request);

export const restartEngine = () => engine?.restart();

/** The kept plan of the job that was just opened, until the engine gives a new one. */
export async function showKeptPlan() {
  const { store, job } = desk;
  desk.plan = null;
  desk.planOf = '';
  desk.roomOf = '';
  desk.planIsKept = false;
  desk.findings = [];
  if (!store || !job) return;
  const kept = await store.loadResult(job.id, 'plan');
  if (kept && desk.job?.id === job.id && !desk.plan) {
    desk.plan = kept.value;
    desk.planOf = kept.value.of;
    desk.roomOf = kept.value.of;
    desk.planIsKept = true;
    desk.findings = kept.value.findings;
  }
  redraw();
}

/** The job changed: ask when the hand rests. */
export function thinkSoon() {
  clearTimeout(timer);
  timer = window.setTimeout(() => void think(), desk.route.screen === 'place' ? REST_MOVING_MS : REST_MS);
}

/** The hand moves on without a change of the job: what waits for its rest waits on. */
export const handMoves = () => void (timer && thinkSoon());

/** Ask now. */
export async function think() {
  clearTimeout(timer);
  timer = 0;
  const { job } = desk;
  if (!job || !engine) return;
  if (running?.job === job.id) return; // ending a computation costs a new start: let it come to its end, then ask again
  running?.control.abort();
  if (isPlanCurrent() && !desk.planIsKept) desk.findings = desk.plan.findings;
  else if (!(isSurveying() && isRoomCurrent())) await askFor(job);
  redraw();
}

/** @param {import('./store/heads.js').OpenJob} job */
async function askFor(job) {
  const mine = { job: job.id, control: new AbortController() };
  running = mine;
  try {
    await answer(job, mine.control);
  } catch (fault) {
    if (!mine.control.signal.aborted) throw fault;
  }
  if (running !== mine) return;
  running = null;
  desk.busy = '';
  // A hand that moves still is waited for.
  if (!timer && desk.job && planKey(desk.job.doc) !== planKey(job.doc)) void think();
}

/** @param {import('./store/heads.js').OpenJob} job @param {AbortController} mine */
async function answer(job, { signal }) {
  const ask = (/** @type {string} */ what) =>
    /** @type {import('./engine_client.js').Engine} */ (engine).ask(
      { ask: what, job: job.doc, exaggerate: EXAGGERATION, decimal: setting('decimal', '.') },
      { onProgress, signal },
    );
  if (isSurveying()) return takeRoom(job, await ask('room'));
  if (ROOM_FIRST.has(desk.route.screen)) takeRoom(job, await ask('room'));
  if (desk.engine === 'ready') desk.busy = 'Working out the plan…';
  redraw();
  const plan = await ask('plan');
  if (plan.reply !== 'refused') return take(job, plan);
  const room = await ask('room');
  take(
    job,
    room.reply === 'room'
      ? { ...room, findings: [...plan.findings, ...room.findings.filter(isNew(plan.findings))] }
      : plan,
  );
}

/** While readings are taken only the room is drawn anew: it is there at once, and the pieces can wait. */
const isSurveying = () => desk.route.screen === 'read';

/** Screens that show the room: it is drawn anew before the pieces are worked out. */
const ROOM_FIRST = new Set(['room', 'corners', 'wall', 'thing']);

/** @param {any[]} known */
const isNew = (known) => (/** @type {any} */ found) => !known.some(({ sentence }) => sentence === found.sentence);

/** @param {{step: string}} progress */
function onProgress({ step }) {
  desk.busy = step;
  redraw();
}

/** @param {import('./store/heads.js').OpenJob} job @param {any} reply */
function take(job, reply) {
  if (!isAnswer(job, reply)) return;
  desk.plan = reply;
  desk.planOf = planKey(job.doc);
  desk.roomOf = desk.planOf;
  desk.planIsKept = false;
  void keep(job, reply);
}

/** The room of a plan that is not worked out anew yet. @param {import('./store/heads.js').OpenJob} job @param {any} reply */
function takeRoom(job, reply) {
  if (!isAnswer(job, reply)) return;
  const { plan } = desk;
  desk.plan = { ...plan, room: reply.room, patterns: reply.patterns, findings: reply.findings, formulas: { ...plan?.formulas, ...reply.formulas } };
  desk.roomOf = planKey(job.doc);
}

/** Findings are taken, faults told. @param {import('./store/heads.js').OpenJob} job @param {any} reply */
function isAnswer(job, reply) {
  if (desk.job?.id !== job.id) return false;
  if (reply.reply === 'fault') {
    desk.wrong = `The engine could not work this out (${reply.name}: ${reply.message}). The job is saved. Undo the last change, or export the job.`;
    return false;
  }
  desk.findings = reply.findings;
  return reply.reply !== 'refused';
}

/** @param {import('./store/heads.js').OpenJob} job @param {any} reply */
async function keep(job, reply) {
  try {
    await desk.store?.saveResult(job.id, 'plan', { ...reply, plan: undefined, of: planKey(job.doc) }, job.seq);
    if (!job.readOnly && reply.count_from && !job.doc.floor.count_from) await keepNumbers(job, reply.count_from);
  } catch (fault) {
    console.warn(fault); // it can be computed again
  }
}

/** Piece numbers stay the same from now on, whatever is read again. @param {import('./store/heads.js').OpenJob} job @param {any} countFrom */
async function keepNumbers(job, countFrom) {
  const { store } = desk;
  // A mark that was set meanwhile takes nothing from the numbers, a change of the floor does.
  if (!store || desk.job?.id !== job.id || planKey(desk.job.doc) !== planKey(job.doc)) return;
  const next = await store.change(job.id, [{ path: ['floor', 'count_from'], value: countFrom }], NUMBERS_KEPT);
  if (desk.job?.id === next.id) desk.job = next;
  redraw();
}
