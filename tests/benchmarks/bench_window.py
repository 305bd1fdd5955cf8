"""How soon the window is there, and how soon it follows a key: against bare windows and bare drawings of this run."""

from __future__ import annotations

import os
import sys
import tempfile

os.environ["QT_QPA_PLATFORM"] = "offscreen"

import statistics
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import tomlkit
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from mediacost.desktop.figures_table import FiguresTable
from mediacost.desktop.theme import ensure_font
from mediacost.results.answers import Comparison
from tests.benchmarks.timing import ROOT, Finding, report
from tests.charts.big_room import big_room
from tests.robots import Grower

KEYS = 60
DRAWS = 15
STARTS = 15
PAUSE_S = 0.08
"""Between two keys, as of somebody who types fast."""


def main() -> int:
    """Measure, print, and return 1 if a limit does not hold."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    ensure_font(application)
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        room = Path(folder) / "big_room.toml"
        room.write_text(tomlkit.dumps(big_room()), encoding="utf-8")
        found = [*starts(Path(folder))]
        grower = Grower(patch, Path(folder) / "window.ini").start(room)
        found += [*keys(grower), *charts(grower)]
        grower.go_home()
    return report(found)


# A start, from the process to the paint --------------------------------------------------------------------------

_TELL = """
import os, sys, time
def tell():
    sys.stdout.write(repr(time.time())); sys.stdout.flush(); os._exit(0)
"""

BARE_WINDOW = (
    _TELL
    + """
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget
class Bare(QWidget):
    def paintEvent(self, event): QTimer.singleShot(0, tell)
application = QApplication([])
window = Bare()
QVBoxLayout(window).addWidget(QLabel("a sentence"))
window.resize(1280, 720); window.show(); application.exec()
"""
)

BARE_CHART = (
    _TELL
    + """
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
from matplotlib.figure import Figure
class Canvas(FigureCanvasQTAgg):
    def paintEvent(self, event):
        super().paintEvent(event); QTimer.singleShot(0, tell)
application = QApplication([])
window = QWidget()
figure = Figure(dpi=100)
axes = figure.add_subplot()
for group in range(5): axes.barh(range(3), [1, 2, 3], left=group, label=f"group {group}")
axes.set_title("a finding"); axes.legend()
QVBoxLayout(window).addWidget(Canvas(figure))
window.resize(1280, 720); window.show(); application.exec()
"""
)

_OURS = (
    _TELL
    + """
from mediacost.__main__ import main
from mediacost.desktop import app
make = app.make_window
def made(*given):
    from PySide6.QtCore import QTimer
    window = make(*given)
    watch(window, QTimer)
    return window
app.make_window = made
"""
)

OUR_WINDOW = (
    _OURS
    + """
def watch(window, timer):
    assert window.panel.verdict_text
    type(window).paintEvent = lambda self, event: timer.singleShot(0, tell)
main(["open", sys.argv[1]])
"""
)

OUR_CHART = (
    _OURS
    + """
def watch(window, timer):
    def drawn():
        canvas = type(window.charts.canvas)
        paint = canvas.paintEvent
        def painted(self, event):
            paint(self, event); timer.singleShot(0, tell)
        canvas.paintEvent = painted
    window.charts.drawn.connect(drawn)
