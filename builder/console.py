"""How the builder speaks: one line for each step, one sentence for each trouble."""

import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path

LONGEST_LINE = 2000


class Trouble(Exception):
    """Something that stops the builder; its text says how to mend it."""


def step(text: str) -> None:
    """Say what is being done now."""
    print(f"· {text}", flush=True)


def run(
    command: Sequence[str | Path],
    mend: str,
    *,
    folder: Path | None = None,
    environment: Mapping[str, str] | None = None,
) -> str:
    """Run a command silently and give what it printed. Raises Trouble with its output and ``mend``."""
    words = [str(word) for word in command]
    try:
        done = subprocess.run(words, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    except OSError as error:
        raise Trouble(f"{words[0]} could not be started: {error}\n{mend}") from None
    if done.returncode != 0:
        raise Trouble(f"{' '.join(words)}\n{_readable(done.stdout + done.stderr)}\n{mend}")
    return done.stdout


def _readable(output: str) -> str:
    """Without the kilometre of a minified script that Node prints before an error."""
    return "\n".join(line for line in output.splitlines() if len(line) < LONGEST_LINE)
