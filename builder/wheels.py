"""The Python packages of others that the phone needs, as the registry's own wheels."""

import hashlib
import sys
import tempfile
import zipfile
from dataclasses import dataclass
from pathlib import Path

from builder.console import Trouble, run, step
from builder.places import KEPT


@dataclass(frozen=True, slots=True)
class Wheel:
    """One wheel, by its file name and hash; ``target`` are pip's options for another machine."""

    file: str
    sha256: str
    licence: str
    target: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The package's name."""
        return self.file.split("-")[0]

    @property
    def version(self) -> str:
        """The package's release: the same as in pyproject.toml, so that desk and phone compute alike."""
        return self.file.split("-")[1]

    def fetched(self) -> Path:
        """The wheel, fetched once and compared with its pinned hash at each build."""
        path = KEPT / self.file
        if not path.exists():
            step(f"fetching {self.file}")
            _download(self)
        found = hashlib.sha256(path.read_bytes()).hexdigest()
        if found != self.sha256:
            path.unlink()
            raise Trouble(
                f"{self.file} is not the file it should be (SHA-256 {found}). Start again to fetch it anew."
            )
        return path

    def licence_text(self) -> bytes:
        """The licence as the wheel carries it."""
        with zipfile.ZipFile(self.fetched()) as archive:
            return archive.read(next(name for name in archive.namelist() if name.endswith("/LICENSE")))


MSGSPEC = Wheel(
    "msgspec-0.22.0-cp314-cp314-pyemscripten_2026_0_wasm32.whl",
    "a66b1766311e42371e509c996c3933b161c7ae0eabdf361af5316dec197e1022",
    "BSD-3-Clause",
    (
        "--platform",
        "pyemscripten_2026_0_wasm32",
        "--python-version",
        "3.14",
        "--implementation",
        "cp",
        "--abi",
        "cp314",
    ),  # fmt: skip
)
PYDYF = Wheel(
    "pydyf-0.13.0-py3-none-any.whl",
    "85b28a3af8c35e6fe1415f2b3f1d6851cb3b52f53592c2cda4db9a00a8979677",
    "BSD-3-Clause",
)
WHEELS = (MSGSPEC, PYDYF)


def _download(wheel: Wheel) -> None:
    requirement = f"{wheel.name}=={wheel.version} --hash=sha256:{wheel.sha256}\n"
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
            *wheel.target,
        ]
        KEPT.mkdir(parents=True, exist_ok=True)
        mend = "Check that this machine reaches the Python package index and start again."
        run([*pip, "--require-hashes", "--dest", KEPT, "-r", listed], mend)
