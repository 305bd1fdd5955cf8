"""The charts there are, in the order in which they are offered, each under the words it is chosen by."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from mediacost.charts.cost_parts import CostPartsChart
from mediacost.charts.frame import Frame
from mediacost.charts.lines import ByMonthChart, OverCyclesChart
from mediacost.charts.palette import Theme
from mediacost.results.answers import Comparison


class Chart(Protocol):
    """What every chart can do: show a comparison, follow a dragged value, and say which medium is where."""

    frame: Frame

    @property
    def moving(self) -> Sequence[Artist]:
        """The parts that move when a number is dragged."""

    def show(self, comparison: Comparison, roomy: bool = False) -> None:
        """Move to a comparison of the same media."""

    def follow(self, comparison: Comparison) -> bool:
        """Move what moves and leave the rest; False where it no longer fits the axes."""

    def figure_of(self, place: int) -> str:
        """The figure that is asked why for the medium at a place."""

    def place_at(self, x: float, y: float) -> int | None:
        """The place of the medium that is drawn at a point of the canvas."""

    def box_of(self, place: int) -> Bbox:
        """Where a medium is drawn."""


class ChartMaker(Protocol):
    """Builds a chart into a figure."""

    def __call__(self, figure: Figure, theme: Theme, comparison: Comparison) -> Chart:
        """The chart, showing a comparison."""


CHARTS: dict[str, ChartMaker] = {
    "cost_parts": CostPartsChart,
    "over_cycles": OverCyclesChart,
    "by_month": ByMonthChart,
}
"""By name; the words for them are in :data:`mediacost.charts.names.CHART_WORDS`."""
