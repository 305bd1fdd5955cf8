"""The ten cost lines in five groups, for charts and for a glance."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class CostGroup(NamedTuple):
    """A group of cost lines, its words and its lines."""

    id: str
    label: str
    lines: tuple[str, ...]

    def of(self, cost_per_tray: Mapping[str, float]) -> float:
        """What the group costs per tray [money/tray]."""
        return sum(cost_per_tray[line] for line in self.lines)


COST_GROUPS = (
    CostGroup("sheet", "sheet", ("sheet",)),
    CostGroup("labour", "labour", ("prep_labour", "wash_labour")),
    CostGroup("washing", "washing supplies", ("sanitiser", "consumables", "equipment")),
    CostGroup("utilities", "water and energy", ("wash_water", "wash_energy", "crop_water")),
    CostGroup("disposal", "disposal", ("disposal",)),
)
"""In the order in which bars are stacked; together they are ``medium_total``."""
