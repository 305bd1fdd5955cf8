"""Sheets, counted one by one: pieces of a roll, cycles served, dated days, washing, replacements.

Part of the second reading in `plain_model`; shares no code with the package.
"""

from __future__ import annotations

import datetime
import math
from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

DUST = 1e-9
MOST_CYCLES = 300_000
"""Beyond this many cycles counting one by one is no longer sensible."""

WATER_KJ_PER_KG_K = 4.186
A_MONDAY = datetime.date(2001, 1, 1)


class TooMuchToCountError(Exception):
    """The scenario needs more cycles than can be counted one by one."""


def round_up(value: float) -> int:
    """Return the next whole number, forgiving dust above one."""
    return math.ceil(value - DUST)


def round_down(value: float) -> int:
    """Return the whole number below, forgiving dust under one."""
    return math.floor(value + DUST)


def pieces_of(medium: dict[str, Any], tray: dict[str, Any]) -> int:
    """Return the sheets in a pack, or the tray-sized pieces that a roll gives in one plain grid."""
    if "cut_from" not in medium:
        return medium["pieces_per_pack"]

    def size(table: dict[str, Any], key: str) -> float:
        value = table[key]
        return value["likely"] if isinstance(value, dict) else value

    long, wide = size(medium["cut_from"], "length_mm"), size(medium["cut_from"], "width_mm")
    a, b = size(tray, "length_mm"), size(tray, "width_mm")
    return max(
        round_down(long / a) * round_down(wide / b),
        round_down(long / b) * round_down(wide / a),
    )


def mean_cycles_of(rated_life: int, loss: float) -> float:
    """Return the cycles that a sheet serves on average: the sum of its chances to serve cycle 1, 2, ... N."""
    if rated_life > MOST_CYCLES:
        raise TooMuchToCountError(rated_life)
    chances, chance = [], 1.0
    for _ in range(rated_life):
        chances.append(chance)
        chance *= 1 - loss
    return math.fsum(chances)


class _Renewals:
    """Chances that a position's sheet is replaced after cycle n, by the recursion, and their running sum."""

    def __init__(self, rated_life: int, loss: float) -> None:
        self.rated_life, self.loss = rated_life, loss
        self.whole_life = (1 - loss) ** rated_life
        self.chance = [1.0]
        self.total = [0.0]

    def after(self, cycle: int) -> float:
        """Return the replacements expected up to and including those right after this cycle."""
        if cycle > MOST_CYCLES:
            raise TooMuchToCountError(cycle)
        while len(self.chance) <= cycle:
            n = len(self.chance)
            chance = self.loss
            if n >= self.rated_life:
                chance += self.whole_life * self.chance[n - self.rated_life]
            self.chance.append(chance)
            self.total.append(self.total[-1] + chance)
        return self.total[cycle]


@lru_cache(maxsize=16)
def _renewals(rated_life: int, loss: float) -> _Renewals:
    return _Renewals(rated_life, loss)


def expected_replacements(cycles: float, rated_life: int, loss: float) -> float:
    """Return the sheets bought per position within so many cycles, straight between whole cycles."""
    below = math.floor(cycles)
    renewals = _renewals(rated_life, loss)
    at_below, at_next = renewals.after(below), renewals.after(below + 1)
    return at_below + (cycles - below) * (at_next - at_below)


@dataclass
class Week:
    """A week like all others: by weekday the trays washed and the trays whose sheets are away."""

    trays_washed: list[int]
    trays_away: list[int]
    days_in_tray: dict[str, float]
    """By crop, real days from sowing to harvest, averaged over the trays sown."""


def first_of(weekdays: set[int], day: datetime.date) -> datetime.date:
    """Return the first day at or after this one that falls on one of the weekdays."""
    while day.weekday() not in weekdays:
        day += datetime.timedelta(days=1)
    return day


def follow_the_sheets(
    sowings: list[tuple[str, int, int, int]], harvest_days: set[int], wash_days: set[int], dry_days: int
) -> Week:
    """Sow the same week again and again with real dates and watch one week in which the room is full.

    A sowing is (crop, weekday, trays, days in tray). Sheets are away from the sow day to the day before they
    are ready.
    """
    day = datetime.timedelta(days=1)
    longest = max(days for *_, days in sowings) + 14 + dry_days
    warm_up = longest // 7 + 2
    watched = [A_MONDAY + (7 * warm_up + weekday) * day for weekday in range(7)]
    washed: Counter[datetime.date] = Counter()
    away: Counter[datetime.date] = Counter()
    waits: dict[str, Counter[int]] = {}
    for week in range(warm_up + 1):
        for crop, weekday, trays, days in sowings:
            sown = A_MONDAY + (7 * week + weekday) * day
            harvested = first_of(harvest_days, sown + days * day)
            wash_day = first_of(wash_days, harvested)
            ready = wash_day + dry_days * day
            washed[wash_day] += trays
            for date in watched:
                if sown <= date < ready:
                    away[date] += trays
            waits.setdefault(crop, Counter())[(harvested - sown).days] += trays
    return Week(
        trays_washed=[washed[date] for date in watched],
        trays_away=[away[date] for date in watched],
        days_in_tray={
            crop: sum(days * trays for days, trays in counted.items()) / sum(counted.values())
            for crop, counted in waits.items()
        },
    )


@dataclass
class Step:
    """A step of a routine: amounts per sheet, per batch and per wash day, in this order."""

    minutes: tuple[float, ...]
    litres: tuple[float, ...]
    cost_per_batch: float
    sheets_per_batch: int | None
    kelvin: float
    product_share: float
    product_price: float


class WashAmounts(NamedTuple):
    """Washing per sheet: minutes, litres of water, kWh of heat, money for sanitiser and for consumables."""

    minutes: float
    water: float
    kwh: float
    product_cost: float
    consumables: float


def wash_amounts(steps: list[Step], loads: list[int], heater_efficiency: float) -> WashAmounts:
    """Wash step by step and day by day, and return what falls to one sheet."""
    minutes, water, kwh, product_cost, consumables = [], [], [], [], []
    for step in steps:
        for sheets in loads:  # one wash day after the other
            if sheets == 0:
                continue
            batches = round_up(sheets / step.sheets_per_batch) if step.sheets_per_batch else 0
            times = (sheets, batches, 1)
            minutes.append(math.fsum(n * amount for n, amount in zip(times, step.minutes, strict=True)))
            litres = math.fsum(n * amount for n, amount in zip(times, step.litres, strict=True))
            water.append(litres * (1 - step.product_share))
            product_cost.append(litres * step.product_share * step.product_price)
            kwh.append(litres * WATER_KJ_PER_KG_K * step.kelvin / 3600 / heater_efficiency)
            consumables.append(batches * step.cost_per_batch)
    return WashAmounts(*(math.fsum(week) / sum(loads) for week in (minutes, water, kwh, product_cost, consumables)))
