"""Words with links in them that the keyboard walks through one by one."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLabel

_WALKING = {Qt.FocusReason.TabFocusReason: True, Qt.FocusReason.BacktabFocusReason: False}


class LinkLabel(QLabel):
    """Rich text that wraps. Tab goes to the first link, then to the next, then on; Enter follows a link."""

    def __init__(self) -> None:
        super().__init__()
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() in _WALKING:
            self.focusNextPrevChild(_WALKING[event.reason()])
