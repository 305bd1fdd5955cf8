"""The line at the top: what is open, and in words what can be done with it."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from mediacost.desktop.session import Change, Session
from mediacost.desktop.theme import UNIT


class TopLine(QWidget):
    """Title and file, then the actions as words; undo and redo say what they would do."""

    def __init__(self, session: Session, actions: Mapping[str, QAction]) -> None:
        super().__init__()
        self._session = session
        self._actions = actions
        self._title = _Title()
        line = QHBoxLayout(self)
        line.setContentsMargins(UNIT * 4, UNIT * 2, UNIT * 4, UNIT * 2)
        line.setSpacing(UNIT)
        line.addWidget(self._title, 1)
        self._words: dict[str, QPushButton] = {}
        for name, action in actions.items():
            word = QPushButton(action.text())
            word.setProperty("role", "word")
            word.clicked.connect(action.trigger)
            word.setToolTip(_keys_of(action))
            self._words[name] = word
            line.addWidget(word)
        session.changed.connect(self._follow)
        self.show_state()

    @property
    def words(self) -> dict[str, QPushButton]:
        """The words by the names of their actions."""
        return self._words

    @property
    def title(self) -> str:
        """Title, file, and whether there are changes that are not saved."""
        return self._title.whole

    def _follow(self, _: Change) -> None:
        self.show_state()

    def show_state(self) -> None:
        """Show what is open, and what undo and redo would do."""
        name = self._session.path.name if self._session.path else "not saved yet"
        mark = "" if self._session.is_clean else " (changed)"
        title = str(self._session.value(("title",)) or "")
        self._title.say(f"{title}   {name}{mark}".strip())
        for key, step in (("undo", self._session.undo_words), ("redo", self._session.redo_words)):
            action, word = self._actions[key], self._words[key]
            action.setEnabled(bool(step))
            word.setEnabled(bool(step))
            label = key.capitalize()
            said = f"{label}: {step[0].lower()}{step[1:]}" if step else f"{label}: nothing"
            action.setText(said)
            word.setToolTip(f"{said} ({_keys_of(action)})")
            word.setAccessibleName(said)


class _Title(QLabel):
    """A line that is shortened where there is no room, and whole in its tip."""

    def __init__(self) -> None:
        super().__init__()
        self.whole = ""
        self.setStyleSheet("font-weight: 600;")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(80)

    def say(self, text: str) -> None:
        """Show a text as far as there is room."""
        self.whole = text
        self.setToolTip(text)
        self._shorten()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._shorten()

    def _shorten(self) -> None:
        # From the middle: the file's name and whether it is saved stand at the end.
        text = self.fontMetrics().elidedText(self.whole, Qt.TextElideMode.ElideMiddle, self.width() - UNIT)
        if text != self.text():
            self.setText(text)


def _keys_of(action: QAction) -> str:
    return action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
