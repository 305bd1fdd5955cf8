"""The way in: with arguments the command line, without any the window on the main sample."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run ``mediacost`` and return its exit code."""
    arguments = sys.argv[1:] if arguments is None else arguments
    _write_utf8()
    if not arguments:
        return _without_arguments()
    return _command_line(arguments)


def _command_line(arguments: Sequence[str]) -> int:
    """One short command: it leaves no garbage worth a search, neither on the way nor at the exit."""
    gc.disable()
    from mediacost.cli.main import main as command_line

    try:
        return command_line(arguments)
    finally:
        gc.freeze()


def _write_utf8() -> None:
    """Titles and names may hold any letter; a terminal that cannot show one gets a stand-in, not a crash."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _without_arguments() -> int:
    """Compare the main sample: there is no window to open yet."""
    from mediacost.paths import main_sample

    print("No window in this version: here is the comparison of the main sample.\n")
    return _command_line(["compare", str(main_sample())])


if __name__ == "__main__":
    sys.exit(main())
