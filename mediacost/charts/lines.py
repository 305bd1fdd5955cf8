"""The charts of lines: money over cycles, and money by month."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure

from mediacost.charts.findings import by_month_finding, over_cycles_finding
from mediacost.charts.line_chart import LineChart
from mediacost.charts.palette import Theme
from mediacost.formulas import saving
from mediacost.results import words
from mediacost.results.answers import Comparison, MediumAnswer, NoAnswer
from mediacost.results.figures import BASIS_WORDS

Points = tuple[Sequence[float], Sequence[float]]

_COST_OF_A_TRAY = "cost_per_tray.medium_total"


class OverCyclesChart(LineChart):
    """What each medium has cost as cycles go by, in place of one baseline tray; crossings marked."""

    def __init__(self, figure: Figure, theme: Theme, comparison: Comparison) -> None:
        super().__init__(figure, theme, comparison, "cycles of one sheet")

    def finding(self, comparison: Comparison) -> str:
        return over_cycles_finding(comparison, comparison.basis)

    def subtitle(self, comparison: Comparison) -> str:
        counted = BASIS_WORDS[comparison.basis]
        return f"Cost of the medium in the place of one tray of today's, {comparison.currency}; {counted}"

    def right_end(self, comparison: Comparison) -> float:
        """A sheet's mean life, and the break-even where it is not far beyond."""
        lives = [medium.mean_cycles for medium in comparison.media if medium.use == "reusable"]
        longest = max(lives, default=20.0)
        meets = [
            cycles
            for medium in comparison.media
            if not isinstance(cycles := medium.break_even_cycles[comparison.basis], NoAnswer) and cycles < 2 * longest
        ]
        return max([longest, *(1.15 * cycles for cycles in meets), 2.0])

    def points(self, medium: MediumAnswer, comparison: Comparison, right: float) -> Points:
        line = medium.over_cycles.get(comparison.basis)
        if line is None:
            return [], []
        ends = (0.0, right)
        return ends, [saving.cost_after_cycles(line.start, line.per_cycle, cycles) for cycles in ends]

    def mark(self, medium: MediumAnswer, comparison: Comparison, right: float) -> tuple[float, float, str] | None:
        line = medium.over_cycles.get(comparison.basis)
        cycles = medium.break_even_cycles[comparison.basis]
        if line is None or isinstance(cycles, NoAnswer) or cycles > right:
            return None
        height = saving.cost_after_cycles(line.start, line.per_cycle, cycles)
        return cycles, height, f"{words.number(cycles, 3)} cycles"

    def asked_figure(self, medium: MediumAnswer, comparison: Comparison) -> str:
        if medium.id == comparison.baseline:
            return _COST_OF_A_TRAY
        name = "break_even_cycles" if medium.use == "reusable" else "saving_per_tray"
        return f"{name}.{comparison.basis}"


class ByMonthChart(LineChart):
    """Money ahead of the baseline at each month's end; the payback marked."""

    def __init__(self, figure: Figure, theme: Theme, comparison: Comparison) -> None:
        super().__init__(figure, theme, comparison, "months from the purchase")

    def finding(self, comparison: Comparison) -> str:
        return by_month_finding(comparison, comparison.basis)

    def subtitle(self, comparison: Comparison) -> str:
        return f"Money ahead of today's medium so far, {comparison.currency}; {BASIS_WORDS[comparison.basis]}"

    def right_end(self, comparison: Comparison) -> float:
        """The months looked at."""
        return float(comparison.horizon_months)

    def points(self, medium: MediumAnswer, comparison: Comparison, right: float) -> Points:
        months = range(comparison.horizon_months + 1)
        if medium.id == comparison.baseline:
            return months, [0.0] * len(months)
        flow = medium.cash.get(comparison.basis)
        return ([], []) if flow is None else (months, flow.running)

    def mark(self, medium: MediumAnswer, comparison: Comparison, right: float) -> tuple[float, float, str] | None:
        simple = medium.payback_months[comparison.basis].simple
        if isinstance(simple, NoAnswer) or simple == 0:
            return None
        return simple, 0.0, words.months(simple)

    def asked_figure(self, medium: MediumAnswer, comparison: Comparison) -> str:
        if medium.id == comparison.baseline:
            return _COST_OF_A_TRAY
        return f"payback_months.{comparison.basis}.simple"
