"""The build, step by step. Each step returns what is to be written; the last one writes it."""

import json
from pathlib import Path

from builder import output
from builder.console import step
from builder.headers import headers
from builder.message_types import job_schema
from builder.offline import build_name, kept_files
from builder.output import Files
from builder.pages import copied_files, rendered_pages, service_worker
from builder.places import DIST, SITE
from builder.runtime import runtime_files
from builder.third_party import third_party
from builder.vendor import vendor_files


def build(folder: Path = DIST) -> Path:
    """Build the app into ``folder`` and give the folder."""
    files = app_files()
    output.write(files, folder)
    step(f"built: {len(files)} files, {sum(map(len, files.values())) / 1e6:.1f} MB")
    return folder


def app_files() -> Files:
    """Every file of the app: path in it → content."""
    files = runtime_files()
    step("rendering the pages")
    files |= vendor_files()
    files |= copied_files()
    files |= rendered_pages()
    files |= job_schema()
    files |= third_party(files)
    kept = kept_files(files)
    template = (SITE / "worker" / "service_worker.js.j2").read_text(encoding="utf-8")
    return files | service_worker(build_name(kept, json.dumps(headers()), template), kept)
