"""Ink, paper and the colours of media: our own, apart under colour deficiencies and in grey.

A medium takes a colour and a dash by its place in the file and keeps them in every chart.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

Dash = str | tuple[int, tuple[float, ...]]

DASHES: tuple[Dash, ...] = (
    "-",
    (0, (6, 2)),
    (0, (2, 1.5)),
    (0, (7, 2, 1.5, 2)),
    (0, (1, 1)),
    (0, (10, 3)),
    (0, (4, 1, 1, 1, 1, 1)),
    (0, (3, 3)),
)
GROUP_SHADES = (1.0, 0.62, 0.42, 0.26, 0.13)
"""How much of the medium's colour each of the five cost groups keeps, in the order of the groups."""
GROUP_HATCHES = ("", "//", "..", "--", "xx")
"""The second sign of each of the five cost groups."""


class Theme(NamedTuple):
    """The colours of a page: paper, ink, fainter ink, grid lines, and one colour for each medium."""

    paper: str
    ink: str
    faint: str
    grid: str
    media: tuple[str, ...]

    def medium(self, place: int) -> str:
        """Colour of the medium at a place in the file."""
        return self.media[place % len(self.media)]


DAY = Theme(
    paper="#fbf8f2",
    ink="#23201b",
    faint="#4d473e",
    grid="#ddd6c8",
    media=("#141d64", "#cb7388", "#534600", "#0874c9", "#915351", "#095e71", "#8d801d", "#661933"),
)
NIGHT = Theme(
    paper="#20262b",
    ink="#ece7dd",
    faint="#c6c4bd",
    grid="#3b444b",
    media=("#8984d5", "#dd99c1", "#a66223", "#b8d7ff", "#ffe6d8", "#4bad90", "#b9c77e", "#818162"),
)


def dash(place: int) -> Dash:
    """Dash of the medium at a place in the file."""
    return DASHES[place % len(DASHES)]


def mixed(colour: str, with_colour: str, share: float) -> str:
    """A colour mixed with another, ``share`` of it kept."""
    own, other = (tuple(int(each[at : at + 2], 16) for at in (1, 3, 5)) for each in (colour, with_colour))
    return "#" + "".join(f"{round(share * a + (1 - share) * b):02x}" for a, b in zip(own, other, strict=True))


def contrast(colour: str, other: str) -> float:
    """Contrast of two colours from 1 to 21, by their relative luminance (W3C, WCAG 2.1, published).

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    high, low = sorted((_luminance(_channels(colour)), _luminance(_channels(other))), reverse=True)
    return (high + 0.05) / (low + 0.05)


def readable_on(colour: Sequence[float]) -> str:
    """Black or white, whichever stands out more on a colour given as red, green and blue from 0 to 1.

    >>> readable_on((1.0, 1.0, 0.8)), readable_on((0.1, 0.1, 0.3))
    ('#000000', '#ffffff')
    """
    return "#000000" if (_luminance(colour[:3]) + 0.05) ** 2 > 1.05 * 0.05 else "#ffffff"


def _channels(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))


def _luminance(channels: Sequence[float]) -> float:
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