main(["open", sys.argv[1]])
"""
)


def starts(folder: Path) -> Iterator[Finding]:
    """A start of the program against that of a window with one sentence, and with one bare chart."""
    around = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    # As installed: bytecode is there. It is written into a place of its own in the round that is not counted.
    around |= {"PYTHONPYCACHEPREFIX": str(folder / "bytecode"), "PYTHONPATH": str(ROOT)}
    around |= {"MEDIACOST_HOME": str(folder / "home")}
    programs = {"bare window": BARE_WINDOW, "window": OUR_WINDOW, "bare chart": BARE_CHART, "chart": OUR_CHART}
    times: dict[str, list[float]] = {name: [] for name in programs}
    for number in range(STARTS + 1):
        for name, code in programs.items():
            taken = _seconds_to_paint(code, around, folder / "big_room.toml")
            if number > 0:
                times[name].append(taken)
    middle = {name: statistics.median(taken) for name, taken in times.items()}
    for name, limit in (("window", 3.0), ("chart", 1.5)):
        ratio = statistics.median(ours / bare for ours, bare in zip(times[name], times[f"bare {name}"], strict=True))
        remark = f"{1e3 * middle[name]:.0f} ms, bare {1e3 * middle[f'bare {name}']:.0f} ms, {STARTS} rounds"
        yield Finding(f"start to painted {name} / bare {name}", ratio, limit, "x", remark)


def _seconds_to_paint(code: str, around: dict[str, str], room: Path) -> float:
    command = [sys.executable, "-c", code, str(room)]
    begin = time.time()
    done = subprocess.run(command, cwd=ROOT, env=around, capture_output=True, text=True)
    if done.returncode or not done.stdout:
        raise RuntimeError(done.stderr)
    return float(done.stdout) - begin


# A key -----------------------------------------------------------------------------------------------------------


def keys(grower: Grower) -> Iterator[Finding]:
    """From a key to the verdict and the figures painted; 8 media and 6 crops."""
    for shown, words in (("chart", "What a kilogram costs"), ("table", "All figures")):
        grower.choose_chart(words)
        taken = sorted(_seconds_of_keys(grower))
        middle, late = statistics.median(taken), taken[int(0.95 * len(taken))]
        yield Finding(f"key to painted answer, {shown} on show, median", 1e3 * middle, 30.0, "ms", f"{KEYS} keys")
        yield Finding(f"key to painted answer, {shown} on show, 95 %", 1e3 * late, 60.0, "ms")


def _seconds_of_keys(grower: Grower) -> Iterator[float]:
    grower.go_to("Pack price")
    editor, panel, table = grower.field("Pack price").editor, grower.window.panel, grower.window.charts.table
    shows_table = table is not None and table.isVisible()
    for number in range(KEYS + 4):
        key = Qt.Key.Key_1 if number % 2 == 0 else Qt.Key.Key_Backspace
        before = panel.lines_of(1), _typed_column(table) if shows_table else ""
        begin = time.perf_counter()
        QTest.keyClick(editor, key)
        panel.repaint()
        if shows_table:
            table.viewport().repaint()
        taken = time.perf_counter() - begin
        assert panel.lines_of(1) != before[0]
        assert not shows_table or _typed_column(table) != before[1]
        if number >= 4:
            yield taken
        _work_for(PAUSE_S)


def _typed_column(table: FiguresTable) -> list[str]:
    """What the column of the second medium, whose price is typed, says in the table, top to bottom."""
    model = table.figures
    return [str(model.index(row, 2).data()) for row in range(model.rowCount())]


def _work_for(seconds: float) -> None:
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        QApplication.processEvents()
        time.sleep(0.001)


# A chart ---------------------------------------------------------------------------------------------------------


class _Paints(QObject):
    """Notes when a widget is painted."""

    def __init__(self, watched: QWidget) -> None:
        super().__init__(watched)
        self.at: list[float] = []
        watched.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self.at.append(time.perf_counter())
        return False


def charts(grower: Grower) -> Iterator[Finding]:
    """From the last key to the chart's redraw, and what a redraw takes against a bare draw of the same figure."""
    for words in ("What a kilogram costs", "Over the cycles", "Month by month"):
        grower.choose_chart(words)
        grower.go_to("Pack price")
        _work_for(0.3)
        redraws = [_redraw(grower, number) for number in range(DRAWS)]
        begun, taken, bare = (statistics.median(each) for each in zip(*redraws, strict=True))
        yield Finding(f"last key to redraw, {words}", 1e3 * begun, 60.0, "ms", "median")
        ratio = statistics.median(taken / bare for _, taken, bare in redraws)
        yield Finding(
            f"redraw / bare draw, {words}", ratio, 1.5, "x", f"{1e3 * taken:.0f} ms, bare {1e3 * bare:.0f} ms"
        )
        yield _drag(grower, words, bare)


def _redraw(grower: Grower, number: int) -> tuple[float, float, float]:
    """Seconds from a key to the redraw, of the redraw until it is painted, and of a bare draw of the same figure."""
    canvas = grower.window.charts.canvas
    assert canvas is not None
    started: list[float] = []
    show = canvas.show_comparison

    def note(comparison: Comparison) -> None:
        started.append(time.perf_counter())
        show(comparison)

    canvas.show_comparison = note  # type: ignore[method-assign]
    paints = _Paints(canvas)
    QTest.keyClick(grower.field("Pack price").editor, Qt.Key.Key_1 if number % 2 == 0 else Qt.Key.Key_Backspace)
    last_key = time.perf_counter()
    while not started or not paints.at or paints.at[-1] < started[0]:
        QApplication.processEvents()
    canvas.show_comparison = show  # type: ignore[method-assign]
    paints.deleteLater()
    return started[0] - last_key, paints.at[-1] - started[0], _seconds(canvas.figure.canvas.draw)


def _drag(grower: Grower, words: str, bare: float) -> Finding:
    """A value that is dragged: the repaint of what moves in the chart, against a bare draw."""
    canvas, bar = grower.window.charts.canvas, grower.field("Pack price").bar
    assert canvas is not None
    bar.setSliderDown(True)
    taken = []
    follow = canvas.follow

    def timed(comparison: Comparison) -> None:
        taken.append(_seconds(lambda: follow(comparison)))

    canvas.follow = timed  # type: ignore[method-assign]
    for step in range(DRAWS * 2):
        bar.setValue(500 + 5 * step)
        QApplication.processEvents()
    canvas.follow = follow  # type: ignore[method-assign]
    bar.setSliderDown(False)
    grower.undo()
    _work_for(0.3)
    middle = statistics.median(taken)
    return Finding(f"drag repaint / bare draw, {words}", middle / bare, 1.0, "x", f"{1e3 * middle:.0f} ms")


def _seconds(call: Callable[[], object]) -> float:
    begin = time.perf_counter()
    call()
    return time.perf_counter() - begin


if __name__ == "__main__":
    sys.exit(main())
