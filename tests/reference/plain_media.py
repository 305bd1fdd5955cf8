"""Each medium by itself: what lies in the file, what a tray costs and yields on it.

Part of the second reading in `plain_model`; shares no code with the package.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import Any

from tests.reference.plain_sheets import (
    Step,
    Week,
    follow_the_sheets,
    mean_cycles_of,
    pieces_of,
    round_up,
    wash_amounts,
)

Table = dict[str, Any]

MEDIUM_LINES = (
    "sheet",
    "prep_labour",
    "wash_labour",
    "wash_water",
    "wash_energy",
    "sanitiser",
    "consumables",
    "equipment",
    "crop_water",
    "disposal",
)
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WORKING_DAYS = list(WEEKDAYS[:5])


def number(table: Table, key: str, default: float | None = None) -> float:
    """Return a number of a table: of a range its `likely`, of a missing key the default."""
    value = table.get(key, default)
    if isinstance(value, dict):
        value = value["likely"]
    if value is None:
        raise KeyError(key)
    return value


@dataclass
class Setting:
    """What all media of a scenario share: the room, the crops that are sown, who is the baseline."""

    scenario: Table
    room: Table
    crops: list[Table]
    baseline: Table
    rate: float
    trays_per_week: int
    season: list[float]

    def share(self, crop: Table) -> float:
        """Return the crop's share of the trays sown."""
        return trays_sown(crop) / self.trays_per_week

    def mix(self, by_crop: dict[str, float]) -> float:
        """Return the average over the crops, weighted by the trays sown."""
        return math.fsum(self.share(crop) * by_crop[crop["id"]] for crop in self.crops)


@dataclass
class OnCrop:
    """One medium on one crop: amounts per tray."""

    lines: dict[str, float]
    crop_total: float
    per_kg_total: float
    saleable_kg: float
    revenue: float
    shelf_days: float
    labour_minutes: float
    dated_cost: float
    """What is bought as dated items: sheets over their life, and equipment."""
    rate: float

    @property
    def medium_total(self) -> float:
        return math.fsum(self.lines.values())

    @property
    def total(self) -> float:
        return self.medium_total + self.crop_total + self.per_kg_total

    @property
    def margin(self) -> float:
        return self.revenue - self.total

    @property
    def labour_cost(self) -> float:
        return self.labour_minutes * self.rate


@dataclass
class Candidate:
    """One medium with everything about it that does not need the baseline's figures."""

    medium: Table
    reusable: bool
    sheets_per_tray: int
    pieces: int
    landed_price: float
    sheet_price: float
    mean_cycles: float
    sheet_life_cost: float
    rated_life: int
    loss: float
    wash_minutes: float
    wash_litres: float
    wash_kwh: float
    equipment_per_tray: float
    equipment_price: float
    equipment_months: int
    sheets_needed: int
    owned_in_use: int
    packs: int
    outlay: float
    crops: dict[str, OnCrop]


def trays_sown(crop: Table) -> int:
    """Return the trays of a crop sown in a week with season 1."""
    return sum(crop["sowing"].values())


def setting_of(scenario: Table) -> Setting:
    """Read what all media share."""
    media = scenario["media"]
    single_use = [medium for medium in media if medium["use"] == "single-use"]
    default = (single_use or media)[0]["id"]
    baseline = next(medium for medium in media if medium["id"] == scenario.get("baseline", default))
    crops = [crop for crop in scenario["crops"] if trays_sown(crop) > 0]
    room = scenario["room"]
    return Setting(
        scenario=scenario,
        room=room,
        crops=crops,
        baseline=baseline,
        rate=number(room, "labour_rate") / 60,
        trays_per_week=sum(trays_sown(crop) for crop in crops),
        season=[number({"s": factor}, "s") for factor in room.get("season", [1] * 12)],
    )


def pair_of(setting: Setting, medium: Table, crop: Table) -> Table:
    """Return the pair of a medium and a crop, empty where the file has none."""
    for pair in setting.scenario.get("pairs", []):
        if pair["medium"] == medium["id"] and pair["crop"] == crop["id"]:
            return pair
    return {}


def harvest_of(setting: Setting, medium: Table, crop: Table) -> float:
    """Return grams per tray that did not fail: the plain mean of what was weighed, else what was typed."""
    weighed = [
        tray["harvest_g"] - tray.get("tare_g", 0)
        for trial in setting.scenario.get("trials", [])
        if trial["crop"] == crop["id"] and trial.get("use", True)
        for tray in trial.get("trays", [])
        if tray["medium"] == medium["id"] and "harvest_g" in tray
        if not (tray.get("guard") or tray.get("discard") or tray.get("failed"))
    ]
    if weighed:
        return math.fsum(weighed) / len(weighed)
    return number(pair_of(setting, medium, crop), "mean_g")


