"""What panel and strip share: they follow the session while they are seen, and catch up when they are shown again."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame

from mediacost.desktop.session import Change, Session
from mediacost.desktop.was_before import WasBefore


class AnswerBlock(QFrame):
    """A block that shows the answer. ``asked`` carries the medium and the figure that is to be explained."""

    asked = Signal(str, str)
    cautions_asked = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._behind = False
        self.setProperty("role", "block")
        self.setAccessibleName("The answer")
        self._was = WasBefore(self)
        self._was.over.connect(self._catch_up)
        session.changed.connect(self._follow)

    def show_answer(self) -> None:
        """Show the session's answer."""
        raise NotImplementedError

    def _follow(self, change: Change) -> None:
        if change.keys is None:
            self._was.start_afresh()
        if self.isVisible():
            self._catch_up()
        else:
            self._behind = True

    def _catch_up(self) -> None:
        self._behind = False
        self.show_answer()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._behind:
            self._catch_up()
