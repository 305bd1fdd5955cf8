"""The document as numbers: every input in coherent units, defaults and overrides settled.

Only what a crop is sown of appears; a crop of which nothing is sown is left out of every sum and list.
"""

from __future__ import annotations

from typing import NamedTuple

from mediacost.formulas import numeric, sheet
from mediacost.formulas.numeric import Number
from mediacost.results.reading import Keys, Reading
from mediacost.results.weights import harvest_weight
from mediacost.scenario import WEEKDAYS, Crop, Medium, Pair, Range, Room, Scenario, WashStep
from mediacost.units import (
    GRAMS_PER_KILOGRAM,
    LITRES_PER_CUBIC_METRE,
    MILLIMETRES_PER_METRE,
    MINUTES_PER_HOUR,
)


class RoomNumbers(NamedTuple):
    """The room and its prices. Minutes, litres, kWh and kg; weekdays as numbers, Monday 0."""

    labour_price: Number
    water_price: Number
    energy_price: Number
    heat_price: Number
    compost_price: Number
    landfill_price: Number
    discount_rate: Number
    horizon_months: int
    weeks_per_year: Number
    start_month: int
    season: tuple[Number, ...]
    mean_season: Number
    peak_season: Number
    harvest_days: frozenset[int]
    wash_days: frozenset[int]
    inlet: Number
    heater_efficiency: Number
    spare_share: Number


class CropNumbers(NamedTuple):
    """A crop as it is on any medium. ``share`` is its part of all trays sown."""

    id: str
    name: str
    sowing: tuple[int, ...]
    share: Number
    blackout_days: int
    seed_price: Number
    sell_price: Number
    loss_share: Number
    grow_minutes: Number
    light_per_day: Number
    other: Number
    pack_cost: Number
    pack_minutes: Number


class LayNumbers(NamedTuple):
    """One medium on one crop: what is measured there, and what differs there."""

    crop: CropNumbers
    harvest: Number
    days_in_tray: int
    seed: Number
    prep_minutes: Number
    crop_water: Number
    spent_mass: Number
    failed_share: Number


class StepNumbers(NamedTuple):
    """One wash step."""

    name: str
    minutes_per_sheet: Number
    litres_per_sheet: Number
    sheets_per_batch: int | None
    minutes_per_batch: Number
    litres_per_batch: Number
    cost_per_batch: Number
    minutes_per_wash_day: Number
    litres_per_wash_day: Number
    temperature: Number | None
    sanitiser_price: Number | None
    sanitiser_stock: Number | None
    sanitiser_target: Number | None


class WashNumbers(NamedTuple):
    """A wash routine; ``equipment_price`` is None where nothing is charged for it.

    ``equipment_years`` counts for the calendar, ``equipment_life`` is the same as a number that can be asked why.
    """

    id: str
    equipment_price: Number | None
    equipment_years: int
    equipment_life: Number
    steps: tuple[StepNumbers, ...]


class MediumNumbers(NamedTuple):
    """A medium. Reusable fields are None on a single-use one."""

    id: str
    name: str
    reusable: bool
    landed: Number
    pieces: Number
    cut_minutes: Number
    sheets_per_tray: int
    sheet_mass: Number
    end_price: Number
    spent_price: Number
    life: Number | None
    loss: Number | None
    wash: WashNumbers | None
    dry_days: int
    owned_sheets: int | None
    lays: tuple[LayNumbers, ...]


class Numbers(NamedTuple):
    """The whole document as numbers."""

    room: RoomNumbers
    trays_per_week: Number
    crops: tuple[CropNumbers, ...]
    media: tuple[MediumNumbers, ...]
    baseline: int


def read_numbers(scenario: Scenario, reading: Reading) -> Numbers:
    """Take every number that the comparison needs out of the document."""
    room = _room(scenario.room, reading)
    trays = sum(sum(crop.sowing.values()) for crop in scenario.crops)
    trays_per_week = reading.counted(
        "trays_per_week", float(trays), lambda: [f"{crop.name}: {_sown_words(crop)}" for crop in scenario.crops]
    )
    sown = [(at, crop) for at, crop in enumerate(scenario.crops) if sum(crop.sowing.values())]
    crops = tuple(_crop(at, crop, trays_per_week, reading) for at, crop in sown)
    baseline_id = scenario.baseline_id
    baseline = next(at for at, medium in enumerate(scenario.media) if medium.id == baseline_id)
    pairs = {(pair.medium, pair.crop): (at, pair) for at, pair in enumerate(scenario.pairs)}
    documents = [crop for _, crop in sown]
    media = tuple(
        _medium(at, medium, scenario, room, tuple(zip(crops, documents, strict=True)), pairs, reading)
        for at, medium in enumerate(scenario.media)
    )
    return Numbers(room, trays_per_week, crops, media, baseline)


