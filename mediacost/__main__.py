"""The way in: with arguments the command line, without any the window on the main sample."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path


def main(arguments: Sequence[str] | None = None) -> int:
    """Run ``mediacost`` and return its exit code."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    _write_any_letter()
    # Other people's plugins have no say in what a scenario may hold, and looking for some costs a start.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    if not arguments:
        return _window_or_comparison()
    if arguments[0] == "open":
        return _open(arguments[1:])
    return _command_line(arguments)


def _write_any_letter() -> None:
    """Titles and names may hold any letter; a terminal that cannot show one gets a stand-in, not a crash."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _command_line(arguments: Sequence[str]) -> int:
    """One short command: it leaves no garbage worth a search, neither on the way nor at the exit."""
    gc.disable()
    from mediacost.cli.main import main as command_line

    try:
        return command_line(arguments)
    finally:
        gc.freeze()


def _window_or_comparison() -> int:
    """The window on the main sample; where there is no display, that is said, and the comparison printed."""
    trouble = _no_window()
    if not trouble:
        return _run_window([])
    from mediacost.paths import main_sample

    print(f"{trouble} Here is the comparison of the main sample.\n", flush=True)
    return _command_line(["compare", str(main_sample())])


def _open(arguments: list[str]) -> int:
    """``mediacost open [FILE]``."""
    if len(arguments) > 1 or any(argument.startswith("-") for argument in arguments):
        return _command_line(["open", *arguments])
    trouble = _no_window()
    if trouble:
        if arguments and not _can_be_read(arguments[0]):
            return 2
        print(f"{trouble} To read a file here: mediacost compare FILE", file=sys.stderr)
        return 1
    return _run_window(arguments)


def _can_be_read(file: str) -> bool:
    """Whether a scenario file is sound; what is wrong with it is said."""
    from mediacost.errors import InputFaults
    from mediacost.scenario import read_file

    try:
        read_file(file)
    except InputFaults as wrong:
        print(wrong, file=sys.stderr)
        return False
    return True


def _no_window() -> str:
    """Why no window can be shown here; '' where one can."""
    shown = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    if sys.platform not in ("win32", "darwin") and not any(os.environ.get(name) for name in shown):
        return "There is no display to open the window on."
    try:
        import PySide6.QtWidgets  # noqa: F401
    except ImportError as missing:
        return f"The window cannot be opened: {missing}."
    return ""


def _run_window(arguments: list[str]) -> int:
    from mediacost.desktop.app import run

    return run(Path(arguments[0]) if arguments else None)


if __name__ == "__main__":
    sys.exit(main())
