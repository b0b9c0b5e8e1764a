"""Renders the templates: pages, the manifest and, last, the service worker."""

from collections.abc import Mapping
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builder.headers import content_policy, headers
from builder.places import SITE

SUFFIX = ".j2"
SERVICE_WORKER = "service_worker.js"
# Parts of the sources that go into the app as they are: folder in it → what of it.
COPIED = {"app": ("*.js", "*.json"), "worker": ("*.js",), "styles": ("*.css",), "icons": ("*.svg", "*.png")}


def _environment(folder: str) -> Environment:
    """A name without a value is an error; in HTML every value is escaped."""
    return Environment(
        loader=FileSystemLoader(SITE / folder),
        undefined=StrictUndefined,
        autoescape=lambda name: name is not None and name.endswith((".html.j2", ".svg.j2")),
        keep_trailing_newline=True,
    )


def rendered_pages() -> dict[str, bytes]:
    """Each template in ``pages/`` under its name without the suffix."""
    environment = _environment("pages")
    names = [name for name in environment.list_templates() if name.endswith(SUFFIX)]
    values = {"content_policy": content_policy(is_meta=True)}
    return {name.removesuffix(SUFFIX): _render(environment, name, values) for name in names}


def service_worker(build: str, files: list[dict[str, str]]) -> dict[str, bytes]:
    """The service worker for one build; ``files``: path and integrity of everything it keeps."""
    values = {"build": build, "files": files, "headers": headers()}
    return {SERVICE_WORKER: _render(_environment("worker"), SERVICE_WORKER + SUFFIX, values)}


def copied_files() -> dict[str, bytes]:
    """The sources that need no rendering."""
    return {
        path.relative_to(SITE).as_posix(): path.read_bytes()
        for folder, patterns in COPIED.items()
        for pattern in patterns
        for path in sorted((SITE / folder).rglob(pattern))
    }


def _render(environment: Environment, name: str, values: Mapping[str, Any]) -> bytes:
    return environment.get_template(name).render(values).encode()