def plain_mean_is_enough(scenario: Table) -> bool:
    """Whether the plain mean of the trays kept is the least-squares mean too.

    It is where a medium has as many trays in every cell of trial and block.
    """
    for crop in scenario["crops"]:
        counts: Counter[tuple[str, tuple[str, str]]] = Counter()
        for trial in scenario.get("trials", []):
            if trial["crop"] != crop["id"] or not trial.get("use", True):
                continue
            for tray in trial.get("trays", []):
                left_out = tray.get("guard") or tray.get("discard") or tray.get("failed")
                if "harvest_g" in tray and not left_out:
                    counts[tray["medium"], (trial["id"], tray.get("block", ""))] += 1
        cells = {cell for _, cell in counts}
        for medium in {medium for medium, _ in counts}:
            if len({counts[medium, cell] for cell in cells}) > 1:
                return False
    return True


def fee_of(room: Table, route: str) -> float:
    """Return the fee per kg of a route; scrap has none."""
    return 0.0 if route == "scrap" else number(room, f"{route}_fee", 0)


def routine_of(setting: Setting, medium: Table) -> Table | None:
    """Return the wash routine of a reusable medium."""
    if medium["use"] != "reusable":
        return None
    return next(wash for wash in setting.scenario.get("washes", []) if wash["id"] == medium["wash"])


def is_equipment_owned(setting: Setting, routine: Table) -> bool:
    """Whether the equipment is already there: as the file says, else if the baseline uses the routine."""
    used_today = setting.baseline["use"] == "reusable" and setting.baseline["wash"] == routine["id"]
    return routine.get("equipment_owned", used_today)


def steps_of(room: Table, routine: Table) -> list[Step]:
    """Return the steps of a routine with every default filled in."""
    inlet = number(room, "inlet_temperature_c", 12)
    steps = []
    for step in routine.get("steps", []):
        sanitiser = step.get("sanitiser")
        steps.append(
            Step(
                minutes=tuple(number(step, f"minutes_per_{what}", 0) for what in ("sheet", "batch", "wash_day")),
                litres=tuple(number(step, f"litres_per_{what}", 0) for what in ("sheet", "batch", "wash_day")),
                cost_per_batch=number(step, "cost_per_batch", 0),
                sheets_per_batch=step.get("sheets_per_batch"),
                kelvin=max(0, number(step, "temperature_c", inlet) - inlet),
                product_share=(number(sanitiser, "target_ppm") / number(sanitiser, "stock_ppm") if sanitiser else 0.0),
                product_price=number(sanitiser, "price_per_l") if sanitiser else 0.0,
            )
        )
    return steps


def week_of(setting: Setting, medium: Table) -> Week:
    """Follow the sheets of a room in which every tray lies on this medium."""
    sowings: list[tuple[str, int, int, int]] = []
    for crop in setting.crops:
        days = (crop | pair_of(setting, medium, crop))["days_in_tray"]
        for day, trays in crop["sowing"].items():
            if trays:
                sowings.append((crop["id"], WEEKDAYS.index(day), trays, days))
    room = setting.room
    return follow_the_sheets(
        sowings,
        {WEEKDAYS.index(day) for day in room.get("harvest_days", WORKING_DAYS)},
        {WEEKDAYS.index(day) for day in room.get("wash_days", WORKING_DAYS)},
        medium.get("dry_days", 1),
    )


