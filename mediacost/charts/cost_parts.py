"""What the medium's part of a kilogram is made of: a bar for each medium, five groups in it."""

from __future__ import annotations

from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.legend import Legend
from matplotlib.patches import Rectangle
from matplotlib.transforms import Bbox

from mediacost.charts.findings import cost_parts_finding
from mediacost.charts.frame import EDGE, SMALL_SIZE, TEXT_SIZE, Frame
from mediacost.charts.measuring import text_height, text_width, wrapped
from mediacost.charts.palette import GROUP_HATCHES, GROUP_SHADES, Theme, mixed, readable_on
from mediacost.results import words
from mediacost.results.answers import Comparison, MediumAnswer, NoAnswer
from mediacost.results.groups import COST_GROUPS

_BAR = 0.62
_SMALLEST = 6.0
"""Size of the smallest letters, for many media in little room."""
_HANDLE, _HANDLE_GAP, _COLUMN_GAP = 1.4, 0.6, 1.2
"""Sizes of the key in sizes of its face."""


class CostPartsChart:
    """Horizontal bars in file order; amounts start at zero.

    By the media's places ``bars`` has five bars each, ``inside`` their names, ``totals`` the words at the end.
    """

    def __init__(self, figure: Figure, theme: Theme, comparison: Comparison) -> None:
        self.frame = Frame(figure, theme, left=1.55, right=1.05, bottom=0.68)
        self.theme = theme
        axes = self.frame.axes
        self._comparison = comparison
        self.bars = [[self._bar(place, group) for group in range(5)] for place in range(len(comparison.media))]
        self.inside = [
            [axes.text(0, 0, "", ha="center", va="center", fontsize=SMALL_SIZE) for _ in COST_GROUPS]
            for _ in comparison.media
        ]
        self.totals = [
            axes.text(0, place, "", va="center", fontsize=TEXT_SIZE, color=theme.ink)
            for place in range(len(comparison.media))
        ]
        axes.set_ylim(len(comparison.media) - 0.45, -0.55)
        axes.set_yticks(range(len(comparison.media)))
        axes.tick_params(axis="y", length=0, labelcolor=theme.ink, labelsize=TEXT_SIZE)
        axes.spines["left"].set_visible(False)
        axes.grid(axis="x", color=theme.grid, linewidth=0.7)
        axes.axvline(0, color=theme.faint, linewidth=0.8)
        self._bars_hold_words = True
        self._key: Legend | None = None
        self._key_columns = 0
        self.show(comparison)

    def _bar(self, place: int, group: int) -> Rectangle:
        colour = mixed(self.theme.medium(place), self.theme.paper, GROUP_SHADES[group])
        bar = Rectangle(
            (0, place - _BAR / 2),
            0,
            _BAR,
            facecolor=colour,
            edgecolor=self.theme.ink,
            linewidth=0.6,
            hatch=GROUP_HATCHES[group],
        )
        self.frame.axes.add_artist(bar)
        return bar

    # What can be asked ---------------------------------------------------------------------------------------

    def figure_of(self, place: int) -> str:
        """The path of the figure that the bar at a place shows."""
        return "medium_cost_per_kg"

    def place_at(self, x: float, y: float) -> int | None:
        """The medium whose row is at a point, in pixels from the lower left; None between rows and outside."""
        axes = self.frame.axes
        right = self.frame.figure.bbox.x1
        row = axes.transData.inverted().transform((x, y))[1]
        place = round(row)
        near = abs(row - place) <= 0.5 and 0 <= place < len(self.bars)
        return place if near and 0 <= x <= right and axes.bbox.y0 <= y <= axes.bbox.y1 else None

    def box_of(self, place: int) -> Bbox:
        """Where the row of a medium is, in pixels from the lower left."""
        axes = self.frame.axes
        low, high = sorted(axes.transData.transform([(0, place - 0.42), (0, place + 0.42)])[:, 1])
        return Bbox([[3, low], [self.frame.figure.bbox.x1 - 3, high]])

    def drawn_points(self) -> list[tuple[float, float]]:
        """The corners of all bars, in the units of the axes."""
        bars = [bar for row in self.bars for bar in row]
        return [(bar.get_x(), bar.get_y()) for bar in bars] + [
            (bar.get_x() + bar.get_width(), bar.get_y() + bar.get_height()) for bar in bars
        ]

    # What is shown -------------------------------------------------------------------------------------------

    @property
    def moving(self) -> list[Artist]:
        """The parts that move when a number is dragged."""
        bars = [bar for row in self.bars for bar in row]
        return [*self.frame.moving, *bars, *(text for row in self.inside for text in row), *self.totals]

    def show(self, comparison: Comparison, roomy: bool = False) -> None:
        """Move everything to a comparison of the same media; ``roomy`` leaves room for longer bars."""
        self._comparison = comparison
        self._set_scene(comparison, roomy)
        self._show_media(comparison)

    def follow(self, comparison: Comparison) -> bool:
        """Move the bars within axes that stay as they are; False where they do not fit into these."""
        self._comparison = comparison
        if not self.frame.say_in_place(cost_parts_finding(comparison)):
            return False
        lowest, highest = _ends(comparison)
        low, high = self.frame.axes.get_xlim()
        if highest > high or lowest < low or highest < 0.4 * high:
            return False
        self._show_media(comparison)
        return True

    def _set_scene(self, comparison: Comparison, roomy: bool) -> None:
        frame, axes = self.frame, self.frame.axes
        width = frame.figure.get_size_inches()[0]
        names = [_named(medium, comparison) for medium in comparison.media]
        left = min(0.28 * width, max(text_width(name, TEXT_SIZE) for name in names)) + 0.12
        frame.left = left + EDGE
        frame.right = max(text_width(_total_text(each, comparison), TEXT_SIZE) for each in comparison.media) + 0.25
        self._set_key(width)
        frame.say(
            cost_parts_finding(comparison),
            f"The medium's own costs in a kilogram of saleable harvest, {comparison.currency}/kg; seed, growing and "
            "packing come on top",
        )
        row = frame.inside[1] / len(names)
        most = max(1, min(3, int(row / text_height(1, TEXT_SIZE))))
        size = max(_SMALLEST, min(TEXT_SIZE, TEXT_SIZE * row / text_height(1, TEXT_SIZE)))
        axes.set_yticklabels(
            ["\n".join(wrapped(name, left - 0.08, TEXT_SIZE, most=most)) for name in names], fontsize=size
        )
        for total in self.totals:
            total.set_fontsize(size)
        lowest, highest = _ends(comparison)
        spare = (0.25 if roomy else 0.02) * ((highest - lowest) or 1.0)
        axes.set_xlim(lowest - spare if lowest < 0 else 0, highest + spare)
        frame.set_ticks_across()

    def _set_key(self, width: float) -> None:
        """Which hatch is which group, in words below the bars, for segments too narrow for their name."""
        face = SMALL_SIZE / 72
        widest = max(text_width(group.label, SMALL_SIZE) for group in COST_GROUPS)
        column = widest + (_HANDLE + _HANDLE_GAP + _COLUMN_GAP) * face
        columns = max(1, min(5, int((width - 2 * EDGE) / column)))
        rows = -(-len(COST_GROUPS) // columns)
        self.frame.bottom = 0.46 + text_height(rows, SMALL_SIZE) * 1.35
        if columns == self._key_columns:
            return
        if self._key is not None:
            self._key.remove()
        self._key_columns = columns
        self._key = self.frame.figure.legend(
            handles=self._key_handles(),
            loc="lower left",
            ncols=columns,
            frameon=False,
            fontsize=SMALL_SIZE,
            labelcolor=self.theme.ink,
            handlelength=_HANDLE,
            handletextpad=_HANDLE_GAP,
            columnspacing=_COLUMN_GAP,
            borderaxespad=0.4,
        )

    def _key_handles(self) -> list[Rectangle]:
        return [
            Rectangle(
                (0, 0),
                1,
                1,
                facecolor=mixed(self.theme.faint, self.theme.paper, shade),
                edgecolor=self.theme.ink,
                linewidth=0.6,
                hatch=hatch,
                label=group.label,
            )
            for group, shade, hatch in zip(COST_GROUPS, GROUP_SHADES, GROUP_HATCHES, strict=True)
        ]

    def _show_media(self, comparison: Comparison) -> None:
        low, high = self.frame.axes.get_xlim()
        inches_per_unit = self.frame.inside[0] / (high - low)
        self._bars_hold_words = _BAR * self.frame.inside[1] / len(comparison.media) > text_height(1, SMALL_SIZE)
        for place, medium in enumerate(comparison.media):
            self._show_medium(place, medium, comparison, inches_per_unit)

    def _show_medium(self, place: int, medium: MediumAnswer, comparison: Comparison, inches_per_unit: float) -> None:
        right = left = 0.0
        values = _parts(medium)
        for bar, text, group, value in zip(self.bars[place], self.inside[place], COST_GROUPS, values, strict=True):
            start = right if value >= 0 else left
            bar.set_x(start)
            bar.set_width(value)
            right, left = (right + value, left) if value >= 0 else (right, left + value)
            room = abs(value) * inches_per_unit - 0.12
            fits = self._bars_hold_words and text_width(group.label, SMALL_SIZE) < room
            text.set_text(group.label if fits else "")
            text.set_position((start + value / 2, place))
            text.set_color(readable_on(bar.get_facecolor()))
            text.set_bbox({"facecolor": bar.get_facecolor(), "edgecolor": "none", "pad": 1.2} if fits else None)
        total = self.totals[place]
        total.set_x(right + 0.09 / inches_per_unit)
        total.set_text(_total_text(medium, comparison))


def _parts(medium: MediumAnswer) -> list[float]:
    """The five groups in a kilogram; nothing where nothing saleable is harvested."""
    if isinstance(medium.medium_cost_per_kg, NoAnswer):
        return [0.0 for _ in COST_GROUPS]
    return [group.of(medium.cost_per_tray) / medium.yield_kg_per_tray for group in COST_GROUPS]


def _ends(comparison: Comparison) -> tuple[float, float]:
    """How far the bars go to the left and to the right of zero."""
    parts = [_parts(medium) for medium in comparison.media]
    lowest = min(sum(part for part in each if part < 0) for each in parts)
    return lowest, max(sum(part for part in each if part > 0) for each in parts)


def _total_text(medium: MediumAnswer, comparison: Comparison) -> str:
    if isinstance(medium.medium_cost_per_kg, NoAnswer):
        return "no saleable harvest"
    return f"{words.fixed(medium.medium_cost_per_kg)} {comparison.currency}/kg"


def _named(medium: MediumAnswer, comparison: Comparison) -> str:
    return comparison.heading(medium)
