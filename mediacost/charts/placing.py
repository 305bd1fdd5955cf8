"""Words beside points, placed so that none covers another. Everything is in inches from the lower left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

_GAP = 0.1
_RINGS = 6


class Box(NamedTuple):
    """A rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    def overlaps(self, other: Box) -> bool:
        """Whether the two share any room."""
        across = self.left < other.right and other.left < self.right
        return across and self.bottom < other.top and other.bottom < self.top

    def within(self, width: float, height: float) -> bool:
        """Whether it lies in a rectangle of that size."""
        return self.left >= 0 and self.bottom >= 0 and self.right <= width and self.top <= height


def spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Heights as near to the wanted ones as they can be with that distance between them, all from low to high.

    Where they are too many for that, they stand closer, evenly.

    >>> spread([1.0, 1.0, 3.0], 0.5, 0.0, 3.0)
    [0.75, 1.25, 3.0]
    """
    if len(wanted) > 1:
        apart = min(apart, (high - low) / (len(wanted) - 1))
    order = sorted(range(len(wanted)), key=lambda at: wanted[at])
    # Each group of names that touch sits around the mean of where its names want to be.
    groups: list[tuple[float, int]] = []
    for at in order:
        middle, count = min(max(wanted[at], low), high), 1
        while groups and groups[-1][0] + apart * (groups[-1][1] + count) / 2 > middle - 1e-12:
            other, more = groups.pop()
            middle = (other * more + middle * count) / (more + count)
            count += more
            half = apart * (count - 1) / 2
            middle = min(max(middle, low + half), high - half)
        groups.append((middle, count))
    heights = [middle + apart * (at - (count - 1) / 2) for middle, count in groups for at in range(count)]
    found = [0.0] * len(wanted)
    for at, height in zip(order, heights, strict=True):
        found[at] = height
    return found


def free_place(
    point: tuple[float, float],
    size: tuple[float, float],
    room: tuple[float, float],
    taken: Sequence[Box],
    drawn: np.ndarray,
) -> Box:
    """A place for words of that size near a point, inside the room, off what is taken, over little of what is drawn.

    ``drawn`` has a row for each of many points along the lines.
    """
    inside = [box for box in _around(point, size) if box.within(*room)]
    free = [box for box in inside if not any(box.overlaps(other) for other in taken)]
    if free:
        return min(free, key=lambda box: _covered(box, drawn))
    if inside:
        return inside[0]
    left = min(max(point[0], 0), max(0.0, room[0] - size[0]))
    bottom = min(max(point[1], 0), max(0.0, room[1] - size[1]))
    return Box(left, bottom, left + size[0], bottom + size[1])


def _covered(box: Box, drawn: np.ndarray) -> int:
    if not len(drawn):
        return 0
    x, y = drawn[:, 0], drawn[:, 1]
    return int(((x >= box.left) & (x <= box.right) & (y >= box.bottom) & (y <= box.top)).sum())


def _around(point: tuple[float, float], size: tuple[float, float]) -> Iterator[Box]:
    (x, y), (width, height) = point, size
    for ring in range(_RINGS):
        rise = _GAP + ring * height * 1.05
        for bottom in (y + rise, y - rise - height):
            for left in (x + _GAP, x - _GAP - width, x - width / 2):
                yield Box(left, bottom, left + width, bottom + height)
