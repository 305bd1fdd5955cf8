"""Pictures of the window.

``python -m tests.pictures FOLDER`` makes every main state, by day and by night, in three sizes; without a folder it
makes the few that the manual shows, into ``docs/pictures``. They come out the same on every run with the same libraries
and letters: no clock, no settings, no screen.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtWidgets import QApplication

from mediacost import paths
from mediacost.desktop.theme import ensure_font
from tests.robots import ROOM, Grower, wait_until

FOLDER = Path(__file__).resolve().parents[1] / "docs" / "pictures"
SIZES = ((1366, 768), (1920, 1080), (1100, 700))
MAIN, TWO_CROPS = "small_room.toml", "two_crop_room.toml"


class State(NamedTuple):
    """A state of the window: its name, the sample it is shown on, and how to get there."""

    name: str
    sample: str
    get_there: Callable[[Grower], object]


def cost(grower: Grower) -> None:
    grower.choose_chart("What a kilogram costs")


def cycles(grower: Grower) -> None:
    grower.choose_chart("Over the cycles")


def months(grower: Grower) -> None:
    grower.choose_chart("Month by month")


def figures(grower: Grower) -> None:
    grower.choose_chart("All figures")


def why(grower: Grower) -> None:
    cost(grower)
    grower.ask_why("steel/cost_per_kg")


def fault(grower: Grower) -> None:
    cost(grower)
    grower.set("Pack price", "a few")


def room(grower: Grower) -> None:
    cost(grower)
    grower.turn_to(ROOM)


def changed(grower: Grower) -> None:
    """A moment after a change: what was before is still shown."""
    cycles(grower)
    finding = grower.read_chart()
    grower.set("Pack price", "180")
    wait_until(lambda: grower.read_chart() != finding, "the chart follows")


def missing(grower: Grower) -> None:
    cost(grower)
    grower.open(Path("kept_elsewhere") / "last_year.toml")


STATES = (
    State("cost", MAIN, cost),
    State("cycles", MAIN, cycles),
    State("months", MAIN, months),
    State("figures", MAIN, figures),
    State("why", MAIN, why),
    State("fault", MAIN, fault),
    State("room", MAIN, room),
    State("changed", MAIN, changed),
    State("missing_file", MAIN, missing),
    State("two_crops", TWO_CROPS, cost),
    State("two_crops_cycles", TWO_CROPS, cycles),
    State("two_crops_months", TWO_CROPS, months),
)


MANUAL = {
    "window": ("cost", False),
    "cycles": ("cycles", False),
    "months": ("months", False),
    "figures": ("figures", False),
    "why": ("why", False),
    "fault": ("fault", False),
    "night": ("two_crops_months", True),
}
"""The pictures of the manual: the state, and whether it is night."""


def manual_pictures(folder: Path) -> Iterator[Path]:
    """Make the pictures of the manual."""
    folder.mkdir(parents=True, exist_ok=True)
    states = {state.name: state for state in STATES}
    for name, (state, night) in MANUAL.items():
        path = folder / f"{name}.png"
        _take(states[state], SIZES[0], night, path)
        yield path


def pictures(folder: Path, sizes: tuple[tuple[int, int], ...] = SIZES) -> Iterator[Path]:
    """Make all pictures, one after the other."""
    folder.mkdir(parents=True, exist_ok=True)
    for night in (False, True):
        for size in sizes:
            for state in STATES:
                when = "night" if night else "day"
                path = folder / f"{state.name}-{size[0]}x{size[1]}-{when}.png"
                _take(state, size, night, path)
                yield path


def _take(state: State, size: tuple[int, int], night: bool, path: Path) -> None:
    with tempfile.TemporaryDirectory() as nobody, pytest.MonkeyPatch.context() as patch:
        grower = Grower(patch, Path(nobody) / "window.ini").start(paths.samples_folder() / state.sample, size, night)
        state.get_there(grower)
        wait_until(lambda: not grower.window.charts.is_behind, "everything is drawn")
        QApplication.processEvents()
        if not grower.window.grab().save(str(path)):
            raise OSError(f"{path} could not be written")
        grower.go_home()
    QApplication.processEvents()


def main(arguments: list[str]) -> int:
    """Make all pictures into the folder that is named, or those of the manual."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    # The blinking mark in a field would be in one picture and not in the next.
    application.setCursorFlashTime(0)
    ensure_font(application)
    for path in pictures(Path(arguments[0])) if arguments else manual_pictures(FOLDER):
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
