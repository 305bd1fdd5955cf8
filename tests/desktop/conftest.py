"""What holds in every test of the window: silence, and nothing left behind."""

from __future__ import annotations

import gc
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication, QToolTip
from pytestqt.qtbot import QtBot

from tests.robots import Grower

SAMPLES = Path(__file__).parents[2] / "sample_scenarios"

SAID_BY_THE_PLUGIN = "This plugin does not support propagateSizeHints"
"""The one thing that Qt's offscreen platform says of every window."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every other message of Qt fails its test."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.qt_log_ignore(SAID_BY_THE_PLUGIN))


@pytest.fixture(autouse=True)
def _nothing_is_left(qapp: QApplication) -> Iterator[None]:
    """No window, no running timer and no thread outlives a test."""
    threads = set(threading.enumerate())
    yield
    QToolTip.hideText()
    delete_what_is_thrown_away()
    windows = [each for each in qapp.topLevelWidgets() if each.metaObject().className() != "QTipLabel"]
    assert windows == [], "windows are left"
    timers = [each for each in gc.get_objects() if isinstance(each, QTimer)]
    assert [each for each in timers if shiboken6.isValid(each) and each.isActive()] == [], "timers still run"
    left = [each for each in threading.enumerate() if each not in threads and not each.name.startswith("Dummy")]
    assert left == [], "threads still run"
    assert QThreadPool.globalInstance().activeThreadCount() == 0


def delete_what_is_thrown_away() -> None:
    """Let Qt delete what was given to ``deleteLater``."""
    QCoreApplication.processEvents()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QCoreApplication.processEvents()


@pytest.fixture
def grower(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, qtbot: QtBot) -> Iterator[Grower]:
    """Somebody to sit at a window, with settings of their own."""
    robot = Grower(monkeypatch, tmp_path / "window.ini")
    yield robot
    robot.go_home()


def copy_of(sample: str, tmp_path: Path, name: str = "") -> Path:
    """A copy of a sample to work on."""
    return Path(shutil.copy(SAMPLES / sample, tmp_path / (name or sample)))


@pytest.fixture
def small_room(tmp_path: Path) -> Path:
    """One crop, three media: pad (today), steel, silicone."""
    return copy_of("small_room.toml", tmp_path)


@pytest.fixture
def two_crop_room(tmp_path: Path) -> Path:
    """Two crops, four media."""
    return copy_of("two_crop_room.toml", tmp_path)
