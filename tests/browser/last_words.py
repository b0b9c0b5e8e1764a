"""Why this file exists: a page that waits in vain says nothing by itself.

Of the pages of a failed test is told what they can still tell.
"""

from playwright.sync_api import BrowserContext, Error, Page, Request

ANSWER_MS = 3000
# Notes what passes between a page and its workers; nothing of it is changed or held up.
LISTEN = """(() => {
  const Plain = globalThis.Worker;
  const talk = (globalThis.talk = []);
  const note = (...words) => talk.push([Math.round(performance.now()), ...words].join(' '));
  globalThis.Worker = class extends Plain {
    constructor(...given) {
      super(...given);
      note('born', given[1]?.name ?? '');
      this.addEventListener('message', ({ data }) => note('from', data?.kind, data?.id ?? data?.step ?? ''));
      this.addEventListener('error', ({ message }) => note('error', message));
    }
    postMessage(message, ...rest) {
      note('to', message?.kind, message?.id ?? '', /"ask":"[^"]*"/.exec(message?.text ?? '') ?? '');
      super.postMessage(message, ...rest);
    }
    terminate() {
      note('ended');
      super.terminate();
    }
  };
})()"""
TELL = """async () => {
  const drawn = new Promise((go) => requestAnimationFrame(() => go('drawn')));
  const late = new Promise((go) => setTimeout(go, 2000, 'none within 2 s'));
  const frame = await Promise.race([drawn, late]);
  const { desk } = await import('/app/desk.js').catch(() => ({ desk: {} }));
  const { engine, busy, wrong, said, route, planOf, offline } = desk;
  return JSON.stringify({
    now: Math.round(performance.now()), frame, visible: document.visibilityState,
    controller: navigator.serviceWorker?.controller?.state, offline: offline?.state,
    engine, busy, wrong, said, route, hasPlan: Boolean(planOf), talk: globalThis.talk,
  }, null, 1);
}"""


class LastWords:
    """Listens to a context from its beginning; tells when asked."""

    def __init__(self) -> None:
        self._contexts: list[BrowserContext] = []
        self._on_the_way: dict[Request, None] = {}
        self._warnings: list[str] = []

    def of(self, context: BrowserContext) -> None:
        self._contexts.append(context)
        context.add_init_script(LISTEN)
        context.on("request", lambda request: self._on_the_way.update({request: None}))
        for ended in ("requestfinished", "requestfailed"):
            context.on(ended, lambda request: self._on_the_way.pop(request, None))  # type: ignore[call-overload]
        context.on("console", lambda said: self._warnings.append(f"{said.type}: {said.text}"))

    def told(self) -> str:
        """Everything, as text; a page that does not answer is passed over."""
        pages = (_of_page(page) for context in self._contexts for page in context.pages)
        waiting = [f"on its way: {request.url}" for request in self._on_the_way]
        return "\n".join([*pages, *waiting, *self._warnings])


def _of_page(page: Page) -> str:
    try:
        text = page.locator("body").inner_text(timeout=ANSWER_MS)
        return "\n".join([page.url, text, page.evaluate(TELL)])
    except Error as error:
        return f"{page.url} does not answer: {error.message}"
