"""Serves the built app as a careful static host would: the right types, the safe headers, nothing else."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from builder.console import Trouble, step
from builder.headers import headers

LOOPBACK = "127.0.0.1"
EVERYWHERE = ""


class Handler(SimpleHTTPRequestHandler):
    """Answers with a file of the app."""

    protocol_version = "HTTP/1.1"
    freshness = "no-cache"
    extensions_map = {  # not the machine's own table, which may lack these
        ".html": "text/html; charset=utf-8",
        ".js": "text/javascript; charset=utf-8",
        ".mjs": "text/javascript; charset=utf-8",
        ".css": "text/css; charset=utf-8",
        ".json": "application/json",
        ".webmanifest": "application/manifest+json",
        ".wasm": "application/wasm",
        ".svg": "image/svg+xml",
        ".png": "image/png",
        ".woff2": "font/woff2",
        ".zip": "application/zip",
        ".txt": "text/plain; charset=utf-8",
        "": "application/octet-stream",
    }

    def end_headers(self) -> None:
        """Add what every answer says."""
        for name, value in headers().items():
            self.send_header(name, value)
        self.send_header("Cache-Control", self.freshness)
        super().end_headers()

    def list_directory(self, path: object) -> None:
        """Show no folder."""
        self.send_error(404)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing; the address has been printed."""


class Server(ThreadingHTTPServer):
    """Ends at once, open connections or not."""

    daemon_threads = True


def open_server(folder: Path, port: int, host: str = LOOPBACK, handler: type[Handler] = Handler) -> Server:
    """A server of the folder that has its port but does not answer yet."""
    try:
        return Server((host, port), partial(handler, directory=str(folder)))
    except OSError as error:
        raise Trouble(f"Port {port} cannot be had: {error.strerror}. Choose another with --port.") from None


@contextmanager
def serving(folder: Path, handler: type[Handler] = Handler) -> Iterator[str]:
    """Serve on the loopback while the block runs; its address."""
    server = open_server(folder, 0, handler=handler)
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://{LOOPBACK}:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()


def serve(folder: Path, port: int, *, is_open: bool) -> None:
    """Serve until interrupted; ``is_open``: for the whole local network, with a QR code of the address."""
    server = open_server(folder, port, EVERYWHERE if is_open else LOOPBACK)
    step(f"serving http://{LOOPBACK}:{server.server_port}/ (Ctrl-C ends it)")
    if is_open:
        _show_code(f"http://{_own_address()}:{server.server_port}/")
    try:
        server.serve_forever()
    finally:
        server.server_close()


def _show_code(address: str) -> None:
    import segno

    step(f"for a phone on the same network: {address}")
    segno.make(address, micro=False).terminal(compact=True)
    print(
        "A browser keeps an app only when it comes over https or from the machine itself.\n"
        "Over this address the app can be tried; to keep it, put dist/ on any static https host."
    )


def _own_address() -> str:
    """The address others of the network reach this machine at. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept for documentation, RFC 5737
        except OSError:
            return LOOPBACK
        return str(probe.getsockname()[0])
