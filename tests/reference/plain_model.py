"""A second reading of the whole costing, in plain Python, kept apart from the package on purpose.

It takes a scenario as the nested dict that `tomllib` gives and returns the answer of `compare --json`. It
shares no code with the package and counts where the package calculates: sheets are followed through dated
days, replacements come from the recursion itself, survival is summed cycle by cycle, and rates of return are
looked for on a grid. Slow and simple is the point: where two readings of the same rules differ, one is wrong.

The scenario must be valid; nothing is checked here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from tests.reference.plain_cash import (
    internal_rate,
    net_present_value,
    paybacks,
    reading_at,
    savings_to_investment,
)
from tests.reference.plain_media import (
    MEDIUM_LINES,
    Candidate,
    OnCrop,
    Setting,
    Table,
    average,
    candidate_of,
    number,
    setting_of,
    trays_sown,
)
from tests.reference.plain_sheets import expected_replacements

DUST = 1e-9

BASES = ("per_tray", "same_harvest", "sell_extra")


def divide(above: float, below: float) -> float | None:
    """Return the ratio, None where there is nothing to divide by."""
    return None if below == 0 else above / below


def trays_for_one(setting: Setting, m: Candidate, b: Candidate) -> dict[str, float] | None:
    """Return, crop by crop, how many trays of m give the harvest of one tray of b; None without a harvest."""
    if any(found.saleable_kg == 0 for found in m.crops.values()):
        return None
    if average(setting, b, "saleable_kg") == 0:
        return None
    return {crop: b.crops[crop].saleable_kg / found.saleable_kg for crop, found in m.crops.items()}


def same_harvest_cost(setting: Setting, m: Candidate, b: Candidate) -> float | None:
    """Return the cost of the baseline's harvest per kg, grown on m."""
    trays = trays_for_one(setting, m, b)
    if trays is None:
        return None
    cost = setting.mix({crop: trays[crop] * found.total for crop, found in m.crops.items()})
    return divide(cost, average(setting, b, "saleable_kg"))


@dataclass
class Saving:
    """The saving of a medium on one basis: its trays for one of the baseline's, and money per such tray."""

    trays_for_one: float
    running: float
    """Saving of the running cost per baseline tray."""
    room_for_sheets: float
    """What is left per baseline tray to pay sheets with: all of b's cost less m's without its sheets."""


def saving_on(setting: Setting, m: Candidate, b: Candidate, basis: str) -> Saving | None:
    """Compare m with b on one basis; None where it cannot be compared."""
    trays = dict.fromkeys(m.crops, 1.0) if basis != "same_harvest" else trays_for_one(setting, m, b)
    if trays is None:
        return None
    running, room_for_sheets, turned_over = {}, {}, {}
    for crop, on_m in m.crops.items():
        on_b, k = b.crops[crop], trays[crop]
        turned_over[crop] = on_b.total + on_b.revenue + k * (on_m.total + on_m.revenue)
        if basis == "per_tray":
            cost_m, cost_b = on_m.medium_total, on_b.medium_total
        elif basis == "same_harvest":
            cost_m, cost_b = on_m.total, on_b.total
        else:  # what is earned counts against the cost
            cost_m, cost_b = on_m.total - on_m.revenue, on_b.total - on_b.revenue
        running[crop] = (cost_b - on_b.dated_cost) - k * (cost_m - on_m.dated_cost)
        room_for_sheets[crop] = cost_b - k * (cost_m - on_m.dated_cost + m.equipment_per_tray)
    money = setting.mix(turned_over)
    return Saving(
        setting.mix(trays), without_dust(setting.mix(running), money), without_dust(setting.mix(room_for_sheets), money)
    )


def without_dust(difference: float, turned_over: float) -> float:
    """Return a difference of money, or nothing where it is only the rounding of what is turned over."""
    return 0.0 if abs(difference) <= 1e-13 * abs(turned_over) else difference


def break_even(m: Candidate, saving: Saving) -> tuple[float | None, float | None]:
    """Return the mean cycles at which m and b cost the same, and the rated life that reaches them."""
    if saving.room_for_sheets <= 0:
        return None, None
    # a sheet whose scrap earns more than it cost has paid before its first cycle
    cycles = saving.trays_for_one * m.sheets_per_tray * max(0.0, m.sheet_life_cost) / saving.room_for_sheets
    if m.loss == 0:
        return cycles, cycles
    if m.loss * cycles >= 1:
        return cycles, None
    return cycles, math.log(1 - m.loss * cycles) / math.log(1 - m.loss)


def trays_by_month(setting: Setting) -> list[float]:
    """Return the trays sown in month 0 (none), 1, 2, ... of the horizon."""
    room = setting.room
    months = room.get("horizon_months", 36)
    in_a_month = setting.trays_per_week * number(room, "weeks_per_year", 52) / 12
    first = room.get("start_month", 1)
    return [0.0] + [in_a_month * setting.season[(first - 1 + month) % 12] for month in range(months)]


