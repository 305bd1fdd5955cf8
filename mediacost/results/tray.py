"""One tray of one medium: washing, cost lines, yield, margin; crop by crop and for the mix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from mediacost.formulas import numeric, sheet, tray_cost, washing, week
from mediacost.formulas.numeric import Number
from mediacost.results.inputs import LayNumbers, MediumNumbers, Numbers, RoomNumbers, StepNumbers
from mediacost.results.reading import Reading
from mediacost.scenario import WEEKDAYS
from mediacost.units import WATER_HEAT

COST_LINES = (
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
"""The ten lines of ``medium_total``, in the order in which they are always shown."""


class SheetFigures(NamedTuple):
    """What one sheet of a medium is worth and how long it lasts."""

    price: Number
    mean_cycles: Number
    life_cost: Number


class WashFigures(NamedTuple):
    """What washing takes per sheet: minutes, litres of water, kWh, and money for product and consumables."""

    minutes: Number = 0.0
    water: Number = 0.0
    heat: Number = 0.0
    sanitiser: Number = 0.0
    consumables: Number = 0.0


class TrayFigures(NamedTuple):
    """One tray and crop cycle. Every field is an amount per tray, so trays of several crops average by shares."""

    sheet: Number
    prep_labour: Number
    wash_labour: Number
    wash_water: Number
    wash_energy: Number
    sanitiser: Number
    consumables: Number
    equipment: Number
    crop_water: Number
    disposal: Number
    medium_total: Number
    crop_total: Number
    per_kg_total: Number
    total: Number
    sheet_wear: Number
    yield_kg: Number
    revenue: Number
    margin: Number
    shelf_days: Number
    labour_minutes: Number
    wash_minutes: Number
    wash_litres: Number
    wash_kwh: Number


def medium_week(medium: MediumNumbers, room: RoomNumbers) -> tuple[tuple[week.Round, ...], ...]:
    """The way round of each crop with every tray on this medium; one tuple of rounds per crop."""
    wash_days = room.wash_days if medium.reusable else room.harvest_days
    return tuple(
        week.way_round(lay.crop.sowing, lay.days_in_tray, room.harvest_days, wash_days, medium.dry_days)
        for lay in medium.lays
    )


def sheet_figures(medium: MediumNumbers, room: RoomNumbers, reading: Reading) -> SheetFigures:
    """Price, mean cycles and whole-life cost of one sheet."""
    price = reading.mark("sheet_price", sheet.sheet_price(medium.landed, medium.pieces), medium.id)
    cycles: Number = 1.0
    if medium.reusable:
        cycles = reading.mark("mean_cycles", sheet.mean_cycles(medium.life, medium.loss), medium.id)
    life_cost = sheet.sheet_life_cost(price, medium.cut_minutes, room.labour_price, medium.sheet_mass, medium.end_price)
    return SheetFigures(price, cycles, reading.mark("sheet_life_cost", life_cost, medium.id))


def wash_figures(
    medium: MediumNumbers, rounds: Sequence[Sequence[week.Round]], room: RoomNumbers, reading: Reading
) -> WashFigures:
    """What washing one sheet takes, with every tray of the room on this medium."""
    if medium.wash is None:
        return WashFigures()
    loads = week.wash_loads(each for crop in rounds for each in crop)
    daily = {day: trays * medium.sheets_per_tray for day, trays in sorted(loads.items())}
    steps = [_wash_step(step, daily, medium, room, reading) for step in medium.wash.steps]
    if not steps:
        return WashFigures()

    def summed(name: str) -> Number:
        return reading.mark(f"{name}_per_sheet", numeric.total([getattr(step, name) for step in steps]), medium.id)

    return WashFigures(
        minutes=summed("minutes"),
        water=summed("water"),
        heat=summed("heat"),
        sanitiser=summed("sanitiser"),
        consumables=summed("consumables"),
    )


def _wash_step(
    step: StepNumbers, daily_sheets: Mapping[int, int], medium: MediumNumbers, room: RoomNumbers, reading: Reading
) -> WashFigures:
    context = (medium.id, step.name)
    batches: Number = 0.0
    if step.sheets_per_batch is not None:
        batches = reading.counted(
            "batches",
            washing.batches_per_week(daily_sheets.values(), step.sheets_per_batch),
            lambda: [f"{line} in batches of {step.sheets_per_batch}" for line in _load_lines(daily_sheets)],
            *context,
        )
    wash_days = reading.counted("wash_days", float(len(daily_sheets)), lambda: _load_lines(daily_sheets), medium.id)
    sheets = reading.counted(
        "sheets_washed", float(sum(daily_sheets.values())), lambda: _load_lines(daily_sheets), medium.id
    )

    def spread(per_batch: Number, per_wash_day: Number, per_sheet: Number) -> Number:
        return washing.spread_over_sheets(batches, per_batch, wash_days, per_wash_day, sheets, per_sheet)

    minutes = spread(step.minutes_per_batch, step.minutes_per_wash_day, step.minutes_per_sheet)
    litres = reading.mark(
        "step_litres", spread(step.litres_per_batch, step.litres_per_wash_day, step.litres_per_sheet), *context
    )
    heat: Number = 0.0
    if step.temperature is not None:
        water_heat = reading.counted("water_heat", WATER_HEAT, lambda: ["4.186 kJ/(kg K) at 1 kg a litre"])
        heat = washing.heat(litres, step.temperature, room.inlet, room.heater_efficiency, water_heat)
    product: Number = 0.0
    product_cost: Number = 0.0
    if step.sanitiser_price is not None:
        product = reading.mark(
            "step_product",
            washing.sanitiser_litres(litres, step.sanitiser_target, step.sanitiser_stock),
            *context,
        )
        product_cost = tray_cost.priced(product, step.sanitiser_price)
    return WashFigures(
        minutes=reading.mark("step_minutes", minutes, *context),
        water=reading.mark("step_water", litres - product, *context),
        heat=reading.mark("step_heat", heat, *context),
        sanitiser=reading.mark("step_sanitiser", product_cost, *context),
        consumables=reading.mark("step_consumables", batches * step.cost_per_batch / sheets, *context),
    )


def _load_lines(daily_sheets: Mapping[int, int]) -> list[str]:
    return [f"{sheets} sheets on {WEEKDAYS[day]}" for day, sheets in daily_sheets.items()]


def equipment_figure(medium: MediumNumbers, numbers: Numbers, reading: Reading) -> Number:
    """Wash equipment per tray; nothing where it is owned."""
    wash, room = medium.wash, numbers.room
    if wash is None or wash.equipment_price is None:
        return 0.0
    return tray_cost.equipment_per_tray(
        wash.equipment_price,
        wash.equipment_life,
        numbers.trays_per_week,
        room.weeks_per_year,
        room.mean_season,
    )


def tray_figures(
    medium: MediumNumbers,
    lay: LayNumbers,
    rounds: Sequence[week.Round],
    one_sheet: SheetFigures,
    wash: WashFigures,
    equipment: Number,
    room: RoomNumbers,
    reading: Reading,
) -> TrayFigures:
    """Everything about one tray of a medium on one crop."""
    crop, count, cycles = lay.crop, medium.sheets_per_tray, one_sheet.mean_cycles
    context = (medium.id, crop.id)

    def mark(name: str, value: Number) -> Number:
        return reading.mark(name, value, *context)

    shelf_days = reading.counted(
        "shelf_days", week.shelf_days(rounds, crop.blackout_days), lambda: _shelf_lines(rounds, lay), *context
    )
    prep_minutes = mark("prep_minutes", lay.prep_minutes + tray_cost.worn(medium.cut_minutes, count, cycles))
    wash_minutes = mark("wash_minutes_per_tray", tray_cost.per_tray(wash.minutes, count))
    wash_litres = mark("wash_litres_per_tray", tray_cost.per_tray(wash.water, count))
    wash_kwh = mark("wash_kwh_per_tray", tray_cost.per_tray(wash.heat, count))
    lines = {
        "sheet": tray_cost.worn(one_sheet.price, count, cycles),
        "prep_labour": tray_cost.priced(prep_minutes, room.labour_price),
        "wash_labour": tray_cost.priced(wash_minutes, room.labour_price),
        "wash_water": tray_cost.priced(wash_litres, room.water_price),
        "wash_energy": tray_cost.priced(wash_kwh, room.heat_price),
        "sanitiser": tray_cost.per_tray(wash.sanitiser, count),
        "consumables": tray_cost.per_tray(wash.consumables, count),
        "equipment": equipment,
        "crop_water": tray_cost.priced(lay.crop_water, room.water_price),
        "disposal": tray_cost.disposal(
            mark("sheet_mass_used", tray_cost.worn(medium.sheet_mass, count, cycles)),
            medium.end_price,
            lay.spent_mass,
            medium.spent_price,
        ),
    }
    lines = {name: mark(f"cost_per_tray.{name}", value) for name, value in lines.items()}
    medium_total = mark("cost_per_tray.medium_total", numeric.total(list(lines.values())))
    yield_kg = mark("yield_kg_per_tray", tray_cost.saleable_yield(lay.harvest, lay.failed_share, crop.loss_share))
    crop_total = mark(
        "cost_per_tray.crop_total",
        tray_cost.crop_total(
            lay.seed,
            crop.seed_price,
            crop.grow_minutes,
            room.labour_price,
            crop.light_per_day,
            shelf_days,
            room.energy_price,
            crop.other,
        ),
    )
    per_kg_total = mark(
        "cost_per_tray.per_kg_total",
        tray_cost.per_kg_total(crop.pack_cost, crop.pack_minutes, room.labour_price, yield_kg),
    )
    total = mark("cost_per_tray.total", medium_total + crop_total + per_kg_total)
    revenue = mark("revenue", tray_cost.priced(yield_kg, crop.sell_price))
    minutes = prep_minutes + wash_minutes + crop.grow_minutes + crop.pack_minutes * yield_kg
    return TrayFigures(
        **lines,
        medium_total=medium_total,
        crop_total=crop_total,
        per_kg_total=per_kg_total,
        total=total,
        sheet_wear=mark("sheet_wear", tray_cost.worn(one_sheet.life_cost, count, cycles)),
        yield_kg=yield_kg,
        revenue=revenue,
        margin=mark("margin_per_tray", tray_cost.margin(revenue, total)),
        shelf_days=shelf_days,
        labour_minutes=mark("labour_minutes_per_tray", minutes),
        wash_minutes=wash_minutes,
        wash_litres=wash_litres,
        wash_kwh=wash_kwh,
    )


def _shelf_lines(rounds: Sequence[week.Round], lay: LayNumbers) -> list[str]:
    return [
        f"{each.trays} trays stay {each.days_in_room} days, less {lay.crop.blackout_days} in blackout"
        for each in rounds
    ]


_MIX_NAMES = {
    "yield_kg": "yield_kg_per_tray",
    "margin": "margin_per_tray",
    "labour_minutes": "labour_minutes_per_tray",
    "wash_minutes": "wash_minutes_per_tray",
    "wash_litres": "wash_litres_per_tray",
    "wash_kwh": "wash_kwh_per_tray",
} | {name: f"cost_per_tray.{name}" for name in (*COST_LINES, "medium_total", "crop_total", "per_kg_total", "total")}


def mix(trays: Sequence[TrayFigures], shares: Sequence[Number], reading: Reading, medium: str) -> TrayFigures:
    """Average of the crops' trays, each weighted by its share of the trays sown."""
    if len(trays) == 1:
        return trays[0]
    averaged = {}
    for name in TrayFigures._fields:
        value = numeric.weighted([getattr(tray, name) for tray in trays], shares)
        averaged[name] = reading.mark(_MIX_NAMES.get(name, name), value, medium)
    return TrayFigures(**averaged)
