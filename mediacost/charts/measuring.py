"""How much room words take, known before anything is drawn."""

from __future__ import annotations

from functools import lru_cache

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from mediacost.charts.unbroken import unbroken

POINTS_PER_INCH = 72.0
LINE_HEIGHT = 1.25
"""Height of a line of text in sizes of its face."""


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text in inches.

    >>> text_width("", 9), text_width("wide", 18) > text_width("wide", 9) > 0.2
    (0.0, True)
    """
    if not text:
        return 0.0
    face = FontProperties(size=size, weight="bold" if bold else "normal")
    width, _, _ = text_to_path.get_text_width_height_descent(text, face, ismath=False)
    return width / POINTS_PER_INCH


def text_height(lines: int, size: float) -> float:
    """Height of so many lines of text in inches."""
    return lines * size * LINE_HEIGHT / POINTS_PER_INCH


def wrapped(text: str, width: float, size: float, bold: bool = False, most: int = 3) -> list[str]:
    """Text broken into lines no wider than ``width`` inches; what does not fit into ``most`` lines ends in dots.

    >>> wrapped("one two three", 0.5, 9)
    ['one', 'two', 'three']
    >>> wrapped("one two three", 0.5, 9, most=2)
    ['one', 'two…']
    """
    lines: list[str] = []
    for word in unbroken(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    cut = len(lines) > most
    lines = lines[:most]
    return [shortened(line, width, size, bold, cut and at == len(lines) - 1) for at, line in enumerate(lines)]


def shortened(text: str, width: float, size: float, bold: bool = False, dots: bool = False) -> str:
    """Text cut down to ``width`` inches, with dots where it was cut, or in any case if ``dots``."""
    if not dots and text_width(text, size, bold) <= width:
        return text
    kept = text
    while kept and text_width(f"{kept}…", size, bold) > width and len(kept) > 1:
        kept = kept[:-1].rstrip()
    return f"{kept}…"