def cycles_by_month(m: Candidate, trays: list[float], k: float) -> list[float]:
    """Return the cycles that a sheet has served by the end of each month."""
    if not m.reusable:
        return [0.0] * len(trays)
    return [math.fsum(trays[: month + 1]) * k * m.sheets_per_tray / m.sheets_needed for month in range(len(trays))]


def purchases_by_month(m: Candidate, cycles: list[float]) -> list[float]:
    """Return what is spent in each month on sheets that replace others, and on equipment bought again."""
    spent = [0.0] * len(cycles)
    if not m.reusable:
        return spent
    new = m.sheets_needed - m.owned_in_use
    replaced = [
        m.owned_in_use * n / m.mean_cycles + new * expected_replacements(n, m.rated_life, m.loss) for n in cycles
    ]
    horizon = len(cycles) - 1
    for month in range(1, horizon + 1):
        spent[month] += (replaced[month] - replaced[month - 1]) * m.sheet_life_cost
        if month < horizon and month % m.equipment_months == 0:
            spent[month] += m.equipment_price
    return spent


def cash_figures(setting: Setting, m: Candidate, b: Candidate, saving: Saving) -> Table:
    """Return payback and the rest of what follows from the monthly cash flow of m against b."""
    trays = trays_by_month(setting)
    cycles = cycles_by_month(m, trays, saving.trays_for_one)
    bought_m = purchases_by_month(m, cycles)
    bought_b = purchases_by_month(b, cycles_by_month(b, trays, 1.0))
    months = zip(trays, bought_m, bought_b, strict=True)
    flows = [sown * saving.running - for_m + for_b for sown, for_m, for_b in months]
    flows[0] = -(m.outlay - b.outlay)
    rate = number(setting.room, "discount_rate", 0.08)
    payback = paybacks(flows, rate)
    simple = payback["simple"]
    return {
        "payback_months": payback,
        "payback_cycles": reading_at(cycles, simple) if m.reusable and simple is not None else None,
        "npv": net_present_value(flows, rate),
        "irr": internal_rate(flows),
        "sir": savings_to_investment(flows, rate),
    }


def against_baseline(setting: Setting, m: Candidate, b: Candidate) -> Table:
    """Return the figures of m that compare it with the baseline, by basis."""
    no_payback = dict.fromkeys(("simple", "discounted", "first_simple", "first_discounted"))
    found: Table = {
        "saving_per_tray": dict.fromkeys(BASES),
        "break_even_cycles": dict.fromkeys(BASES),
        "break_even_life": dict.fromkeys(BASES),
        "payback_months": {basis: dict(no_payback) for basis in BASES},
        "payback_cycles": dict.fromkeys(BASES),
        "npv": dict.fromkeys(BASES),
        "irr": dict.fromkeys(BASES),
        "sir": dict.fromkeys(BASES),
    }
    if m is b:
        return found
    for basis in BASES:
        saving = saving_on(setting, m, b, basis)
        if saving is None:
            continue
        found["saving_per_tray"][basis] = saving.running
        if m.reusable:
            found["break_even_cycles"][basis], found["break_even_life"][basis] = break_even(m, saving)
        for figure, value in cash_figures(setting, m, b, saving).items():
            found[figure][basis] = value
    return found


def return_to_labour(margin: float, labour_cost: float, minutes: float) -> float | None:
    """Return what an hour of labour brings in, None without labour."""
    return divide(margin + labour_cost, minutes / 60)


def crop_answer(crop: Table, found: OnCrop) -> Table:
    """Return the figures of a medium on one crop."""
    return {
        "crop": crop["id"],
        "yield_kg_per_tray": found.saleable_kg,
        "cost_per_kg": divide(found.total, found.saleable_kg),
        "margin_per_tray": found.margin,
        "shelf_days": found.shelf_days,
        "margin_per_shelf_day": found.margin / found.shelf_days,
    }


