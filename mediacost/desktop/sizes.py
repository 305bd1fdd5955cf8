"""Sizes that grow with the system's face, so that nothing is cut at large letters."""

from __future__ import annotations

from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QWidget

_USUAL_FACE = 12.0
"""Size of the system's face in pixels, at which sizes are as written."""


def letter_scale(widget: QWidget) -> float:
    """How much larger than usual the letters are; 1 where they are smaller."""
    return max(1.0, QFontInfo(widget.font()).pixelSize() / _USUAL_FACE)


def scaled(widget: QWidget, pixels: int) -> int:
    """A width that is right at the usual size of letters, grown with them."""
    return round(pixels * letter_scale(widget))
