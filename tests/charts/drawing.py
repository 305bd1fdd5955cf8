"""Charts drawn for the tests, and what is on them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from mediacost.charts.catalogue import CHARTS
from mediacost.charts.palette import DAY, Theme
from mediacost.results.answers import Comparison

DPI = 100
SIZES = [(740, 360), (1180, 520)]


def drawn(
    name: str, comparison: Comparison, size: tuple[int, int] = SIZES[0], theme: Theme = DAY, paint: bool = True
) -> Any:
    """A chart at a size in pixels, drawn."""
    figure = Figure(figsize=(size[0] / DPI, size[1] / DPI), dpi=DPI)
    FigureCanvasAgg(figure)
    chart = CHARTS[name](figure, theme, comparison)
    if paint:
        figure.canvas.draw()
    return chart


def words_on(figure: Figure) -> Iterator[tuple[str, Bbox]]:
    """Every text that is drawn, with its box in pixels."""
    renderer = figure.canvas.get_renderer()
    ticks = {
        id(tick.label1)
        for axes in figure.axes
        for axis in (axes.xaxis, axes.yaxis)
        for tick in axis.get_major_ticks()
        if not _on_axis(axis, tick.get_loc())
    }
    for text in figure.findobj(Text):
        if text.get_visible() and text.get_text().strip() and id(text) not in ticks:
            yield text.get_text(), text.get_window_extent(renderer)


def _on_axis(axis: Any, place: float) -> bool:
    low, high = sorted(axis.get_view_interval())
    return low - 1e-9 <= place <= high + 1e-9


def overlapping(figure: Figure) -> list[tuple[str, str]]:
    """Pairs of texts that cover one another by more than a pixel."""
    found = list(words_on(figure))
    return [
        (one, other)
        for at, (one, box) in enumerate(found)
        for other, other_box in found[at + 1 :]
        if min(box.x1, other_box.x1) - max(box.x0, other_box.x0) > 1
        and min(box.y1, other_box.y1) - max(box.y0, other_box.y0) > 1
    ]


def beyond_the_edge(figure: Figure) -> list[str]:
    """Texts that the figure's edge cuts."""
    edge = figure.bbox
    return [
        text
        for text, box in words_on(figure)
        if box.x0 < edge.x0 - 1 or box.x1 > edge.x1 + 1 or box.y0 < edge.y0 - 1 or box.y1 > edge.y1 + 1
    ]


def colours_in(figure: Figure, box: Bbox) -> set[tuple[int, int, int]]:
    """The colours of the pixels in a box."""
    pixels = np.asarray(figure.canvas.buffer_rgba())[::-1]
    part = pixels[int(box.y0) : int(box.y1), int(box.x0) : int(box.x1), :3]
    return {tuple(int(each) for each in colour) for colour in part.reshape(-1, 3)}