def medium_answer(setting: Setting, m: Candidate, b: Candidate) -> Table:
    """Return all figures of one medium."""

    def mean(figure: str) -> float:
        return average(setting, m, figure)

    lines = {line: setting.mix({crop: found.lines[line] for crop, found in m.crops.items()}) for line in MEDIUM_LINES}
    totals = {name: mean(name) for name in ("medium_total", "crop_total", "per_kg_total", "total")}
    answer: Table = {
        "id": m.medium["id"],
        "name": m.medium["name"],
        "use": m.medium["use"],
        "sheet_price": m.sheet_price,
        "pieces": m.pieces,
        "mean_cycles": m.mean_cycles,
        "sheet_life_cost": m.sheet_life_cost,
        "cost_per_tray": lines | totals,
        "yield_kg_per_tray": mean("saleable_kg"),
        "cost_per_kg": divide(mean("total"), mean("saleable_kg")),
        "cost_per_kg_same_harvest": same_harvest_cost(setting, m, b),
        "medium_cost_per_kg": divide(mean("medium_total"), mean("saleable_kg")),
        "margin_per_tray": mean("margin"),
        "shelf_days": mean("shelf_days"),
        "margin_per_shelf_day": mean("margin") / mean("shelf_days"),
        "labour_minutes_per_tray": mean("labour_minutes"),
        "return_to_labour_per_hour": return_to_labour(mean("margin"), mean("labour_cost"), mean("labour_minutes")),
        "wash_minutes_per_tray": m.wash_minutes,
        "wash_litres_per_tray": m.wash_litres,
        "wash_kwh_per_tray": m.wash_kwh,
        "sheets_needed": m.sheets_needed,
        "packs_to_buy": m.packs,
        "outlay": m.outlay,
    }
    answer |= against_baseline(setting, m, b)
    answer["conditions"] = [
        {"what": condition["what"], "met": condition["met"]} for condition in m.medium.get("conditions", [])
    ]
    answer["by_crop"] = [crop_answer(crop, m.crops[crop["id"]]) for crop in setting.crops]
    answer["reasons"] = set(paths_of_nulls(answer))
    return answer


def paths_of_nulls(answer: Any, path: str = "") -> list[str]:
    """Return the dotted path of every leaf that is None; an entry of `by_crop` goes by its crop's id.

    >>> paths_of_nulls({"irr": {"per_tray": None, "sell_extra": 1.0}, "by_crop": [{"crop": "x", "y": None}]})
    ['irr.per_tray', 'by_crop.x.y']
    """
    if answer is None:
        return [path]
    if isinstance(answer, dict):
        items = list(answer.items())
    elif isinstance(answer, list):
        items = [
            (entry.get("crop", str(place)) if isinstance(entry, dict) else str(place), entry)
            for place, entry in enumerate(answer)
        ]
    else:
        return []
    stem = f"{path}." if path else ""
    return [found for key, value in items for found in paths_of_nulls(value, stem + key)]


def is_ranked(medium: Table) -> bool:
    """Whether no condition of the medium is known to be unmet."""
    return all(condition["met"] != "no" for condition in medium.get("conditions", []))


def first_best(merits: list[tuple[str, float | None]]) -> str | None:
    """Return the id with the highest merit, the first of equals, None if nothing has one."""
    best, best_merit = None, -math.inf
    for identity, merit in merits:
        if merit is not None and merit > best_merit + tie(merit, best_merit):
            best, best_merit = identity, merit
    return best


def tie(one: float, other: float) -> float:
    """Return how far apart two merits may lie and still tie: the dust of their rounding."""
    return 0.0 if math.isinf(other) else DUST * max(abs(one), abs(other))


def merit_of(limit: str, setting: Setting, m: Candidate, b: Candidate) -> float | None:
    """Return what the media are ranked by; more is better."""
    if limit == "market":
        cost = same_harvest_cost(setting, m, b)
        return None if cost is None else -cost
    margin = average(setting, m, "margin")
    if limit == "shelf":
        return margin / average(setting, m, "shelf_days")
    return return_to_labour(margin, average(setting, m, "labour_cost"), average(setting, m, "labour_minutes"))


def crop_alone(candidate: Candidate, crop: Table) -> Candidate:
    """Return the candidate as if the crop were the whole mix, with washing and week as they are."""
    return replace(candidate, crops={crop["id"]: candidate.crops[crop["id"]]})


def best_for(limit: str, setting: Setting, candidates: list[Candidate], b: Candidate) -> str | None:
    """Return the id of the best medium that may be ranked."""
    return first_best([(m.medium["id"], merit_of(limit, setting, m, b)) for m in candidates if is_ranked(m.medium)])


def plain_answer(scenario: Table) -> Table:
    """Return what `compare --json` must print for a valid scenario, given as plain nested dicts.

    `reasons` holds the set of figure paths that need a reason, not the words.
    """
    setting = setting_of(scenario)
    candidates = [candidate_of(setting, medium) for medium in scenario["media"]]
    b = next(candidate for candidate in candidates if candidate.medium is setting.baseline)
    limit = setting.room.get("limit", "market")
    best_by_crop = {}
    for crop in setting.crops:
        alone = replace(setting, crops=[crop], trays_per_week=trays_sown(crop))
        on_it = [crop_alone(candidate, crop) for candidate in candidates]
        best_by_crop[crop["id"]] = best_for(limit, alone, on_it, crop_alone(b, crop))
    return {
        "baseline": setting.baseline["id"],
        "limit": limit,
        "basis": "same_harvest" if limit == "market" else "sell_extra",
        "best": best_for(limit, setting, candidates, b),
        "best_by_crop": best_by_crop,
        "trays_per_week": setting.trays_per_week,
        "media": [medium_answer(setting, candidate, b) for candidate in candidates],
    }
