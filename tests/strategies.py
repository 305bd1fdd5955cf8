"""Hypothesis strategies for legal scenario files, as plain nested data.

`scenario_data()` draws across the whole file: ranges, several crops, media, wash routines and pairs, losses,
sheets owned, trials without blocks. Everything it draws passes `check` without faults.
"""

from __future__ import annotations

import datetime
from typing import Any

from hypothesis import strategies as st

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

Data = dict[str, Any]
Draw = st.DrawFn
Numbers = st.SearchStrategy[Any]


def amounts(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw plain numbers with few decimals, both ends included."""
    return st.floats(low, high, allow_nan=False).map(lambda value: min(high, max(low, round(value, 4))))


@st.composite
def ranges(draw: Draw, low: float, high: float) -> Data:
    """Draw a range inside the limits; now and then with a source."""
    ends = sorted(draw(st.lists(amounts(low, high), min_size=3, max_size=3)))
    drawn = dict(zip(("low", "likely", "high"), ends, strict=True))
    if draw(st.booleans()):
        drawn["source"] = draw(words())
    return drawn


def numbers(low: float, high: float, *, ranged: bool = True) -> Numbers:
    """Draw a number, or now and then a range of such numbers."""
    plain = st.one_of(amounts(low, high), amounts(low, high))
    return st.one_of(plain, plain, ranges(low, high)) if ranged else plain


def words() -> st.SearchStrategy[str]:
    """Draw one line of text that is not empty."""
    letters = st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp"))
    return st.text(letters, min_size=1, max_size=12).filter(lambda text: text.strip() != "")


def notes() -> st.SearchStrategy[str]:
    """Draw text that may have several lines."""
    return st.lists(words(), min_size=1, max_size=3).map("\n".join)


def ids(least: int, most: int) -> st.SearchStrategy[list[str]]:
    """Draw different ids, ordinary ones and odd ones."""
    usual = st.sampled_from(["steel", "paper", "felt", "radish", "pea", "quick", "12", "a.b", "two words"])
    odd = words().map(str.strip).filter(bool)
    return st.lists(st.one_of(usual, usual, odd), min_size=least, max_size=most, unique=True)


def some_of(draw: Draw, fields: dict[str, st.SearchStrategy[Any]]) -> Data:
    """Draw a part of the optional fields."""
    bits = draw(st.integers(0, 2 ** len(fields) - 1))
    return {name: draw(fields[name]) for place, name in enumerate(fields) if bits >> place & 1}


@st.composite
def rooms(draw: Draw, ranged: bool = True) -> Data:
    """Draw the room."""

    def money(high: float) -> Numbers:
        return numbers(0, high, ranged=ranged)

    days = st.lists(st.sampled_from(WEEKDAYS), min_size=1, max_size=7, unique=True)
    season = st.tuples(st.lists(amounts(0, 3), min_size=11, max_size=11), amounts(0.5, 3)).map(
        lambda parts: [*parts[0], parts[1]]
    )
    required = {
        "labour_rate": draw(money(80)),
        "water_price": draw(money(20)),
        "energy_price": draw(money(1)),
    }
    return required | some_of(
        draw,
        {
            "heat_price": money(1),
            "landfill_fee": money(2),
            "compost_fee": numbers(-0.5, 2, ranged=ranged),
            "discount_rate": numbers(0, 1, ranged=ranged),
            "horizon_months": st.integers(1, 240),
            "weeks_per_year": numbers(1, 53, ranged=ranged),
            "start_month": st.integers(1, 12),
            "season": season,
            "harvest_days": days,
            "wash_days": days,
            "limit": st.sampled_from(["market", "shelf", "labour"]),
            "inlet_temperature_c": numbers(0, 30, ranged=ranged),
            "heater_efficiency": numbers(0.3, 5, ranged=ranged),
            "spare_share": numbers(0, 1, ranged=ranged),
            "shelf_trays": st.integers(1, 2000),
            "note": notes(),
        },
    )


@st.composite
def crops(draw: Draw, crop_id: str, ranged: bool = True, most_trays: int = 400) -> Data:
    """Draw a crop; it may be sown nowhere."""
    days = draw(st.integers(2, 30))

    def some(high: float) -> Numbers:
        return numbers(0, high, ranged=ranged)

    required: Data = {
        "id": crop_id,
        "name": draw(words()),
        "sowing": draw(st.dictionaries(st.sampled_from(WEEKDAYS), st.integers(0, most_trays), max_size=4)),
        "days_in_tray": days,
        "seed_g_per_tray": draw(some(300)),
        "seed_price_per_kg": draw(some(60)),
        "sell_price_per_kg": draw(some(120)),
    }
    return required | some_of(
        draw,
        {
            "blackout_days": st.integers(0, days - 1),
            "loss_share": numbers(0, 0.5, ranged=ranged),
            "grow_minutes_per_tray": some(20),
            "light_kwh_per_day": some(1),
            "other_cost_per_tray": some(3),
            "pack_cost_per_kg": some(9),
            "pack_minutes_per_kg": some(20),
            "source": words(),
        },
    )


@st.composite
def washes(draw: Draw, wash_id: str, ranged: bool = True) -> Data:
    """Draw a wash routine."""
    drawn: Data = {"id": wash_id, "name": draw(words())}
    drawn |= some_of(
        draw,
        {
            "equipment_price": numbers(0, 3000, ranged=ranged),
            "equipment_years": st.integers(1, 12),
            "equipment_owned": st.booleans(),
        },
    )
    drawn["steps"] = [draw(wash_steps(ranged)) for _ in range(draw(st.integers(1, 3)))]
    return drawn


@st.composite
def wash_steps(draw: Draw, ranged: bool = True) -> Data:
    """Draw one step of a routine."""

    def some(high: float) -> Numbers:
        return numbers(0, high, ranged=ranged)

    drawn: Data = {"name": draw(words())}
    if draw(st.booleans()):
        drawn["sheets_per_batch"] = draw(st.integers(1, 200))
        drawn |= some_of(draw, {"minutes_per_batch": some(20), "litres_per_batch": some(60), "cost_per_batch": some(3)})
    drawn |= some_of(
        draw,
        {
            "minutes_per_sheet": some(5),
            "litres_per_sheet": some(5),
            "minutes_per_wash_day": some(30),
            "litres_per_wash_day": some(40),
            "temperature_c": numbers(0, 90, ranged=ranged),
            "contact_minutes": some(30),
        },
    )
    if draw(st.booleans()):
        drawn["sanitiser"] = {
            "product": draw(words()),
            "price_per_l": draw(some(20)),
            "stock_ppm": draw(numbers(5000, 150_000, ranged=ranged)),
            "target_ppm": draw(numbers(10, 2000, ranged=ranged)),
        }
    return drawn


@st.composite
def media(draw: Draw, medium_id: str, wash_ids: list[str], tray: Data, ranged: bool = True) -> Data:
    """Draw a medium; it is reusable only if there is a wash routine."""

    def some(high: float) -> Numbers:
        return numbers(0, high, ranged=ranged)

    reusable = bool(wash_ids) and draw(st.booleans())
    drawn: Data = {
        "id": medium_id,
        "name": draw(words()),
        "use": "reusable" if reusable else "single-use",
        "pack_price": draw(some(200)),
        "sheet_mass_g": draw(some(400)),
        "end_of_life": draw(st.sampled_from(["compost", "landfill", "scrap"])),
    }
    if draw(st.integers(0, 3)):
        drawn["pieces_per_pack"] = draw(st.integers(1, 500))
    else:
        drawn["cut_from"] = {
            "length_mm": draw(numbers(tray["length_mm"], 60_000, ranged=ranged)),
            "width_mm": draw(numbers(tray["width_mm"], 2000, ranged=ranged)),
        }
    if drawn["end_of_life"] == "scrap" and draw(st.booleans()):
        drawn["scrap_value_per_kg"] = draw(some(3))
    drawn |= some_of(
        draw,
        {
            "delivery_per_pack": some(30),
            "cut_minutes_per_piece": some(2),
            "sheets_per_tray": st.integers(1, 3),
            "prep_minutes_per_tray": some(5),
            "crop_water_l_per_tray": some(6),
            "spent_mass_g_per_tray": some(3000),
            "spent_route": st.sampled_from(["compost", "landfill"]),
            "failed_share": numbers(0, 0.3, ranged=ranged),
            "conditions": st.lists(conditions(), max_size=2),
            "note": notes(),
        },
    )
    if reusable:
        drawn["wash"] = draw(st.sampled_from(wash_ids))
        drawn["life_cycles"] = draw(lives(ranged))
        drawn |= some_of(
            draw,
            {
                "loss_per_cycle": numbers(0, 0.2, ranged=ranged),
                "dry_days": st.integers(0, 5),
                "owned_sheets": st.integers(0, 2000),
            },
        )
    return drawn


def conditions() -> st.SearchStrategy[Data]:
    """Draw what must hold before a medium may be used."""
    return st.fixed_dictionaries({"what": words(), "met": st.sampled_from(["yes", "no", "unknown"])})


def lives(ranged: bool = True) -> Numbers:
    """Draw a life in cycles."""
    plain = st.integers(1, 500)
    three = st.lists(plain, min_size=3, max_size=3).map(
        lambda ends: dict(zip(("low", "likely", "high"), sorted(ends), strict=True))
    )
    return st.one_of(plain, plain, three) if ranged else plain


@st.composite
def pairs(draw: Draw, medium_id: str, crop: Data, typed: bool, ranged: bool = True) -> Data:
    """Draw a pair; `typed` gives it a harvest weight."""
    drawn: Data = {"medium": medium_id, "crop": crop["id"]}
    if typed:
        drawn["mean_g"] = draw(numbers(20, 700, ranged=ranged))
        if not isinstance(drawn["mean_g"], dict) and draw(st.booleans()):
            drawn |= {"sd_g": draw(amounts(0, 90)), "trays": draw(st.integers(2, 40))}
    return drawn | some_of(
        draw,
        {
            "days_in_tray": st.integers(crop.get("blackout_days", 0) + 1, 35),
            "seed_g_per_tray": numbers(0, 300, ranged=ranged),
            "prep_minutes_per_tray": numbers(0, 5, ranged=ranged),
            "crop_water_l_per_tray": numbers(0, 6, ranged=ranged),
            "spent_mass_g_per_tray": numbers(0, 3000, ranged=ranged),
            "failed_share": numbers(0, 0.3, ranged=ranged),
        },
    )


@st.composite
def trials(draw: Draw, trial_id: str, crop: Data, medium_ids: list[str]) -> Data:
    """Draw a trial without blocks: two trays or more of each medium that count, and some that do not."""
    trays: list[Data] = []
    for medium_id in medium_ids:
        for _ in range(draw(st.integers(2, 4))):
            trays.append({"tray": str(len(trays) + 1), "medium": medium_id, "harvest_g": draw(amounts(50, 600))})
    for mark in draw(st.lists(st.sampled_from(["guard", "discard", "failed"]), max_size=2)):
        extra = {"tray": str(len(trays) + 1), "medium": draw(st.sampled_from(medium_ids)), mark: True}
        trays.append(extra | ({"note": draw(words())} if mark == "discard" else {}))
    checks = st.fixed_dictionaries(
        {"tray": st.sampled_from([tray["tray"] for tray in trays]), "day": st.integers(0, 20)},
        optional={
            "germination": st.integers(0, 5),
            "moisture": st.integers(0, 5),
            "height_mm": amounts(0, 150),
        },
    )
    sown = draw(st.dates(datetime.date(2027, 1, 1), datetime.date(2028, 12, 31)))
    return {"id": trial_id, "crop": crop["id"], "trays": trays} | some_of(
        draw,
        {
            "sown": st.just(sown),
            "harvested": st.just(sown + datetime.timedelta(days=crop["days_in_tray"])),
            "practical_band_pct": amounts(0, 20),
            "checks": st.lists(checks, max_size=3),
            "note": notes(),
        },
    )


@st.composite
def scenario_data(draw: Draw, ranged: bool = True, with_trials: bool = True, most_trays: int = 400) -> Data:
    """Draw a whole legal scenario file as plain nested data.

    `ranged` False draws plain numbers only; `with_trials` False types every harvest weight.
    """
    tray = {"length_mm": draw(amounts(200, 600)), "width_mm": draw(amounts(100, 400))}
    wash_ids = draw(ids(0, 2))
    crop_list = [draw(crops(crop_id, ranged, most_trays)) for crop_id in draw(ids(1, 3))]
    if not any(sum(crop["sowing"].values()) for crop in crop_list):
        crop_list[0]["sowing"] = {
            **crop_list[0]["sowing"],
            draw(st.sampled_from(WEEKDAYS)): draw(st.integers(1, most_trays)),
        }
    media_list = [draw(media(medium_id, wash_ids, tray, ranged)) for medium_id in draw(ids(2, 4))]
    medium_ids = [medium["id"] for medium in media_list]
    data: Data = {
        "format": 1,
        "title": draw(words()),
        "currency": draw(st.sampled_from(["EUR", "USD", "GBP", "JPY"])),
        "room": draw(rooms(ranged)),
        "tray": tray,
        "crops": crop_list,
        "media": media_list,
    }
    tried = _add_trials(draw, data, medium_ids) if with_trials else set()
    data["pairs"] = [
        draw(pairs(medium_id, crop, (medium_id, crop["id"]) not in tried or draw(st.booleans()), ranged))
        for crop in crop_list
        for medium_id in medium_ids
    ]
    if wash_ids:
        data["washes"] = [draw(washes(wash_id, ranged)) for wash_id in wash_ids]
    if draw(st.booleans()):
        data["baseline"] = draw(st.sampled_from(medium_ids))
    return data


def _add_trials(draw: Draw, data: Data, medium_ids: list[str]) -> set[tuple[str, str]]:
    """Add a used trial to some crops and return which medium was weighed on which crop."""
    tried: set[tuple[str, str]] = set()
    drawn: list[Data] = []
    for crop in data["crops"]:
        if draw(st.integers(0, 2)) == 0:
            chosen = draw(st.lists(st.sampled_from(medium_ids), min_size=1, max_size=4, unique=True))
            drawn.append(draw(trials(f"trial {len(drawn) + 1}", crop, chosen)))
            tried |= {(medium_id, crop["id"]) for medium_id in chosen}
    if drawn and draw(st.booleans()):
        drawn.append({**drawn[0], "id": "set aside", "use": False})
    if drawn:
        data["trials"] = drawn
    return tried
