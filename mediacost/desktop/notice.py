"""A line above the page that says what happened and offers what can be done about it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from mediacost.desktop.theme import UNIT

_MAY_BREAK = "\u200b"
"""Put after each part of a path, so that a long one cannot make the window wider."""


class Notice(QFrame):
    """One message at a time, each with its own ways out; it never covers the page."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "notice")
        self.setAccessibleName("Message")
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._line = QHBoxLayout()
        self._line.setSpacing(UNIT * 2)
        self._line.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(UNIT * 4, UNIT * 2, UNIT * 2, UNIT)
        rows.setSpacing(UNIT)
        rows.addWidget(self._text)
        rows.addLayout(self._line)
        self._ways: list[QPushButton] = []
        self.hide()

    @property
    def text(self) -> str:
        """What is said; '' while nothing is."""
        return self._text.text().replace(_MAY_BREAK, "") if not self.isHidden() else ""

    @property
    def ways_out(self) -> dict[str, QPushButton]:
        """The buttons by their words."""
        return {way.text(): way for way in self._ways}

    def say(self, text: str, ways_out: Mapping[str, Callable[[], object]] | None = None) -> None:
        """Show a message with its ways out; each closes the message and then acts."""
        self.clear()
        self._text.setText(re.sub(r"([/\\\\_])", rf"\1{_MAY_BREAK}", text))
        for label, act in {**(ways_out or {}), "Close this message": lambda: None}.items():
            way = QPushButton(label)
            way.setProperty("role", "word")
            way.clicked.connect(lambda _=False, act=act: self._take(act))
            self._ways.append(way)
            self._line.insertWidget(self._line.count() - 1, way)
        self.show()
        QAccessible.updateAccessibility(QAccessibleEvent(self._text, QAccessible.Event.Alert))

    def clear(self) -> None:
        """Take the message away."""
        for way in self._ways:
            self._line.removeWidget(way)
            way.hide()
            way.deleteLater()
        self._ways = []
        self._text.clear()
        self.hide()

    def _take(self, act: Callable[[], object]) -> None:
        self.clear()
        act()
