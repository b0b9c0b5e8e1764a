"""Why this file exists: a story on a phone needs a server that can be stopped half-way
and a second version of the app to change to, with one file broken if need be."""

import base64
import hashlib
import json
import re
import threading
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class _Quiet(SimpleHTTPRequestHandler):
    def __init__(self, *arguments: object, headers_to_send: dict[str, str], **keywords: object) -> None:
        self.headers_to_send = headers_to_send
        super().__init__(*arguments, **keywords)  # type: ignore[arg-type]

    def end_headers(self) -> None:
        for name, value in self.headers_to_send.items():
            self.send_header(name, value)
        super().end_headers()

    def log_message(self, *_arguments: object) -> None:
        """Say nothing: a test's output is its findings."""


@dataclass
class Site:
    """A folder served on the loopback. `headers` empty is a plain static host."""

    folder: Path
    headers: dict[str, str] = field(default_factory=dict)
    port: int = 0

    def start(self) -> "Site":
        """Serve, on the port of the time before if there was one."""
        handler = partial(_Quiet, directory=str(self.folder), headers_to_send=self.headers)
        self._server = ThreadingHTTPServer(("127.0.0.1", self.port), handler)
        self.port = self._server.server_port
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.05,), daemon=True)
        self._thread.start()
        return self

    def stop(self) -> None:
        """Take the signal away: from now on nothing answers on this port."""
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/"


def integrity(data: bytes) -> str:
    """The value of a script tag's `integrity` (W3C Subresource Integrity)."""
    return "sha384-" + base64.b64encode(hashlib.sha384(data).digest()).decode()


def service_worker_constant(folder: Path, name: str) -> object:
    """A constant the build wrote into the service worker, such as FILES."""
    found = re.search(rf"^const {name} = (.*);$", (folder / "service_worker.js").read_text(), re.MULTILINE)
    assert found, f"no constant {name} in the service worker"
    return json.loads(found[1])


def make_next_version(folder: Path, build: str, changed: str = "app/numbers.js") -> None:
    """Turn a copy of the built app into another version of it: one file changed, its hash and the build's name too."""
    path = folder / changed
    old = integrity(path.read_bytes())
    path.write_text(path.read_text() + f"\n// {build}\n")
    worker = folder / "service_worker.js"
    text = worker.read_text()
    assert old in text, f"{changed} is not in the service worker's list as it lies on the disk"
    text = text.replace(old, integrity(path.read_bytes()))
    text = re.sub(r"^const BUILD = .*;$", f"const BUILD = {json.dumps(build)};", text, flags=re.MULTILINE)
    worker.write_text(text)
