"""A robot that sits at the window as a grower does: it opens, types, reads and saves, and knows no widget's name."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from mediacost.charts.names import CHART_WORDS
from mediacost.charts.unbroken import NO_BREAK
from mediacost.desktop import files
from mediacost.desktop.app import make_window
from mediacost.desktop.chart_view import ALL_FIGURES
from mediacost.desktop.fields import NumberField
from mediacost.desktop.preferences import Preferences
from mediacost.desktop.session import Session
from mediacost.desktop.theme import dress
from mediacost.desktop.window import Window

LONGEST_WAIT_S = 30.0
"""Only a broken window takes so long; nothing is measured by it."""

ROOM = "The room and its prices"
CHARTS = {words: name for name, words in CHART_WORDS.items()} | {"All figures": ALL_FIGURES}


def wait_until(what: Callable[[], object], why: str) -> None:
    """Let the window work until something holds."""
    end = time.monotonic() + LONGEST_WAIT_S
    while not what():
        assert time.monotonic() < end, f"waited in vain: {why}"
        QApplication.processEvents()
        time.sleep(0.002)


def read_html(html: str) -> str:
    """A rich text as one reads it."""
    document = QTextDocument()
    document.setHtml(html)
    return document.toPlainText().replace(NO_BREAK, " ")


class Grower:
    """One person at one window. Answers to questions about files are laid out beforehand with ``will_*``."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, preferences: Path) -> None:
        self._settings_file = preferences
        self._window: Window | None = None
        self._to_open: Path | None = None
        self._to_save: Path | None = None
        self._unsaved = "stay"
        self.asked: list[str] = []
        monkeypatch.setattr(files, "ask_open", self._answer_open)
        monkeypatch.setattr(files, "ask_save", self._answer_save)
        monkeypatch.setattr(files, "ask_unsaved", self._answer_unsaved)

    # Starting and stopping -----------------------------------------------------------------------------------

    def start(self, path: Path, size: tuple[int, int] = (1366, 768), night: bool = False) -> Grower:
        """Start the program on a file and wait until the window and its fields are there."""
        self.make(path, size, night).show()
        QTest.qWaitForWindowExposed(self.window)
        self.window.activateWindow()
        wait_until(lambda: self.window.is_finished, "the fields are there")
        return self

    def make(self, path: Path, size: tuple[int, int] = (1366, 768), night: bool = False) -> Window:
        """Make the window and do not show it yet."""
        dress(self._application, night)
        self._window = make_window(path, self.settings, night)
        self._window.resize(*size)
        return self._window

    @property
    def _application(self) -> QApplication:
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        return application

    @property
    def settings(self) -> Preferences:
        """What the program would find at its next start."""
        return Preferences(self._settings_file)

    @property
    def window(self) -> Window:
        """The window."""
        assert self._window is not None
        return self._window

    @property
    def session(self) -> Session:
        """The document."""
        return self.window.session

    def close(self) -> bool:
        """Close the window; whether it went."""
        return self.window.close()

    def go_home(self) -> None:
        """Leave whatever is open, without saving, and throw the window away."""
        if self._window is not None:
            self._unsaved = "drop"
            self._window.close()
            self._window.deleteLater()
            self._window = None

    # Files ---------------------------------------------------------------------------------------------------

    def will_open(self, path: Path | None) -> None:
        """What to answer when asked which file to open."""
        self._to_open = path

    def will_save_under(self, path: Path | None) -> None:
        """What to answer when asked for a name."""
        self._to_save = path

    def will_leave(self, choice: str) -> None:
        """What to answer when there are unsaved changes: save, drop or stay."""
        self._unsaved = choice

    def open(self, path: Path) -> None:
        """Open another file by way of the question."""
        self.will_open(path)
        self.press("Open...")

    def save(self) -> None:
        """Save."""
        self.press("Save")

    def save_as(self, path: Path) -> None:
        """Save under another name."""
        self.will_save_under(path)
        self.press("Save as...")

    def _answer_open(self, parent: QWidget, folder: Path) -> Path | None:
        self.asked.append("open")
        return self._to_open

    def _answer_save(self, parent: QWidget, suggestion: Path) -> Path | None:
        self.asked.append(f"save {suggestion.name}")
        return self._to_save

    def _answer_unsaved(self, parent: QWidget, name: str) -> str:
        self.asked.append(f"unsaved {name}")
        return self._unsaved

    # Words to press ------------------------------------------------------------------------------------------

    def press(self, word: str) -> None:
        """Press a word of the top line, with the mouse."""
        QTest.mouseClick(self._top_word(word), Qt.MouseButton.LeftButton)

    def _top_word(self, word: str) -> QWidget:
        for button in self.window.top_line.words.values():
            if button.text() == word:
                return button
        raise LookupError(word)

    def undo(self) -> None:
        """Press undo."""
        self.press("Undo")

    def redo(self) -> None:
        """Press redo."""
        self.press("Redo")

    def undo_words(self) -> str:
        """What the word for undo says it would do."""
        return self._top_word("Undo").accessibleName()

    def redo_words(self) -> str:
        """What the word for redo says it would do."""
        return self._top_word("Redo").accessibleName()

    def take_way_out(self, word: str) -> None:
        """Press one of the words that the message above the page offers."""
        QTest.mouseClick(self.window.notice.ways_out[word], Qt.MouseButton.LeftButton)

    # Fields --------------------------------------------------------------------------------------------------

    def turn_to(self, part: str) -> None:
        """Choose a part of the job by its words."""
        QTest.mouseClick(self.window.parts.words[part], Qt.MouseButton.LeftButton)

    def field(self, words: str) -> NumberField:
        """The field with these words, on the page that is open."""
        found = [field for field in self.window.page.fields.values() if field.label == words]
        assert len(found) == 1, (words, [field.label for field in self.window.page.fields.values()])
        return found[0]

    def field_words(self) -> list[str]:
        """The words of all fields on the page that is open."""
        return [field.label for field in self.window.page.fields.values()]

    def set(self, words: str, text: str) -> None:
        """Go to a field, clear it and type."""
        self.go_to(words)
        QTest.keyClick(self.field(words).editor, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        QTest.keyClick(self.field(words).editor, Qt.Key.Key_Delete)
        self.type(text)

    def go_to(self, words: str) -> None:
        """Put the keyboard into a field."""
        self.field(words).editor.setFocus(Qt.FocusReason.MouseFocusReason)

    def type(self, text: str) -> None:
        """Type where the keyboard is."""
        QTest.keyClicks(self.window.focusWidget(), text)

    def key(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key where the keyboard is."""
        QTest.keyClick(self.window.focusWidget() or self.window, key, modifier)

    def drag(self, words: str, by: int) -> list[str]:
        """Drag a field's bar to the right by so many pixels, one by one; what the answer said on the way."""
        bar = self.field(words).bar
        handle = QPoint(bar.handle_middle, bar.height() // 2)
        said = []
        QTest.mousePress(bar, Qt.MouseButton.LeftButton, pos=handle)
        for step in range(1, abs(by) + 1):
            QTest.mouseMove(bar, handle + QPoint(step if by > 0 else -step, 0))
            said.append(self.read_answer())
        QTest.mouseRelease(bar, Qt.MouseButton.LeftButton, pos=handle + QPoint(by, 0))
        return said

    # Reading -------------------------------------------------------------------------------------------------

    def read_field(self, words: str) -> str:
        """What stands in a field."""
        return self.field(words).editor.text()

    def read_fault(self, words: str) -> str:
        """The fault beside a field; '' if none."""
        return self.field(words).fault_text

    def read_note(self, words: str) -> str:
        """The note below a field."""
        return self.field(words).note_text

    def read_answer(self) -> str:
        """The sentence that says which medium comes out best."""
        return self.window.panel.verdict_text.replace(NO_BREAK, " ")

    def read_doubt(self) -> str:
        """What the panel says of how sure the answer is."""
        return self.window.panel.doubt_text.replace(NO_BREAK, " ")

    def read_strip(self) -> str:
        """What the strip says in a narrow window, in two lines."""
        return self.window.strip.text.replace(NO_BREAK, " ")

    def read_stale(self) -> str:
        """That the answer is an earlier one; '' while it is current."""
        return self.window.panel.stale_text

    def read_medium(self, place: int) -> str:
        """What the panel says of a medium."""
        return read_html(self.window.panel.lines_of(place))

    def read_cost(self, place: int) -> float:
        """The cost of a kilogram that the panel says of a medium."""
        found = re.search(r"a kilogram costs ([\d ]+\.\d+)", self.read_medium(place))
        assert found is not None, self.read_medium(place)
        return float(found[1].replace(" ", ""))

    def read_notice(self) -> str:
        """The message above the page; '' if none."""
        return self.window.notice.text

    # Charts and figures --------------------------------------------------------------------------------------

    def choose_chart(self, words: str) -> None:
        """Choose a chart by its words and wait until it is there."""
        for button in self.window.charts.words:
            if button.text() == words:
                QTest.mouseClick(button, Qt.MouseButton.LeftButton)
        if CHARTS[words] != ALL_FIGURES:
            wait_until(lambda: self.window.charts.canvas is not None, "the chart is there")
        assert self.window.charts.chosen == CHARTS[words]

    def read_chart(self) -> str:
        """The finding above the chart."""
        canvas = self.window.charts.canvas
        assert canvas is not None
        return canvas.chart.frame.finding

    def ask_why(self, link: str) -> list[str]:
        """Follow the link on a figure in the panel, such as ``steel/cost_per_kg``; what is said then."""
        medium, _, figure = link.rpartition("/")
        self.window.panel.asked.emit(medium, figure)
        return self.read_why()

    def read_why(self) -> list[str]:
        """What the page says of a figure; nothing where no figure is open."""
        return self.window.why.lines if self.window.why.isVisible() else []