def _sown_words(crop: Crop) -> str:
    return ", ".join(f"{trays} on {day}" for day, trays in crop.sowing.items() if trays) or "none"


def _weekdays(names: tuple[str, ...]) -> frozenset[int]:
    return frozenset(WEEKDAYS.index(name) for name in names)


def _room(room: Room, reading: Reading) -> RoomNumbers:
    def typed(name: str) -> Number:
        return reading.number(("room", name), getattr(room, name))

    energy_price = typed("energy_price")
    season = tuple(reading.number(("room", "season", at), each) for at, each in enumerate(room.season))
    return RoomNumbers(
        labour_price=reading.mark("labour_price", typed("labour_rate") / MINUTES_PER_HOUR),
        water_price=reading.mark("water_price", typed("water_price") / LITRES_PER_CUBIC_METRE),
        energy_price=energy_price,
        heat_price=energy_price if room.heat_price is None else typed("heat_price"),
        compost_price=typed("compost_fee"),
        landfill_price=typed("landfill_fee"),
        discount_rate=typed("discount_rate"),
        horizon_months=room.horizon_months,
        weeks_per_year=typed("weeks_per_year"),
        start_month=room.start_month,
        season=season,
        mean_season=reading.mark("mean_season", numeric.mean(season)),
        peak_season=reading.mark("peak_season", numeric.largest(season)),
        harvest_days=_weekdays(room.harvest_days),
        wash_days=_weekdays(room.wash_days),
        inlet=typed("inlet_temperature_c"),
        heater_efficiency=typed("heater_efficiency"),
        spare_share=typed("spare_share"),
    )


def _crop(at: int, crop: Crop, trays_per_week: Number, reading: Reading) -> CropNumbers:
    def typed(name: str) -> Number:
        return reading.number(("crops", at, name), getattr(crop, name))

    sowing = tuple(crop.sowing.get(day, 0) for day in WEEKDAYS)
    trays = reading.counted("crop_trays", float(sum(sowing)), lambda: [_sown_words(crop)], crop.id)
    return CropNumbers(
        id=crop.id,
        name=crop.name,
        sowing=sowing,
        share=reading.mark("crop_share", trays / trays_per_week, crop.id),
        blackout_days=crop.blackout_days,
        seed_price=typed("seed_price_per_kg"),
        sell_price=typed("sell_price_per_kg"),
        loss_share=typed("loss_share"),
        grow_minutes=typed("grow_minutes_per_tray"),
        light_per_day=typed("light_kwh_per_day"),
        other=typed("other_cost_per_tray"),
        pack_cost=typed("pack_cost_per_kg"),
        pack_minutes=typed("pack_minutes_per_kg"),
    )


def _medium(
    at: int,
    medium: Medium,
    scenario: Scenario,
    room: RoomNumbers,
    crops: tuple[tuple[CropNumbers, Crop], ...],
    pairs: dict[tuple[str, str], tuple[int, Pair]],
    reading: Reading,
) -> MediumNumbers:
    def typed(name: str) -> Number:
        return reading.number(("media", at, name), getattr(medium, name))

    reusable = medium.use == "reusable"
    route = {"compost": room.compost_price, "landfill": room.landfill_price}
    if medium.end_of_life == "scrap":
        end_price = reading.mark("end_price", -typed("scrap_value_per_kg"), medium.id)
    else:
        end_price = route[medium.end_of_life]
    return MediumNumbers(
        id=medium.id,
        name=medium.name,
        reusable=reusable,
        landed=reading.mark(
            "landed_price", sheet.landed_price(typed("pack_price"), typed("delivery_per_pack")), medium.id
        ),
        pieces=_pieces(at, medium, scenario, reading),
        cut_minutes=typed("cut_minutes_per_piece"),
        sheets_per_tray=medium.sheets_per_tray,
        sheet_mass=reading.mark("sheet_mass", typed("sheet_mass_g") / GRAMS_PER_KILOGRAM, medium.id),
        end_price=end_price,
        spent_price=route[medium.spent_route],
        life=_whole_life(typed("life_cycles"), medium, reading) if reusable else None,
        loss=typed("loss_per_cycle") if reusable else None,
        wash=_wash(scenario, medium, reading) if reusable else None,
        dry_days=medium.dry_days if reusable else 0,
        owned_sheets=medium.owned_sheets,
        lays=tuple(_lay(at, medium, crop, document, scenario, pairs, reading) for crop, document in crops),
    )


def _whole_life(life: Number, medium: Medium, reading: Reading) -> Number:
    if isinstance(life, (int, float)) and float(life).is_integer():
        return float(life)
    return reading.mark("rated_life", numeric.round_half_up(life), medium.id)


