"""What holds for every source file, held by tools instead of reviewers."""

import ast
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SITE = ROOT / "site_src"
ENGINE = sorted((SITE / "engine").rglob("*.py"))
CHECKED = ("builder", "site_src/engine", "tests")


def run(*command: str | Path, folder: Path = ROOT) -> None:
    done = subprocess.run(
        [str(word) for word in command], cwd=folder, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def tracked() -> list[Path]:
    """Every text file that is committed or about to be."""
    listed = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    names = subprocess.run(listed, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()
    return [path for path in map(ROOT.joinpath, names) if path.is_file() and is_text(path)]


def is_text(path: Path) -> bool:
    return b"\0" not in path.read_bytes()[:4096]


def test_lint_finds_nothing() -> None:
    run(sys.executable, "-m", "ruff", "check", *CHECKED)


def test_every_python_file_is_laid_out_the_same_way() -> None:
    run(sys.executable, "-m", "ruff", "format", "--check", *CHECKED)


def test_types_hold_in_the_engine_and_the_builder() -> None:
    run(sys.executable, "-m", "mypy", "builder", "site_src/engine")


def test_the_engines_layers_point_downwards_and_one_of_them_knows_geos() -> None:
    lint = Path(sys.executable).with_name("lint-imports")
    run(lint, "--no-cache", folder=ROOT)


@pytest.mark.parametrize("thread", ["page", "worker"])
def test_javascript_types_hold_in_each_thread_by_itself(thread: str) -> None:
    """`document` in a worker, or `WorkerGlobalScope` in a page, does not compile."""
    run(node(), SITE / "node_modules" / "typescript" / "bin" / "tsc", "-p", SITE / f"tsconfig.{thread}.json")


def node() -> str:
    found = shutil.which("node", path=None) or shutil.which("node", path=str(Path(sys.executable).parent))
    assert found, "Run the checks with `python3 -m builder test`, which finds Node."
    return found


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.relative_to(SITE).as_posix())
def test_the_engine_neither_opens_prints_nor_asks(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = {
        call.func.id
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name)
    }
    assert calls.isdisjoint({"open", "print", "input", "exec", "eval", "breakpoint"})


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.relative_to(SITE).as_posix())
def test_every_engine_module_says_why_it_exists(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not text.strip() or ast.get_docstring(ast.parse(text))


def test_every_script_of_the_app_is_type_checked_and_says_why_it_exists() -> None:
    for path in [*SITE.glob("app/**/*.js"), *SITE.glob("worker/**/*.js")]:
        text = path.read_text(encoding="utf-8")
        assert text.startswith("// @ts-check\n/**"), path


def test_nothing_else_is_visible_at_the_top() -> None:
    expected = {"README.md", "DEVELOPERS.md", "pyproject.toml", "builder", "site_src", "tests", "dist"}
    names = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {name for name in names if not name.startswith(".")} <= expected


def test_only_the_folder_itself_is_kept_of_what_the_build_makes() -> None:
    listed = subprocess.run(["git", "ls-files", "dist"], cwd=ROOT, capture_output=True, text=True, check=True)
    assert listed.stdout.split() == ["dist/.gitignore"]


REGISTRY_HOSTS: Sequence[str] = ("pypi" + ".org", "pythonhosted" + ".org", "npmjs" + ".org", "npmjs" + ".com",
                                 "debian" + ".org", "yarnpkg" + ".com")  # fmt: skip
MACHINE_PATHS = re.compile(r"(?<![\w.])/(?:work|root|home/\w+)/")


def test_no_file_names_a_registrys_address() -> None:
    """Whoever builds uses the registries their own clients are set to."""
    found = [(path, host) for path in tracked() for host in REGISTRY_HOSTS if host in path.read_text("utf-8")]
    assert found == []


def test_no_file_names_a_place_on_one_machine() -> None:
    ours = [path for path in tracked() if "licences" not in path.parts and path != Path(__file__)]
    assert [path for path in ours if MACHINE_PATHS.search(path.read_text("utf-8"))] == []


def test_the_lock_file_names_no_download_address() -> None:
    text = (SITE / "package-lock.json").read_text(encoding="utf-8")
    assert '"resolved"' not in text
    assert '"integrity"' in text
