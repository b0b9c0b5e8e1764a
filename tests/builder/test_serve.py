"""What the builder's server says to a browser."""

import urllib.error
import urllib.request
from collections.abc import Iterator
from email.message import Message
from pathlib import Path

import pytest

from builder import headers
from builder.serve import LOOPBACK, open_server, serving

# The names that app/trusted.js and lit-html give to their policies.
POLICY_NAMES = "out-of-true lit-html"


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    (tmp_path / "index.html").write_text("<!doctype html>")
    (tmp_path / "sub").mkdir()
    for name in (
        "module.mjs",
        "script.js",
        "runtime.wasm",
        "app.webmanifest",
        "type.woff2",
        "pack.whl",
        "job.json",
    ):
        (tmp_path / "sub" / name).write_bytes(b"content")
    with serving(tmp_path) as found:
        yield found


def answer(address: str) -> Message:
    with urllib.request.urlopen(address) as response:
        headers: Message = response.headers
        return headers


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("sub/module.mjs", "text/javascript"),
        ("sub/script.js", "text/javascript"),
        ("sub/runtime.wasm", "application/wasm"),
        ("sub/app.webmanifest", "application/manifest+json"),
        ("sub/type.woff2", "font/woff2"),
        ("sub/job.json", "application/json"),
        ("", "text/html"),
    ],
)
def test_a_file_comes_as_what_it_is_whatever_the_machines_own_table_says(
    address: str, name: str, kind: str
) -> None:
    """Types by IANA's registry of media types; a browser refuses a module or WebAssembly of another type."""
    assert answer(address + name).get_content_type() == kind


def test_every_answer_carries_the_safe_headers_also_one_that_finds_nothing(address: str) -> None:
    with pytest.raises(urllib.error.HTTPError) as missing:
        urllib.request.urlopen(address + "nothing")
    for found in (answer(address), answer(address + "sub/script.js"), missing.value.headers):
        for name, value in headers.headers().items():
            assert found[name] == value
        assert found["Cache-Control"] == "no-cache"


def test_a_folder_is_not_shown(address: str) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        urllib.request.urlopen(address + "sub/")


def test_the_content_policy_admits_our_own_origin_and_nothing_else() -> None:
    """Grammar: W3C, Content Security Policy Level 3. No host, no scheme but blob and data for pictures."""
    policy = dict(part.split(" ", 1) for part in headers.content_policy().split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert policy["trusted-types"] == POLICY_NAMES
    assert policy["require-trusted-types-for"] == "'script'"
    allowed = {word for name, value in policy.items() if name.endswith("-src") for word in value.split()}
    assert allowed == {"'none'", "'self'", "'wasm-unsafe-eval'", "blob:", "data:"}
    assert [name for name, value in policy.items() if ("blob:" in value or "data:" in value)] == ["img-src"]


def test_the_pages_own_policy_is_the_header_less_what_a_page_cannot_say() -> None:
    meta = headers.content_policy(is_meta=True).split("; ")
    assert set(headers.content_policy().split("; ")) - set(meta) == {"frame-ancestors 'none'"}


def test_the_server_is_for_this_machine_alone_unless_told_otherwise(tmp_path: Path) -> None:
    with open_server(tmp_path, 0) as server:
        assert server.server_address[0] == LOOPBACK == "127.0.0.1"
