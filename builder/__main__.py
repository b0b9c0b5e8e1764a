"""The command line: ``python3 -m builder COMMAND``."""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from builder import environment
from builder.console import Trouble

DESCRIPTION = "Build, serve and check Out of True. What is missing for it is made at the first start."


Command = Callable[[argparse.Namespace], int]


def main(arguments: Sequence[str]) -> int:
    """Run one command; its exit code."""
    options = _parser().parse_args(arguments)
    try:
        environment.enter()
        return int(options.run(options))
    except Trouble as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print()
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 -m builder", description=DESCRIPTION)
    commands = parser.add_subparsers(metavar="COMMAND", required=True)

    def add(name: str, run: Command, words: str) -> argparse.ArgumentParser:
        command = commands.add_parser(name, help=words, description=words[:1].upper() + words[1:] + ".")
        command.set_defaults(run=run)
        return command

    serve = add("serve", _serve, "build and serve the app on this machine")
    serve.add_argument("--port", type=int, default=8014, help="port (default %(default)s; 0: any free one)")
    serve.add_argument("--lan", action="store_true", help="let the local network in, and show a QR code")
    add("build", _build, "make dist/, the whole app as static files")
    test = add("test", _test, "build and run every check")
    test.add_argument("--long", action="store_true", help="run the long checks too")
    test.add_argument("rest", nargs="*", metavar="ARGUMENT", help="after --: handed to pytest")
    sheets = add("sheets", _sheets, "compute a job on the desk: plan.json, cuts.csv, plan.svg")
    sheets.add_argument("job", type=Path, metavar="JOB.json", help="job file, as the app exports it")
    sheets.add_argument("folder", type=Path, metavar="OUT/", help="folder to write into; made if missing")
    sheets.add_argument("--best", action="store_true", help="first put the pattern where it sits best")
    add("bench", _bench, "print the sizes, how fast the engine starts, how fast the pattern is moved")
    add("types", _types, "write the message types for the page anew from the engine's records")
    return parser


# Each command is imported only when it runs: before that its libraries may not be there.


def _build(options: argparse.Namespace) -> int:
    from builder.pipeline import build

    build()
    return 0


def _serve(options: argparse.Namespace) -> int:
    from builder.pipeline import build
    from builder.serve import serve

    serve(build(), options.port, is_open=options.lan)
    return 0


def _test(options: argparse.Namespace) -> int:
    from builder.check import check

    return check(options.rest, is_long=options.long)


def _sheets(options: argparse.Namespace) -> int:
    from builder.sheets import write_sheets

    return write_sheets(options.job, options.folder, is_best=options.best)


def _bench(options: argparse.Namespace) -> int:
    from builder.bench import bench

    bench()
    return 0


def _types(options: argparse.Namespace) -> int:
    from builder.message_types import write

    write()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
