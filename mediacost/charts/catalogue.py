"""The charts there are, in the order in which they are offered, each under the words it is chosen by."""

from __future__ import annotations

from mediacost.charts.cost_parts import CostPartsChart
from mediacost.charts.lines import ByMonthChart, OverCyclesChart

CHARTS = {
    "cost_parts": CostPartsChart,
    "over_cycles": OverCyclesChart,
    "by_month": ByMonthChart,
}
"""By name; the words for them are in :data:`mediacost.charts.names.CHART_WORDS`."""
