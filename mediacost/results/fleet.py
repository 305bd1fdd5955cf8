"""The sheets to own: how many are away at the peak, how many packs that means, what they cost at the start."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from mediacost.formulas import numeric, saving, week
from mediacost.formulas.numeric import Number
from mediacost.results.inputs import MediumNumbers, Numbers
from mediacost.results.reading import Reading
from mediacost.scenario import WEEKDAYS


class Fleet(NamedTuple):
    """Sheets to own and what bringing them in costs. Nothing of it for a single-use medium."""

    sheets_needed: Number = 0.0
    in_use: Number = 0.0
    packs: Number = 0.0
    equipment: Number = 0.0
    outlay: Number = 0.0


def fleet_figures(
    medium: MediumNumbers, rounds: Sequence[Sequence[week.Round]], numbers: Numbers, reading: Reading
) -> Fleet:
    """Sheets to own, packs to buy and the outlay, with every tray of the room on this medium."""
    if not medium.reusable:
        return Fleet()
    room, mark = numbers.room, reading.mark
    away = week.trays_away(each for crop in rounds for each in crop)
    peak = reading.counted("peak_trays", float(max(away)), lambda: _away_lines(away, rounds, medium), medium.id)
    needed = mark(
        "sheets_needed",
        saving.sheets_needed(peak, room.peak_season, medium.sheets_per_tray, room.spare_share),
        medium.id,
    )
    is_baseline = medium is numbers.media[numbers.baseline]
    owned: Number = medium.owned_sheets
    if owned is None:
        owned = needed if is_baseline else 0.0
    packs = mark("packs_to_buy", saving.packs_to_buy(needed, owned, medium.pieces), medium.id)
    equipment = medium.wash.equipment_price if medium.wash and medium.wash.equipment_price is not None else 0.0
    return Fleet(
        sheets_needed=needed,
        in_use=numeric.minimum(owned, needed),
        packs=packs,
        equipment=equipment,
        outlay=mark("outlay", packs * medium.landed + equipment, medium.id),
    )


def _away_lines(away: Sequence[int], rounds: Sequence[Sequence[week.Round]], medium: MediumNumbers) -> list[str]:
    lines = []
    for lay, crop in zip(medium.lays, rounds, strict=True):
        for each in crop:
            day = WEEKDAYS[each.sown % 7]
            lines.append(
                f"{lay.crop.name} sown {day}: {each.trays} trays, harvested {WEEKDAYS[each.harvested % 7]} after "
                f"{each.days_in_room} days, washed {WEEKDAYS[each.washed % 7]}, ready {WEEKDAYS[each.ready % 7]}: "
                f"away {each.days_away} days"
            )
    lines.append("trays away by day: " + ", ".join(f"{day} {n}" for day, n in zip(WEEKDAYS, away, strict=True)))
    return lines
