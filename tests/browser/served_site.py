"""Why this file exists: a story on a phone needs a server that can be stopped half-way.

It also needs a next version of the app to change to, with one file broken if need be.
"""

import json
import re
import socket
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler
from pathlib import Path
from threading import Thread
from typing import Any

from builder.offline import integrity
from builder.serve import LOOPBACK, Handler, Server


class BareHandler(Handler):
    """A plain static host: the right types and none of the safe headers."""

    def end_headers(self) -> None:
        SimpleHTTPRequestHandler.end_headers(self)


class _CutOff(Server):
    """Remembers its connections, so that stopping it also ends those a browser keeps alive."""

    def __init__(self, *arguments: Any) -> None:
        self.connections: list[socket.socket] = []
        super().__init__(*arguments)

    def process_request(self, request: Any, client_address: Any) -> None:
        self.connections.append(request)
        super().process_request(request, client_address)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that is cut off, or goes, is part of the story."""

    def cut_off(self) -> None:
        self.shutdown()
        self.server_close()
        for connection in self.connections:
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)


@dataclass
class Site:
    """A folder served on the loopback by the builder's server."""

    folder: Path
    handler: type[Handler] = Handler
    port: int = 0

    def start(self) -> "Site":
        """Serve, on the port of the time before if there was one."""
        self._server = _CutOff((LOOPBACK, self.port), partial(self.handler, directory=str(self.folder)))
        self.port = self._server.server_port
        Thread(target=self._server.serve_forever, args=(0.05,), daemon=True).start()
        return self

    def stop(self) -> None:
        """Take the signal away: from now on nothing answers on this port."""
        self._server.cut_off()

    @property
    def address(self) -> str:
        return f"http://{LOOPBACK}:{self.port}/"


def make_next_version(folder: Path, build: str, changed: str = "app/numbers.js") -> None:
    """Turn a copy of the app into its next version: one file changed, with its hash and the build's name."""
    path = folder / changed
    old = integrity(path.read_bytes())
    path.write_text(path.read_text() + f"\n// {build}\n")
    worker = folder / "service_worker.js"
    text = worker.read_text()
    assert old in text, f"{changed} is not in the service worker's list as it lies on the disk"
    text = text.replace(old, integrity(path.read_bytes()))
    named = re.sub(r"^const BUILD = .*;$", f"const BUILD = {json.dumps(build)};", text, flags=re.MULTILINE)
    assert named != text
    worker.write_text(named)
