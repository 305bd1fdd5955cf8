"""Format numbers of the scenario file, and how an older file becomes a current one.

History of the format:

1. The first one.

To change the format: raise `CURRENT_FORMAT`, say above what changed, add the function that takes the data of
the number before to `UPGRADES`, and put a sample of the old number into tests/old_files/. New optional tables
and fields with defaults need no new number.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from mediacost.scenario.values import Refused, refuse, shown

CURRENT_FORMAT = 1

Upgrade = Callable[[dict[str, Any]], dict[str, Any]]

UPGRADES: dict[int, Upgrade] = {}
"""By the number they start from: a function that returns the data in the next number, its input untouched."""


def upgrade(
    data: Mapping[str, Any], current: int = CURRENT_FORMAT, upgrades: Mapping[int, Upgrade] | None = None
) -> dict[str, Any]:
    """Return the data in the current format (`Refused` if its format number is missing, wrong or newer).

    The chain runs one number at a time; each step sets `format` to the next number.
    """
    steps = UPGRADES if upgrades is None else upgrades
    number = _format_number(data, current)
    upgraded = dict(data)
    for start in range(number, current):
        upgraded = {**steps[start](upgraded), "format": start + 1}
    return upgraded


def _format_number(data: Mapping[str, Any], current: int) -> int:
    expected = f"format = {current}"
    if "format" not in data:
        raise refuse("is missing", f"{expected}, as the first line of a scenario file", "format")
    number = data["format"]
    if isinstance(number, bool) or not isinstance(number, (int, float)) or number != number // 1 or number < 1:
        raise refuse(f"{shown(number)} is not a format number", expected, "format")
    if number > current:
        raise refuse(
            f"{shown(number)} is newer than this program knows",
            f"{current} or less: a newer version of mediacost opens it",
            "format",
        )
    return int(number)


__all__ = ["CURRENT_FORMAT", "UPGRADES", "Refused", "Upgrade", "upgrade"]
