"""The order in which the keyboard walks through a window."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def set_walk(blocks: Sequence[QWidget]) -> None:
    """Let Tab walk through blocks in their order, and within each in the order in which its parts were made."""
    stops = [
        widget
        for block in blocks
        for widget in (block, *block.findChildren(QWidget))
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.focusProxy() is None
    ]
    for stop, following in zip(stops, stops[1:], strict=False):
        QWidget.setTabOrder(stop, following)
