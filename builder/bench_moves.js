// Why this file exists: put into the page before the app's own scripts, it notes when the hand moved the pattern,
// when a question left for the engine, when its answer was there, and when the picture that it changed was painted.
{
  const BOARDS = 'svg[aria-label^="The pattern where it sits"] .piece';
  const log = { inputs: [], asks: [], replies: [], pictures: [] };
  globalThis.movesLog = log;

  const Plain = globalThis.Worker;
  globalThis.Worker = class extends Plain {
    constructor(...from) {
      super(...from);
      this.addEventListener('message', ({ data }) => {
        if (data.kind === 'reply') log.replies.push({ id: data.id, at: performance.now() });
      });
    }

    postMessage(message, ...rest) {
      if (message.kind === 'ask') log.asks.push({ id: message.id, what: JSON.parse(message.text).ask, at: performance.now() });
      super.postMessage(message, ...rest);
    }
  };

  const note = ({ timeStamp, target }) => {
    if (target.closest('.place-map, [aria-label^="Move "]')) log.inputs.push({ at: timeStamp });
  };
  for (const kind of ['pointermove', 'click']) addEventListener(kind, note, { capture: true });

  new MutationObserver((changes) => {
    if (!changes.some(({ target }) => target.matches(BOARDS))) return;
    const answered = log.replies.findLast(({ id }) => log.asks.some((ask) => ask.id === id && ask.what === 'moved'))?.id;
    // Changed in a frame's own callback: a task posted from there comes when that frame has been painted.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => log.pictures.push({ painted: performance.now(), answered });
    port2.postMessage(0);
  }).observe(document, { subtree: true, attributes: true, attributeFilter: ['d', 'transform'] });
}
