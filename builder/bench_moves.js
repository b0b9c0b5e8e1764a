// Why this file exists: put into the page before the app's own scripts, it notes when the hand moved the pattern,
// when a question left for the engine, when its answer was there and how it moves the boards, and when boards so moved were painted.
{
  const BOARDS = 'svg[aria-label^="The pattern where it sits"] .piece';
  const log = { inputs: [], asks: [], replies: [], pictures: [] };
  globalThis.movesLog = log;

  const Plain = globalThis.Worker;
  globalThis.Worker = class extends Plain {
    constructor(...from) {
      super(...from);
      this.addEventListener('message', ({ data }) => {
        if (data.kind === 'reply') log.replies.push({ id: data.id, at: performance.now(), by: data.reply.by });
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
    const boards = changes.map(({ target }) => target).find((target) => target.matches(BOARDS));
    if (!boards) return;
    const by = boards.getAttribute('transform');
    // Changed in a frame's own callback: a task posted from there comes when that frame has been painted.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => log.pictures.push({ painted: performance.now(), by });
    port2.postMessage(0);
  }).observe(document, { subtree: true, attributes: true, attributeFilter: ['d', 'transform'] });
}