def candidate_of(setting: Setting, medium: Table) -> Candidate:
    """Work out everything about a medium that does not need the baseline's figures."""
    room, reusable = setting.room, medium["use"] == "reusable"
    per_tray = medium.get("sheets_per_tray", 1)
    pieces = pieces_of(medium, setting.scenario["tray"])
    landed = number(medium, "pack_price") + number(medium, "delivery_per_pack", 0)
    sheet_price = landed / pieces
    rated_life = math.floor(number(medium, "life_cycles") + 0.5) if reusable else 1
    loss = number(medium, "loss_per_cycle", 0) if reusable else 0.0
    mean_cycles = mean_cycles_of(rated_life, loss)
    net_fee = fee_of(room, medium["end_of_life"]) - number(medium, "scrap_value_per_kg", 0)
    sheet_end = number(medium, "sheet_mass_g") / 1000 * net_fee
    cut_minutes = number(medium, "cut_minutes_per_piece", 0)
    week = week_of(setting, medium)

    needed = owned_in_use = packs = equipment_months = 0
    minutes = litres = kwh = product_cost = consumables = equipment_price = equipment = 0.0
    routine = routine_of(setting, medium)
    if routine is not None:
        amounts = wash_amounts(
            steps_of(room, routine),
            [trays * per_tray for trays in week.trays_washed],
            number(room, "heater_efficiency", 0.95),
        )
        minutes, litres, kwh = amounts.minutes * per_tray, amounts.water * per_tray, amounts.kwh * per_tray
        product_cost, consumables = amounts.product_cost * per_tray, amounts.consumables * per_tray
        equipment_months = round(12 * number(routine, "equipment_years", 5))
        if not is_equipment_owned(setting, routine):
            equipment_price = number(routine, "equipment_price", 0)
            trays_a_year = setting.trays_per_week * number(room, "weeks_per_year", 52) * math.fsum(setting.season) / 12
            equipment = equipment_price / (equipment_months / 12 * trays_a_year)
        spare = number(room, "spare_share", 0.10)
        needed = round_up(max(week.trays_away) * max(setting.season) * per_tray * (1 + spare))
        owned = medium.get("owned_sheets", needed if medium is setting.baseline else 0)
        owned_in_use = min(owned, needed)
        packs = round_up(max(0, needed - owned) / pieces)

    shared_lines = {
        "sheet": sheet_price * per_tray / mean_cycles,
        "wash_labour": minutes * setting.rate,
        "wash_water": litres / 1000 * number(room, "water_price"),
        "wash_energy": kwh * number(room, "heat_price", number(room, "energy_price")),
        "sanitiser": product_cost,
        "consumables": consumables,
        "equipment": equipment,
    }
    sheet_life_cost = sheet_price + cut_minutes * setting.rate + sheet_end
    candidate = Candidate(
        medium=medium,
        reusable=reusable,
        sheets_per_tray=per_tray,
        pieces=pieces,
        landed_price=landed,
        sheet_price=sheet_price,
        mean_cycles=mean_cycles,
        sheet_life_cost=sheet_life_cost,
        rated_life=rated_life,
        loss=loss,
        wash_minutes=minutes,
        wash_litres=litres,
        wash_kwh=kwh,
        equipment_per_tray=equipment,
        equipment_price=equipment_price,
        equipment_months=equipment_months,
        sheets_needed=needed,
        owned_in_use=owned_in_use,
        packs=packs,
        outlay=packs * landed + equipment_price,
        crops={},
    )
    for crop in setting.crops:
        candidate.crops[crop["id"]] = on_crop(
            setting,
            candidate,
            crop,
            shared_lines,
            real_days=week.days_in_tray[crop["id"]],
            cut_minutes=cut_minutes * per_tray / mean_cycles,
            sheet_end=sheet_end * per_tray / mean_cycles,
        )
    return candidate


def on_crop(
    setting: Setting,
    candidate: Candidate,
    crop: Table,
    shared_lines: dict[str, float],
    *,
    real_days: float,
    cut_minutes: float,
    sheet_end: float,
) -> OnCrop:
    """Work out one medium on one crop, per tray."""
    room, rate, medium = setting.room, setting.rate, candidate.medium
    pair = pair_of(setting, medium, crop)

    def differs(key: str) -> float:
        return number(pair, key, number(medium, key, 0))

    prep_minutes = differs("prep_minutes_per_tray")
    spent_kg = differs("spent_mass_g_per_tray") / 1000
    shelf_days = real_days - crop.get("blackout_days", 0)
    kept = (1 - differs("failed_share")) * (1 - number(crop, "loss_share", 0))
    saleable = harvest_of(setting, medium, crop) / 1000 * kept
    found = shared_lines | {
        "prep_labour": (prep_minutes + cut_minutes) * rate,
        "crop_water": differs("crop_water_l_per_tray") / 1000 * number(room, "water_price"),
        "disposal": sheet_end + spent_kg * fee_of(room, medium.get("spent_route", "compost")),
    }
    seed_g = number(pair, "seed_g_per_tray", number(crop, "seed_g_per_tray"))
    grow_minutes = number(crop, "grow_minutes_per_tray", 0)
    pack_minutes = number(crop, "pack_minutes_per_kg", 0) * saleable
    light_kwh = number(crop, "light_kwh_per_day", 0) * shelf_days
    sheets_over_life = candidate.sheets_per_tray * candidate.sheet_life_cost / candidate.mean_cycles
    return OnCrop(
        lines={line: found[line] for line in MEDIUM_LINES},
        crop_total=seed_g / 1000 * number(crop, "seed_price_per_kg")
        + grow_minutes * rate
        + light_kwh * number(room, "energy_price")
        + number(crop, "other_cost_per_tray", 0),
        per_kg_total=number(crop, "pack_cost_per_kg", 0) * saleable + pack_minutes * rate,
        saleable_kg=saleable,
        revenue=saleable * number(crop, "sell_price_per_kg"),
        shelf_days=shelf_days,
        labour_minutes=prep_minutes + cut_minutes + candidate.wash_minutes + grow_minutes + pack_minutes,
        dated_cost=sheets_over_life + candidate.equipment_per_tray if candidate.reusable else 0.0,
        rate=rate,
    )


def average(setting: Setting, candidate: Candidate, figure: str) -> float:
    """Return a figure of `OnCrop`, averaged over the mix."""
    return setting.mix({crop: getattr(found, figure) for crop, found in candidate.crops.items()})