def _pieces(at: int, medium: Medium, scenario: Scenario, reading: Reading) -> Number:
    if medium.cut_from is None:
        assert medium.pieces_per_pack is not None
        return reading.number(("media", at, "pieces_per_pack"), float(medium.pieces_per_pack))

    def metres(keys: Keys, value: float | Range) -> Number:
        return reading.number(keys, value) / MILLIMETRES_PER_METRE

    cut = ("media", at, "cut_from")
    pieces = sheet.pieces_from_cut(
        metres((*cut, "length_mm"), medium.cut_from.length_mm),
        metres((*cut, "width_mm"), medium.cut_from.width_mm),
        metres(("tray", "length_mm"), scenario.tray.length_mm),
        metres(("tray", "width_mm"), scenario.tray.width_mm),
    )
    return reading.mark("pieces", pieces, medium.id)


def _wash(scenario: Scenario, medium: Medium, reading: Reading) -> WashNumbers:
    at, wash = next((at, wash) for at, wash in enumerate(scenario.washes) if wash.id == medium.wash)
    owned = wash.equipment_owned
    if owned is None:
        owned = wash.id == _baseline_wash(scenario)
    price = None
    if not owned and wash.equipment_price:
        price = reading.number(("washes", at, "equipment_price"), wash.equipment_price)
    steps = tuple(_step(("washes", at, "steps", place), step, reading) for place, step in enumerate(wash.steps))
    life = reading.number(("washes", at, "equipment_years"), float(wash.equipment_years))
    return WashNumbers(wash.id, price, wash.equipment_years, life, steps)


def _baseline_wash(scenario: Scenario) -> str | None:
    return next(medium.wash for medium in scenario.media if medium.id == scenario.baseline_id)


def _step(keys: Keys, step: WashStep, reading: Reading) -> StepNumbers:
    def typed(name: str) -> Number:
        return reading.number((*keys, name), getattr(step, name))

    def of_product(name: str) -> Number | None:
        if step.sanitiser is None:
            return None
        return reading.number((*keys, "sanitiser", name), getattr(step.sanitiser, name))

    return StepNumbers(
        name=step.name,
        minutes_per_sheet=typed("minutes_per_sheet"),
        litres_per_sheet=typed("litres_per_sheet"),
        sheets_per_batch=step.sheets_per_batch,
        minutes_per_batch=typed("minutes_per_batch"),
        litres_per_batch=typed("litres_per_batch"),
        cost_per_batch=typed("cost_per_batch"),
        minutes_per_wash_day=typed("minutes_per_wash_day"),
        litres_per_wash_day=typed("litres_per_wash_day"),
        temperature=None if step.temperature_c is None else typed("temperature_c"),
        sanitiser_price=of_product("price_per_l"),
        sanitiser_stock=of_product("stock_ppm"),
        sanitiser_target=of_product("target_ppm"),
    )


def _lay(
    at: int,
    medium: Medium,
    crop: CropNumbers,
    document: Crop,
    scenario: Scenario,
    pairs: dict[tuple[str, str], tuple[int, Pair]],
    reading: Reading,
) -> LayNumbers:
    place, pair = pairs.get((medium.id, crop.id), (-1, None))
    crop_place = scenario.crops.index(document)

    def there_or(name: str, keys: Keys, usual: float | Range) -> Number:
        """The pair's own number where it has one, else the usual one."""
        own = None if pair is None else getattr(pair, name)
        if own is None:
            return reading.number((*keys, name), usual)
        return reading.number(("pairs", place, name), own)

    of_medium: Keys = ("media", at)
    grams = there_or("seed_g_per_tray", ("crops", crop_place), document.seed_g_per_tray)
    spent = there_or("spent_mass_g_per_tray", of_medium, medium.spent_mass_g_per_tray)
    harvest = harvest_weight(scenario, medium.id, crop.id, reading, (place, pair))
    days = document.days_in_tray if pair is None or pair.days_in_tray is None else pair.days_in_tray
    context = (medium.id, crop.id)
    return LayNumbers(
        crop=crop,
        harvest=reading.mark("harvest", harvest / GRAMS_PER_KILOGRAM, *context),
        days_in_tray=days,
        seed=reading.mark("seed", grams / GRAMS_PER_KILOGRAM, *context),
        prep_minutes=there_or("prep_minutes_per_tray", of_medium, medium.prep_minutes_per_tray),
        crop_water=there_or("crop_water_l_per_tray", of_medium, medium.crop_water_l_per_tray),
        spent_mass=reading.mark("spent_mass", spent / GRAMS_PER_KILOGRAM, *context),
        failed_share=there_or("failed_share", of_medium, medium.failed_share),
    )
