"""The one compiled Python package that the phone needs, as its registry wheel for WebAssembly."""

import hashlib
import sys
import tempfile
from pathlib import Path

from builder.console import Trouble, run, step
from builder.places import KEPT

# The same version as in pyproject.toml, so that desk and phone read jobs alike (tests/builder holds it).
NAME = "msgspec-0.22.0-cp314-cp314-pyemscripten_2026_0_wasm32.whl"
SHA256 = "a66b1766311e42371e509c996c3933b161c7ae0eabdf361af5316dec197e1022"
TARGET = (
    "--platform", "pyemscripten_2026_0_wasm32", "--python-version", "3.14",
    "--implementation", "cp", "--abi", "cp314",
)  # fmt: skip


def msgspec_wheel() -> Path:
    """The wheel, fetched once and compared with its pinned hash at each build."""
    wheel = KEPT / NAME
    if not wheel.exists():
        step(f"fetching {NAME}")
        _download()
    found = hashlib.sha256(wheel.read_bytes()).hexdigest()
    if found != SHA256:
        wheel.unlink()
        raise Trouble(f"{NAME} is not the file it should be (SHA-256 {found}). Start again to fetch it anew.")
    return wheel


def _download() -> None:
    requirement = f"msgspec=={NAME.split('-')[1]} --hash=sha256:{SHA256}\n"
    with tempfile.TemporaryDirectory() as folder:
        listed = Path(folder) / "wheel.txt"
        listed.write_text(requirement, encoding="utf-8")
        pip = [
            sys.executable,
            "-m",
            "pip",
            "download",
            "--quiet",
            "--no-deps",
            "--only-binary",
            ":all:",
            *TARGET,
        ]
        KEPT.mkdir(parents=True, exist_ok=True)
        mend = "Check that this machine reaches the Python package index and start again."
        run([*pip, "--require-hashes", "--dest", KEPT, "-r", listed], mend)
