"""The list of files that must be on the phone, each with its integrity, and the one name of the build."""

import base64
import hashlib
from collections.abc import Mapping


def kept_files(files: Mapping[str, bytes]) -> list[dict[str, str]]:
    """Path and integrity (as in a script tag) of every file, in order of path."""
    return [{"path": path, "integrity": integrity(content)} for path, content in sorted(files.items())]


def integrity(content: bytes) -> str:
    """Subresource integrity of a file."""
    return "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()


def build_name(kept: list[dict[str, str]], *more: str) -> str:
    """A name that changes when any byte of the app does; ``more``: what the service worker says besides."""
    text = "\n".join([*(f"{file['path']} {file['integrity']}" for file in kept), *more])
    return hashlib.sha256(text.encode()).hexdigest()[:16]
