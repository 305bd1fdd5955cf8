"""What the single answer leaves open: ranges in the inputs, and how many trays the harvest weights rest on."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from mediacost.results.answers import Doubt
from mediacost.results.weights import kept_trays
from mediacost.scenario import Range, Scenario


def doubt_left(scenario: Scenario) -> Doubt:
    """Count the ranges and the weighed trays behind the harvest weights that are used."""
    pairs = {(pair.medium, pair.crop): pair for pair in scenario.pairs}
    counts: list[int] = []
    for crop in scenario.crops:
        if not sum(crop.sowing.values()):
            continue
        for medium in scenario.media:
            kept = sum(1 for _ in kept_trays(scenario, medium.id, crop.id))
            pair = pairs.get((medium.id, crop.id))
            typed = pair.trays if pair is not None and pair.trays else 0
            counts.append(kept or typed)
    known = [count for count in counts if count]
    return Doubt(_count_ranges(scenario), sum(known), counts.count(0), min(known, default=0))


def _count_ranges(value: Any) -> int:
    if isinstance(value, Range):
        return 1
    if isinstance(value, BaseModel):
        return sum(_count_ranges(each) for each in vars(value).values())
    if isinstance(value, tuple):
        return sum(_count_ranges(each) for each in value)
    return 0
