// @ts-check
/** Why this file exists: it brings store, engine and screens together, and shows the screen of the address. */
import { attempt, desk, isPlanCurrent, redraw, setting, wireDesk } from './desk.js';
import { openEngine } from './engine_client.js';
import { cacheInUse, openOffline } from './offline.js';
import { dressPage } from './parts/frame.js';
import { render } from './parts/lit.js';
import { routeKey } from './parts/reading_entry.js';
import { jobAddress, readRoute, replaceWith } from './routes.js';
import { boardsScreen } from './screens/boards.js';
import { cornersScreen } from './screens/corners.js';
import { cutScreen } from './screens/cut.js';
import { binScreen, jobsScreen, listJobs, openDemo, startScreen } from './screens/jobs.js';
import { licencesScreen } from './screens/licences.js';
import { longCutScreen } from './screens/long_cut.js';
import { moreScreen } from './screens/more.js';
import { pieceScreen } from './screens/piece.js';
import { planScreen } from './screens/plan.js';
import { readingsScreen } from './screens/readings.js';
import { roomScreen } from './screens/room.js';
import { setOutScreen } from './screens/set_out.js';
import { cautionsScreen, settingsScreen } from './screens/settings.js';
import { stayingTrueScreen } from './screens/staying_true.js';
import { placeScreen } from './screens/place.js';
import { strikeScreen } from './screens/strike.js';
import { thingScreen } from './screens/thing.js';
import { toolsScreen } from './screens/tools.js';
import { wallScreen } from './screens/wall.js';
import { openStore } from './store/index.js';
import { showKeptPlan, think, thinkSoon, wireEngine } from './thinking.js';
import { keepAwake, letSleep } from './wake.js';

/** @type {Record<string, () => unknown>} */
const PAGES = {
  jobs: jobsScreen,
  start: startScreen,
  bin: binScreen,
  settings: settingsScreen,
  cautions: cautionsScreen,
  licences: licencesScreen,
};
/** @type {Record<string, () => unknown>} */
const OF_A_JOB = {
  plan: planScreen,
  room: roomScreen,
  corners: cornersScreen,
  wall: wallScreen,
  read: readingsScreen,
  thing: thingScreen,
  'set-out': setOutScreen,
  place: placeScreen,
  strike: strikeScreen,
  'staying-true': stayingTrueScreen,
  cut: cutScreen,
  piece: pieceScreen,
  'long-cut': longCutScreen,
  boards: boardsScreen,
  tools: toolsScreen,
  more: moreScreen,
};
/** Screens that are read with both hands full. */
const AWAKE = new Set(['read', 'strike', 'staying-true', 'cut', 'piece', 'long-cut', 'boards']);

const app = /** @type {HTMLElement} */ (document.getElementById('app'));

function draw() {
  // What is brought in on a screen must have a place: until the store is open nothing is drawn to be tapped.
  if (!desk.store && !desk.wrong) return;
  dressPage();
  const screens = desk.route.job ? OF_A_JOB : PAGES;
  const screen = desk.route.job && !desk.job ? undefined : screens[desk.route.screen];
  render((screen ?? jobsScreen)(), app);
}

/** The address changed: open what it names, then show it from its top. */
async function arrive() {
  const route = readRoute(location.hash);
  void saveOpenField(); // gone back from by a gesture, a field is not left by a tap
  if (route.screen !== desk.route.screen) desk.said = ''; // the next piece is the same screen: there it says what was marked
  desk.route = route;
  desk.address = location.hash;
  desk.wrong = '';
  if (desk.route.screen === 'demo') return openDemo();
  if (desk.route.job && desk.route.job !== desk.job?.id) await openJob(desk.route.job);
  if (!desk.route.job) await listJobs();
  void (AWAKE.has(desk.route.screen) ? keepAwake() : letSleep());
  if (desk.job && !isPlanCurrent()) thinkSoon(); // readings were taken: now the pieces
  draw();
  scrollTo(0, 0);
  const first = desk.route.screen === 'read' ? app.querySelector('#reading') : null;
  /** @type {HTMLElement | null} */ (first ?? app.querySelector('h1'))?.focus({ preventScroll: true });
}

/** @param {string} id */
async function openJob(id) {
  desk.job = null;
  const opened = await attempt(async () => {
    desk.job = (await desk.store?.openJob(id)) ?? null;
    desk.said = desk.job?.notes.join(' ') ?? '';
  });
  if (!opened) {
    const sentence = desk.wrong;
    replaceWith('#/jobs');
    desk.wrong = sentence;
    return;
  }
  await showKeptPlan();
  void think();
}

/** What other tabs and the browser do to the store. @param {import('./store/index.js').StoreEvent} event */
async function storeEvent(event) {
  if (event.kind === 'closed') desk.wrong = event.sentence;
  const ours = event.kind === 'writable' || (event.kind === 'written' && event.id === desk.job?.id);
  if (ours && desk.job)
    await attempt(async () => {
      desk.job = (await desk.store?.openJob(/** @type {any} */ (desk.job).id)) ?? null;
    });
  if (event.kind !== 'closed') thinkSoon();
  redraw();
}

/** @param {ReturnType<typeof openOffline>} offline */
async function showReadiness(offline) {
  desk.offline = await offline.readiness();
  desk.newVersion = offline.isNewVersionWaiting();
  desk.lookForNewVersion = offline.look;
  desk.useNewVersion = () => offline.useNewVersion(saveOpenField);
  redraw();
}

/** A field that is left is saved. */
async function saveOpenField() {
  const open = document.activeElement;
  if (open instanceof HTMLElement) open.blur();
}

async function start() {
  app.replaceChildren(); // the shell's words have done their work
  wireDesk(draw, thinkSoon);
  addEventListener('hashchange', () => void arrive());
  addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && void saveOpenField());
  addEventListener('keydown', routeKey);
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    desk.install = event;
    redraw();
  });
  desk.store = await openStore();
  desk.store.onEvent((event) => void storeEvent(event));
  const engine = openEngine({ cacheInUse });
  wireEngine(engine);
  const offline = openOffline(engine);
  offline.onEvent(() => void showReadiness(offline));
  engine.startWhenIdle();
  const current = setting('current job', '');
  if (!location.hash && current) history.replaceState(null, '', jobAddress(current, 'plan'));
  await arrive();
  await offline.keep();
  await showReadiness(offline);
}

void start().catch((fault) => {
  desk.wrong = fault instanceof Error ? fault.message : String(fault);
  console.warn(fault);
  draw();
});
