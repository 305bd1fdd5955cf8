"""What charts of lines share: a line a medium, its name at the line's end, one mark with words on each line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.text import Annotation
from matplotlib.transforms import Bbox

from mediacost.charts.frame import EDGE, SMALL_SIZE, TEXT_SIZE, Frame
from mediacost.charts.measuring import shortened, text_height, text_width
from mediacost.charts.palette import Theme, dash
from mediacost.charts.placing import Box, free_place, spread
from mediacost.results.answers import Comparison, MediumAnswer

_NAME_GAP = 0.09
_TICK_GAP = 0.12
_WIDEST_NAME = 0.24
"""Most of the figure's width that names at the lines' ends may take."""
_WIDEST_NOTE = 0.45
"""Most of the axes' width that words at a mark may take."""
_POINTS_A_LINE = 80
_NEAR = 0.14
"""How near to a line a click must be, in inches."""


class LineChart:
    """By the media's places: ``lines``, their ``names``, and ``marks`` with their ``notes``.

    What they show is told by the charts built on this.
    """

    def __init__(self, figure: Figure, theme: Theme, comparison: Comparison, x_label: str) -> None:
        self.frame = Frame(figure, theme, left=0.85, right=1.75)
        self.theme = theme
        axes = self.frame.axes
        axes.grid(color=theme.grid, linewidth=0.7)
        axes.axhline(0, color=theme.faint, linewidth=0.8)
        axes.set_xlabel(x_label)
        self.lines: list[Line2D] = []
        self.marks: list[Line2D] = []
        self.names: list[Annotation] = []
        self.notes: list[Annotation] = []
        for place in range(len(comparison.media)):
            colour = theme.medium(place)
            self.lines += axes.plot([], [], color=colour, linestyle=dash(place), linewidth=2.2)
            self.marks += axes.plot(
                [], [], "o", color=colour, markeredgecolor=theme.ink, markersize=8, clip_on=False, zorder=4
            )
            self.names.append(self._words(TEXT_SIZE))
            self.notes.append(self._words(SMALL_SIZE))
            self.notes[-1].set_bbox({"facecolor": theme.paper, "edgecolor": "none", "pad": 0.8, "alpha": 0.85})
            self.notes[-1].set_zorder(5)
        self._comparison = comparison
        self.show(comparison)

    def _words(self, size: float) -> Annotation:
        return self.frame.axes.annotate(
            "",
            (0, 0),
            (0, 0),
            textcoords="offset points",
            va="center",
            fontsize=size,
            color=self.theme.ink,
            annotation_clip=False,
        )

    # What a chart built on this tells ------------------------------------------------------------------------

    def finding(self, comparison: Comparison) -> str:
        """The title."""
        raise NotImplementedError

    def subtitle(self, comparison: Comparison) -> str:
        """What is drawn, and in what unit."""
        raise NotImplementedError

    def right_end(self, comparison: Comparison) -> float:
        """Where the horizontal axis ends."""
        raise NotImplementedError

    def points(
        self, medium: MediumAnswer, comparison: Comparison, right: float
    ) -> tuple[Sequence[float], Sequence[float]]:
        """The points of a medium's line up to ``right``; none where there is no line."""
        raise NotImplementedError

    def mark(self, medium: MediumAnswer, comparison: Comparison, right: float) -> tuple[float, float, str] | None:
        """The point on a medium's line that matters, and its amount; None where there is none on the chart."""
        raise NotImplementedError

    def asked_figure(self, medium: MediumAnswer, comparison: Comparison) -> str:
        """The path of the figure that a medium's line shows."""
        raise NotImplementedError

    # What can be asked ---------------------------------------------------------------------------------------

    def figure_of(self, place: int) -> str:
        """The path of the figure that the line at a place shows."""
        return self.asked_figure(self._comparison.media[place], self._comparison)

    def place_at(self, x: float, y: float) -> int | None:
        """The medium whose mark, name or line is at a point, in pixels from the lower left; None if there is none."""
        reach = _NEAR * self.frame.figure.dpi
        distances = []
        for place, line in enumerate(self.lines):
            near = [_distance_to(self._pixels(line), x, y), 0.8 * _distance_to(self._pixels(self.marks[place]), x, y)]
            if self.names[place].get_text() and self.box_of(place).contains(x, y):
                near.append(0.0)
            distances.append((min(near), place))
        distance, place = min(distances)
        return place if distance <= reach else None

    def box_of(self, place: int) -> Bbox:
        """Where the name of a medium is, in pixels from the lower left."""
        box = self.names[place].get_window_extent()
        return Bbox([[box.x0 - 4, box.y0 - 3], [box.x1 + 4, box.y1 + 3]])

    def _pixels(self, line: Line2D) -> np.ndarray:
        points = np.column_stack([np.asarray(each, dtype=float) for each in line.get_data()])
        return self.frame.axes.transData.transform(points) if len(points) else points

    def drawn_points(self) -> list[tuple[float, float]]:
        """The points of all lines and marks, in the units of the axes."""
        return [
            (float(x), float(y))
            for line in (*self.lines, *self.marks)
            for x, y in zip(line.get_xdata(), line.get_ydata(), strict=True)
        ]

    # What is shown -------------------------------------------------------------------------------------------

    @property
    def moving(self) -> list[Artist]:
        """The parts that move when a number is dragged."""
        return [*self.frame.moving, *self.lines, *self.marks, *self.names, *self.notes]

    def show(self, comparison: Comparison, roomy: bool = False) -> None:
        """Move everything to a comparison of the same media; ``roomy`` leaves room for steeper lines."""
        self._comparison = comparison
        right = self.right_end(comparison) * (1.2 if roomy else 1.0)
        self._draw_lines(comparison, right)
        low, high = self._ends()
        spare = (0.2 if roomy else 0.06) * ((high - low) or 1.0)
        axes = self.frame.axes
        axes.set_xlim(0, right)
        axes.set_ylim(low - spare if low < 0 else 0, high + spare)
        self.frame.left = self.frame.widest_tick(axes.yaxis) + _TICK_GAP + EDGE
        self.frame.right = self._names_width(comparison) + _NAME_GAP + EDGE
        self.frame.say(self.finding(comparison), self.subtitle(comparison))
        self.frame.set_ticks_across()
        self._write(comparison, right)

    def follow(self, comparison: Comparison) -> bool:
        """Move the lines within axes that stay as they are; False where they do not fit into these."""
        self._comparison = comparison
        axes = self.frame.axes
        right = axes.get_xlim()[1]
        if not self.frame.say_in_place(self.finding(comparison)) or self.right_end(comparison) > right:
            return False
        self._draw_lines(comparison, right)
        (low, high), (bottom, top) = self._ends(), axes.get_ylim()
        if low < bottom or high > top or high - low < 0.4 * (top - bottom):
            return False
        self._write(comparison, right)
        return True

    def _draw_lines(self, comparison: Comparison, right: float) -> None:
        for line, medium in zip(self.lines, comparison.media, strict=True):
            line.set_data(*self.points(medium, comparison, right))

    def _ends(self) -> tuple[float, float]:
        """The lowest and the highest point, zero among them."""
        values = np.concatenate([np.asarray(line.get_ydata(), dtype=float) for line in self.lines] + [np.zeros(1)])
        return float(values.min()), float(values.max())

    def _names_width(self, comparison: Comparison) -> float:
        most = _WIDEST_NAME * self.frame.figure.get_size_inches()[0]
        return min(most, max(text_width(_end_name(each, comparison), TEXT_SIZE) for each in comparison.media))

    def _write(self, comparison: Comparison, right: float) -> None:
        """Names at the ends of the lines and words at the marks, none on top of another."""
        (width, height), (low, high) = self.frame.inside, self.frame.axes.get_ylim()
        scale = _Scale(width / self.frame.axes.get_xlim()[1], height / (high - low), low)
        self._write_names(comparison, scale, height)
        self._write_notes(comparison, scale, right, (width, height))

    def _write_names(self, comparison: Comparison, scale: _Scale, height: float) -> None:
        room = self._names_width(comparison)
        ended = [place for place, line in enumerate(self.lines) if len(line.get_xdata())]
        wanted = [scale.up(float(self.lines[place].get_ydata()[-1])) for place in ended]
        shown = dict(zip(ended, spread(wanted, text_height(1, TEXT_SIZE), 0.0, height), strict=True))
        for place, name in enumerate(self.names):
            name.set_text("")
            if place in shown:
                line = self.lines[place]
                end = (float(line.get_xdata()[-1]), float(line.get_ydata()[-1]))
                name.set_text(_end_name(comparison.media[place], comparison, room))
                name.xy = end
                name.set_position((72 * _NAME_GAP, 72 * (shown[place] - scale.up(end[1]))))

    def _write_notes(self, comparison: Comparison, scale: _Scale, right: float, room: tuple[float, float]) -> None:
        taken: list[Box] = []
        drawn = self._drawn_points(right, scale)
        for place, medium in enumerate(comparison.media):
            found = self.mark(medium, comparison, right)
            self.marks[place].set_data([found[0]] if found else [], [found[1]] if found else [])
            note = self.notes[place]
            note.set_text("")
            if found:
                name = shortened(medium.name, _WIDEST_NOTE * room[0] - text_width(found[2], SMALL_SIZE), SMALL_SIZE)
                note.set_text(f"{name}: {found[2]}")
                at = (scale.across(found[0]), scale.up(found[1]))
                size = (text_width(note.get_text(), SMALL_SIZE) + 0.04, text_height(1, SMALL_SIZE))
                box = free_place(at, size, room, taken, drawn)
                taken.append(box)
                note.xy = (found[0], found[1])
                note.set_position((72 * (box.left + 0.02 - at[0]), 72 * (box.bottom + size[1] / 2 - at[1])))

    def _drawn_points(self, right: float, scale: _Scale) -> np.ndarray:
        """Many points along all lines, in inches from the lower left of the axes."""
        x = np.linspace(0, right, _POINTS_A_LINE)
        rows = [
            np.column_stack((scale.across(x), scale.up(np.interp(x, *line.get_data()))))
            for line in self.lines
            if len(line.get_xdata())
        ]
        return np.concatenate(rows) if rows else np.empty((0, 2))


class _Scale(NamedTuple):
    """Inches from the lower left of the axes for amounts on them."""

    inches_across: float
    inches_up: float
    lowest: float

    def across(self, x: Any) -> Any:
        return x * self.inches_across

    def up(self, y: Any) -> Any:
        return (y - self.lowest) * self.inches_up


def _distance_to(points: np.ndarray, x: float, y: float) -> float:
    """How far a point is from a line through points."""
    if not len(points):
        return float("inf")
    here = np.array([x, y])
    starts, steps = points[:-1], np.diff(points, axis=0)
    if not len(steps):
        return float(np.hypot(*(points[0] - here)))
    lengths = np.maximum((steps**2).sum(axis=1), 1e-12)
    along = np.clip(((here - starts) * steps).sum(axis=1) / lengths, 0, 1)
    return float(np.hypot(*(starts + along[:, None] * steps - here).T).min())


def _end_name(medium: MediumAnswer, comparison: Comparison, room: float | None = None) -> str:
    today = ", today" if medium.id == comparison.baseline else ""
    if room is None:
        return f"{medium.name}{today}"
    return shortened(medium.name, room - text_width(today, TEXT_SIZE), TEXT_SIZE) + today
