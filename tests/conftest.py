"""What holds in every test: no screen, no network, no settings of the person who runs it."""

from __future__ import annotations

import os

# Before anything imports Qt: without a display it would end the process, not raise.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import socket
import sys
from pathlib import Path
from typing import Any

import hypothesis
import pytest
from hypothesis.configuration import set_hypothesis_home_dir

ROOT = Path(__file__).resolve().parent.parent
INTERNET = (socket.AF_INET, socket.AF_INET6)

set_hypothesis_home_dir(ROOT / ".hypothesis")
hypothesis.settings.register_profile("mediacost", deadline=None, print_blob=True)
hypothesis.settings.register_profile("ci", deadline=None, print_blob=True, derandomize=True, database=None)
hypothesis.settings.load_profile("ci" if os.environ.get("CI") else "mediacost")


class UsesTheInternetError(Exception):
    """The program and its tests work offline, so a socket to anywhere is a fault."""


def _refuse_internet(event: str, arguments: tuple[Any, ...]) -> None:
    if event == "socket.__new__" and arguments[1] in INTERNET:
        raise UsesTheInternetError("mediacost works offline: no test may open an internet socket")
    if event == "socket.getaddrinfo":
        raise UsesTheInternetError(f"mediacost works offline: no test may look up {arguments[0]!r}")


# An audit hook sees what C code opens too and cannot be taken off again. Local sockets and pipes stay allowed.
sys.addaudithook(_refuse_internet)


@pytest.fixture(autouse=True)
def _settings_of_nobody(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every test starts without settings, recovery copies or recent files, and leaves none behind."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("MEDIACOST_HOME", str(home))
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(home / name.lower()))
    qt = sys.modules.get("PySide6.QtCore")
    if qt is not None:
        # The native format would ignore the path and write into the person's own files.
        qt.QSettings.setDefaultFormat(qt.QSettings.Format.IniFormat)
        qt.QSettings.setPath(qt.QSettings.Format.IniFormat, qt.QSettings.Scope.UserScope, str(home))
