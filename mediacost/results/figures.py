"""The table of figures: the words and the unit of everything that is worked out, each described once.

Tables, charts, explanations and the pages on the results read their words here. Inputs are described in the
scenario's records. A unit of "money" reads as the scenario's currency.
"""

from __future__ import annotations

from typing import NamedTuple


class Figure(NamedTuple):
    """A figure's words and unit. ``method`` replaces the formula in an explanation where that one says more."""

    label: str
    unit: str
    method: str = ""


FIGURES = {
    # sheet
    "landed_price": Figure("landed pack price", "money"),
    "pieces": Figure("pieces from a pack", "pieces"),
    "sheet_price": Figure("sheet price", "money"),
    "rated_life": Figure("rated life, whole", "cycles"),
    "mean_cycles": Figure("cycles served on average", "cycles"),
    "sheet_mass": Figure("dry mass of a sheet in kilograms", "kg"),
    "end_price": Figure("price of getting rid of a sheet", "money/kg"),
    "sheet_life_cost": Figure("cost of a sheet over its life", "money"),
    "sheet_wear": Figure("a cycle's share of the sheet's life cost", "money/tray"),
    # room and crop
    "labour_price": Figure("price of a minute of labour", "money/min"),
    "water_price": Figure("price of a litre of water", "money/l"),
    "mean_season": Figure("average season", ""),
    "peak_season": Figure("peak season", ""),
    "trays_per_week": Figure("trays sown in a week", "trays"),
    "crop_trays": Figure("trays of the crop sown in a week", "trays"),
    "crop_share": Figure("share of all trays", "share"),
    "measured_g": Figure("harvest weight measured", "g/tray"),
    "harvest": Figure("harvest weight in kilograms", "kg/tray"),
    "seed": Figure("seed in kilograms", "kg/tray"),
    "spent_mass": Figure("spent mass in kilograms", "kg/tray"),
    # washing
    "batches": Figure("batches in a week", ""),
    "wash_days": Figure("wash days in a week", "days"),
    "sheets_washed": Figure("sheets washed in a week", "sheets"),
    "step_minutes": Figure("minutes of the step", "min/sheet"),
    "step_litres": Figure("litres of the step", "l/sheet"),
    "step_product": Figure("product in the step", "l/sheet"),
    "step_water": Figure("water in the step", "l/sheet"),
    "water_heat": Figure("heat of a litre and a degree", "kWh/(l K)"),
    "step_heat": Figure("heat of the step", "kWh/sheet"),
    "step_sanitiser": Figure("product cost of the step", "money/sheet"),
    "step_consumables": Figure("consumables of the step", "money/sheet"),
    "minutes_per_sheet": Figure("wash minutes per sheet", "min/sheet"),
    "water_per_sheet": Figure("wash water per sheet", "l/sheet"),
    "heat_per_sheet": Figure("heat for washing a sheet", "kWh/sheet"),
    "sanitiser_per_sheet": Figure("sanitiser per sheet", "money/sheet"),
    "consumables_per_sheet": Figure("consumables per sheet", "money/sheet"),
    # tray
    "prep_minutes": Figure("minutes to prepare a tray", "min/tray"),
    "wash_minutes_per_tray": Figure("wash minutes per tray", "min/tray"),
    "wash_litres_per_tray": Figure("wash water per tray", "l/tray"),
    "wash_kwh_per_tray": Figure("heat for washing a tray's sheets", "kWh/tray"),
    "sheet_mass_used": Figure("sheet mass used up", "kg/tray"),
    "cost_per_tray.sheet": Figure("sheet", "money/tray"),
    "cost_per_tray.prep_labour": Figure("preparing, labour", "money/tray"),
    "cost_per_tray.wash_labour": Figure("washing, labour", "money/tray"),
    "cost_per_tray.wash_water": Figure("washing, water", "money/tray"),
    "cost_per_tray.wash_energy": Figure("washing, heat", "money/tray"),
    "cost_per_tray.sanitiser": Figure("sanitiser", "money/tray"),
    "cost_per_tray.consumables": Figure("wash consumables", "money/tray"),
    "cost_per_tray.equipment": Figure("wash equipment", "money/tray"),
    "cost_per_tray.crop_water": Figure("crop water", "money/tray"),
    "cost_per_tray.disposal": Figure("disposal", "money/tray"),
    "cost_per_tray.medium_total": Figure("the medium, all in", "money/tray"),
    "cost_per_tray.crop_total": Figure("the crop: seed, growing, light", "money/tray"),
    "cost_per_tray.per_kg_total": Figure("packing", "money/tray"),
    "cost_per_tray.total": Figure("all costs of a tray", "money/tray"),
    "yield_kg_per_tray": Figure("saleable harvest", "kg/tray"),
    "revenue": Figure("sales of a tray", "money/tray"),
    "cost_per_kg": Figure("cost per kilogram", "money/kg"),
    "cost_per_kg_same_harvest": Figure("cost per kilogram of today's harvest", "money/kg"),
    "medium_cost_per_kg": Figure("the medium's part of a kilogram's cost", "money/kg"),
    "margin_per_tray": Figure("margin per tray", "money/tray"),
    "shelf_days": Figure("days on a lit shelf", "days"),
    "margin_per_shelf_day": Figure("margin per shelf-day", "money/shelf-day"),
    "labour_minutes_per_tray": Figure("labour per tray, all attended minutes", "min/tray"),
    "return_to_labour_per_hour": Figure("return to an hour of labour", "money/h"),
    # fleet
    "peak_trays": Figure("most trays away on any day", "trays"),
    "sheets_needed": Figure("sheets to own", "sheets"),
    "packs_to_buy": Figure("packs to buy", "packs"),
    "outlay": Figure("outlay at the start", "money"),
    # against the baseline
    "trays_for_one": Figure("trays that replace one of the baseline", "trays"),
    "saving_per_tray": Figure("running saving per baseline tray", "money/tray"),
    "gain": Figure("gain of a cycle, the sheet itself left out", "money/tray"),
    "break_even_cycles": Figure("break-even cycles", "cycles"),
    "break_even_life": Figure("rated life that breaks even", "cycles"),
    "payback_months": Figure("payback", "months"),
    "payback_months.simple": Figure("payback for good", "months"),
    "payback_months.discounted": Figure("payback for good, discounted", "months"),
    "payback_months.first_simple": Figure("first payback", "months"),
    "payback_months.first_discounted": Figure("first payback, discounted", "months"),
    "payback_cycles": Figure(
        "cycles per sheet at payback", "cycles", "cycles per sheet at the payback, straight between month ends"
    ),
    "npv": Figure("net present value", "money"),
    "irr": Figure(
        "internal rate of return",
        "per year",
        "the yearly rate at which the money of all months, discounted, adds up to nothing; found by search",
    ),
    "sir": Figure("savings-to-investment ratio", ""),
    # months
    "trays_in_month": Figure("trays sown in the month", "trays"),
    "discount_factor": Figure("discount factor", ""),
    "flow": Figure("money of the month", "money"),
    "running": Figure("running total", "money"),
    "running_discounted": Figure("running total, discounted", "money"),
    "tolerance": Figure("amount that counts as nothing", "money"),
    "cycles_per_sheet": Figure("cycles per sheet so far", "cycles"),
    "sheets_replaced": Figure(
        "sheets replaced so far",
        "sheets",
        "sheets of mixed age x cycles / average cycles, plus those bought together x R(cycles), the expected "
        "replacements of a sheet (renewals)",
    ),
    "dated_purchases": Figure("purchases of the month", "money"),
}

BASIS_WORDS = {
    "per_tray": "per tray: the medium's own costs only, yield ignored",
    "same_harvest": "same harvest: the market is full, a better yield means fewer trays",
    "sell_extra": "sell extra: the market takes more, the extra harvest is sold",
}
"""The three ways of counting a saving, in words."""

BASIS_NAMES = {"per_tray": "per tray", "same_harvest": "same harvest", "sell_extra": "sell extra"}


def split_path(path: str) -> tuple[str, str]:
    """The figure and the way of counting in a figure's path.

    >>> split_path("payback_months.per_tray.simple")
    ('payback_months.simple', 'per_tray')
    >>> split_path("by_crop.radish.cost_per_kg")
    ('cost_per_kg', '')
    """
    names = path.split(".")
    if names[0] == "by_crop":
        return names[-1], ""
    basis = next((name for name in names if name in BASIS_NAMES), "")
    return ".".join(name for name in names if name != basis), basis
