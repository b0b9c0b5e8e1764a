"""The one that writes the built app."""

from pathlib import Path

import pytest

from builder import output


def test_the_folder_holds_exactly_what_was_made_and_its_own_gitignore(tmp_path: Path) -> None:
    """Nothing of an older build stays, and the folder stays committed."""
    (tmp_path / ".gitignore").write_text("*\n")
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / "file.js").write_text("old")
    output.write({"index.html": b"new", "app/main.js": b"more"}, tmp_path)
    left = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()}
    assert left == {".gitignore", "index.html", "app/main.js"}
    assert (tmp_path / "index.html").read_bytes() == b"new"


@pytest.mark.parametrize("path", ["../outside", "/outside", "app/../../outside", ""])
def test_nothing_is_written_outside_the_folder(tmp_path: Path, path: str) -> None:
    with pytest.raises(ValueError, match="does not lie"):
        output.write({path: b""}, tmp_path / "dist")
    assert not (tmp_path / "outside").exists()


def test_a_bad_path_leaves_the_older_build_as_it_was(tmp_path: Path) -> None:
    output.write({"index.html": b"old"}, tmp_path)
    with pytest.raises(ValueError, match="does not lie"):
        output.write({"index.html": b"new", "../outside": b""}, tmp_path)
    assert (tmp_path / "index.html").read_bytes() == b"old"
