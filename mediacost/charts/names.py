"""The words by which a chart is chosen; apart from the charts, so that a window can offer them before it draws."""

CHART_WORDS = {
    "cost_parts": "What a kilogram costs",
    "over_cycles": "Over the cycles",
    "by_month": "Month by month",
}
