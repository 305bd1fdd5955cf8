"""What an answer was before it changed, kept for two seconds."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

WAS_BEFORE_MS = 2000


class WasBefore(QObject):
    """Remembers the texts that stood in some places before they changed; all are forgotten two seconds later."""

    over = Signal()
    """Emitted when what was before is forgotten."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._now: dict[str, str] = {}
        self._before: dict[str, str] = {}
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(WAS_BEFORE_MS)
        self._timer.timeout.connect(self._forget)

    def note(self, place: str, text: str) -> str:
        """Note what stands in a place now; what stood there before the changes of the last two seconds, or ''."""
        before = self._now.get(place)
        self._now[place] = text
        if before is not None and before != text:
            self._before.setdefault(place, before)
            self._timer.start()
        found = self._before.get(place, "")
        return found if found != text else ""

    def start_afresh(self) -> None:
        """Another document: nothing was before."""
        self._timer.stop()
        self._now.clear()
        self._before.clear()

    def _forget(self) -> None:
        self._before.clear()
        self.over.emit()
