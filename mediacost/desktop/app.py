"""Starts the window."""

from __future__ import annotations

import gc
import os
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from mediacost import paths

if TYPE_CHECKING:
    from mediacost.desktop.preferences import Preferences
    from mediacost.desktop.window import Window


_NAME = "mediacost"
_STARTED_MS = 3000
"""By then the chart is there as well, on a slow machine too."""


def make_window(path: Path, preferences: Preferences, night: bool | None = None) -> Window:
    """A window on a file; where that cannot be opened it says so, and shows the main sample."""
    from mediacost.desktop.session import Session
    from mediacost.desktop.window import Window

    session = Session()
    trouble = session.try_to_open(path)
    if trouble is not None:
        session.open(paths.main_sample())
    window = Window(session, preferences, night)
    session.setParent(window)
    window.files.tell_opened(trouble)
    return window


def run(path: Path | None = None) -> int:
    """Open the window and stay until it is closed; the exit code."""
    # Nothing that a start makes is garbage: searching for some on the way takes a tenth of the time. Threads for large
    # matrices, of which there are none here, would be another tenth.
    gc.disable()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication

    from mediacost.desktop.preferences import Preferences
    from mediacost.desktop.theme import dress, ensure_font, is_night

    application = QApplication([_NAME])
    application.setApplicationName(_NAME)
    application.setApplicationDisplayName(_NAME)
    ensure_font(application)
    dress(application, is_night(application))
    window = make_window(path or paths.main_sample(), Preferences(_preferences_file()))
    sys.excepthook = _tell(window)
    window.show()
    QTimer.singleShot(_STARTED_MS, _search_for_garbage_again)
    return application.exec()


def _search_for_garbage_again() -> None:
    gc.freeze()
    gc.enable()


def _preferences_file() -> Path:
    folder = paths.settings_folder()
    folder.mkdir(parents=True, exist_ok=True)
    return folder / "window.ini"


def _tell(window: Window) -> Callable[[type[BaseException], BaseException, TracebackType | None], None]:
    """A fault of our own must not pass in silence: it goes to stderr whole, and above the page in a line."""

    def tell(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace, file=sys.stderr)
        window.notice.say(
            f"Something went wrong in the program itself ({kind.__name__}: {error}). Save your work under another "
            "name.",
            {"Save under another name": window.files.ask_save_as},
        )

    return tell
