"""The same formulas on floats, on arrays, on recorded numbers and on quantities with units.

Each row below is one formula with a few values and the unit of every part. A part is handed over in another unit
than the one it is written in, so a conversion left out or a part in the wrong place changes the answer or raises.
NumPy's warnings are errors here: where both branches are worked out, the unused one has to stay finite.
"""

from __future__ import annotations

import inspect
import itertools
import math
import warnings
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mediacost.formulas import cash, saving, sheet, tray_cost, washing
from mediacost.results.formula_text import text_of
from mediacost.results.recorded import Recorded, Tag
from mediacost.units import MINUTES_PER_HOUR, MONTHS_PER_YEAR, WATER_HEAT

UNITS = pint.UnitRegistry(auto_reduce_dimensions=True)
UNITS.define("money = [currency]")
UNITS.define("hundredth = 0.01 money")
UNITS.define("in_a_hundred = 0.01")


class Part(NamedTuple):
    """One argument: values to try, the unit they are in, and another unit to hand them over in."""

    values: tuple[float, ...]
    unit: str = ""
    other: str = ""


class Row(NamedTuple):
    """A formula, its arguments, the unit of its answer, and how to call it.

    ``unseen`` names the parts that need not stand in the recorded text: a choice is written as the branch taken.
    """

    formula: Callable
    parts: dict[str, Part]
    unit: str = ""
    call: Callable | None = None
    unseen: tuple[str, ...] = ()

    def __call__(self, *arguments: Any) -> Any:
        if self.call is not None:
            return self.call(*arguments)
        return self.formula(**dict(zip(self.parts, arguments, strict=True)))

    def combinations(self, most: int) -> list[tuple[float, ...]]:
        """Every combination of the values, or an even choice of them."""
        every = list(itertools.product(*(part.values for part in self.parts.values())))
        return every[:: max(1, math.ceil(len(every) / most))]


def money(*values):
    return Part(values, "money", "hundredth")


def money_per(unit, other, *values):
    return Part(values, f"money/{unit}", f"hundredth/{other}")


def mass(*values):
    return Part(values, "kg", "g")


def water(*values):
    return Part(values, "l", "m^3")


def minutes(*values):
    return Part(values, "min", "hour")


def metres(*values):
    return Part(values, "m", "mm")


def share(*values):
    return Part(values, "", "in_a_hundred")


def count(*values):
    return Part(values)


A_WEEK = Part((12.0, 60.0, 500.0), "1/week", "1/day")
WEEKS = Part((26.0, 52.0), "week/year", "day/year")
RUNNING = (money(-900.0, -100.0, 0.0, 40.0),) * 4
FLOWS = (money(-900.0, -0.5), money(300.0, -20.0), money(0.0, 800.0), money(500.0, -60.0))

ROWS = [
    # sheet
    Row(
        sheet.pieces_from_cut,
        {
            "length": metres(0.6, 1.0, 15.0, 60.0),
            "width": metres(0.27, 1.0, 1.05),
            "piece_length": metres(0.51, 0.27),
            "piece_width": metres(0.25, 0.26),
        },
    ),
    Row(sheet.landed_price, {"pack_price": money(0.0, 48.0), "delivery": money(0.0, 6.5)}, "money"),
    Row(sheet.sheet_price, {"landed": money(0.0, 54.5), "pieces": count(1.0, 12.0)}, "money"),
    Row(sheet.mean_cycles, {"life": count(1.0, 7.0, 150.0), "loss": share(0.0, 1e-12, 0.01, 0.999)}, unseen=("loss",)),
    Row(
        sheet.life_for_mean,
        {"mean": count(1.0, 48.5, 99.0, 100.0, 2000.0), "loss": share(0.0, 1e-12, 0.01, 0.5)},
        unseen=("mean", "loss"),
    ),
    Row(
        sheet.sheet_life_cost,
        {
            "price": money(0.0, 12.5),
            "cut_minutes": minutes(0.0, 0.5),
            "labour_price": money_per("min", "hour", 0.35),
            "mass": mass(0.15),
            "end_price": money_per("kg", "g", -0.8, 0.1),
        },
        "money",
    ),
    Row(
        sheet.replacements,
        {
            "cycles": count(0.0, 0.4, 7.0, 24.999999999999, 25.0, 700.5),
            "life": count(1.0, 7.0, 25.0),
            "loss": share(0.0, 1e-12, 0.01, 0.999),
        },
    ),
    # washing
    Row(
        washing.batches_per_week,
        {"sheets_a": count(1.0, 40.0, 41.0), "sheets_b": count(25.0, 60.0), "sheets_per_batch": count(1.0, 20.0)},
        call=lambda a, b, batch: washing.batches_per_week([a, b], batch),
    ),
    Row(
        washing.spread_over_sheets,
        {
            "batches": count(0.0, 4.0),
            "per_batch": minutes(18.0, 0.0),
            "wash_days": count(1.0, 2.0),
            "per_wash_day": minutes(0.0, 6.0),
            "sheets": count(40.0, 65.0),
            "per_sheet": minutes(0.0, 2.2),
        },
        "min",
    ),
    Row(
        washing.heat,
        {
            "litres": water(0.0, 3.5),
            "temperature": Part((60.0, 12.0, 5.0), "degC", "degF"),
            "inlet": Part((12.0, 15.0), "degC", "degF"),
            "efficiency": share(0.95, 3.0),
            "water_heat": Part((WATER_HEAT,), "kWh/(l*K)", "kJ/(m^3*K)"),
        },
        "kWh",
        unseen=("temperature", "inlet"),
    ),
    Row(
        washing.sanitiser_litres,
        {
            "litres": water(0.0, 10.0),
            "target": Part((200.0,), "mg/l", "g/m^3"),
            "stock": Part((60000.0,), "mg/l", "g/l"),
        },
        "l",
    ),
    # tray_cost
    Row(tray_cost.per_tray, {"per_sheet": minutes(0.0, 2.5), "sheets_per_tray": count(1.0, 2.0)}, "min"),
    Row(
        tray_cost.worn,
        {"per_sheet_life": mass(0.15), "sheets_per_tray": count(1.0, 2.0), "mean_cycles": count(1.0, 63.4)},
        "kg",
    ),
    Row(tray_cost.priced, {"amount": water(0.0, 2.5), "price": money_per("l", "m^3", 0.0041)}, "money"),
    Row(
        tray_cost.equipment_per_tray,
        {
            "price": money(0.0, 1200.0),
            "years": Part((5.0,), "year", "month"),
            "trays_per_week": A_WEEK,
            "weeks_per_year": WEEKS,
            "mean_season": count(0.5, 1.25),
        },
        "money",
    ),
    Row(
        tray_cost.disposal,
        {
            "sheet_mass": mass(0.02),
            "sheet_price": money_per("kg", "g", -0.4, 0.1),
            "spent_mass": mass(0.0, 0.5),
            "spent_price": money_per("kg", "g", 0.1),
        },
        "money",
    ),
    Row(
        tray_cost.crop_total,
        {
            "seed_mass": mass(0.024),
            "seed_price": money_per("kg", "g", 30.0),
            "grow_minutes": minutes(6.0),
            "labour_price": money_per("min", "hour", 0.35),
            "light_per_day": Part((0.2,), "kWh/day", "kJ/hour"),
            "shelf_days": Part((7.5,), "day", "hour"),
            "energy_price": money_per("kWh", "MJ", 0.27),
            "other": money(0.0, 0.1),
        },
        "money",
    ),
    Row(
        tray_cost.per_kg_total,
        {
            "pack_cost": money_per("kg", "g", 4.0),
            "pack_minutes": Part((10.0,), "min/kg", "hour/g"),
            "labour_price": money_per("min", "hour", 0.35),
            "yield_mass": mass(0.0, 0.25),
        },
        "money",
    ),
    Row(
        tray_cost.saleable_yield,
        {"harvest": mass(0.25, 0.5), "failed_share": share(0.0, 0.02, 1.0), "loss_share": share(0.06)},
        "kg",
    ),
    Row(tray_cost.margin, {"revenue": money(0.0, 11.5), "total": money(5.25)}, "money"),
    Row(
        tray_cost.return_to_labour,
        {
            "margin": money(6.0, -2.0),
            "labour_minutes": minutes(12.0),
            "labour_price": money_per("min", "hour", 0.35),
            "minutes_per_hour": Part((MINUTES_PER_HOUR,), "min/hour", "s/hour"),
        },
        "money/hour",
    ),
    # saving
    Row(saving.difference, {"one": money(1.5, 0.25), "other": money(0.0, 0.25)}, "money", unseen=("one", "other")),
    Row(
        saving.running_cost,
        {"cost": money(1.5), "sheet_wear": money(0.0, 0.25), "equipment": money(0.0, 0.3)},
        "money",
    ),
    Row(
        saving.trays_for_same_harvest,
        {"yield_baseline": mass(0.2), "yield_medium": mass(0.0, 0.25)},
        unseen=("yield_baseline", "yield_medium"),
    ),
    Row(
        saving.break_even_cycles,
        {"life_cost": money(-1.0, 0.0, 12.0), "gain": money(-0.1, 0.0, 0.25)},
        unseen=("life_cost", "gain"),
    ),
    Row(
        saving.cost_after_cycles,
        {"start": money(0.0, 12.0), "per_cycle": money(0.5, -0.1), "cycles": count(0.0, 10.0)},
        "money",
    ),
    Row(
        saving.sheets_needed,
        {
            "peak_trays": count(1.0, 80.0),
            "peak_season": count(0.5, 1.0, 1.3),
            "sheets_per_tray": count(1.0, 2.0),
            "spare_share": share(0.0, 0.1),
        },
    ),
    Row(
        saving.packs_to_buy,
        {"needed": count(88.0), "owned": count(0.0, 12.0, 88.0, 100.0), "pieces": count(1.0, 10.0)},
    ),
    # cash
    Row(
        cash.trays_in_month,
        {
            "trays_per_week": A_WEEK,
            "weeks_per_year": WEEKS,
            "season": count(0.0, 1.2),
            "months_per_year": Part((float(MONTHS_PER_YEAR),), "month/year", "day/day"),
        },
        "1/month",
    ),
    Row(
        cash.cycles_per_sheet,
        {
            "trays_so_far": count(0.0, 260.0),
            "trays_for_one": share(0.8, 1.0),
            "sheets_per_tray": count(2.0),
            "sheets": count(104.0),
        },
    ),
    Row(
        cash.sheets_replaced,
        {
            "cycles": count(0.0, 10.0, 33.3),
            "mixed_age": count(0.0, 20.0),
            "bought_together": count(0.0, 80.0),
            "mean_cycles": count(9.5),
            "life": count(10.0),
            "loss": share(0.0, 0.01),
        },
    ),
    Row(
        cash.month_flow,
        {
            "trays": count(260.0),
            "saving": money(-0.1, 0.5),
            "purchases": money(0.0, 30.0),
            "purchases_baseline": money(0.0, 4.0),
        },
        "money",
    ),
    Row(
        cash.discount_factor,
        {"rate": share(0.0, 0.08, 2.0), "period": count(0.0, 1.0, 240.0), "periods_per_year": count(12.0)},
    ),
    Row(
        cash.discounted,
        {"flow_0": FLOWS[0], "flow_1": FLOWS[1], "rate": share(0.0, 0.08)},
        "money",
        call=lambda first, second, rate: sum_of(cash.discounted([first, second], rate)),
    ),
    Row(
        cash.net_present_value,
        {f"flow_{at}": flow for at, flow in enumerate(FLOWS)} | {"rate": share(0.0, 0.08, 0.5)},
        "money",
        call=lambda *parts: cash.net_present_value(parts[:-1], parts[-1]),
    ),
    Row(
        cash.cumulative,
        {f"flow_{at}": flow for at, flow in enumerate(FLOWS)},
        "money",
        call=lambda *flows: cash.cumulative(flows)[-1],
    ),
    Row(
        cash.tolerance,
        {f"flow_{at}": flow for at, flow in enumerate(FLOWS)},
        "money",
        call=lambda *flows: cash.tolerance(flows),
    ),
    Row(
        cash.payback,
        {f"total_{at}": total for at, total in enumerate(RUNNING)} | {"tolerance": money(1e-7)},
        call=lambda *parts: cash.payback(parts[:-1], parts[-1]),
        unseen=("total_0", "total_1", "total_2", "total_3", "tolerance"),
    ),
    Row(
        cash.first_payback,
        {f"total_{at}": total for at, total in enumerate(RUNNING)} | {"tolerance": money(1e-7)},
        call=lambda *parts: cash.first_payback(parts[:-1], parts[-1]),
        unseen=("total_0", "total_1", "total_2", "total_3", "tolerance"),
    ),
    Row(
        cash.between_periods,
        {"value_0": money(0.0), "value_1": money(2.0, -3.0), "value_2": money(4.5)},
        "money",
        call=lambda *values: cash.between_periods(values, 1.25),
        unseen=("value_0",),
    ),
    Row(
        cash.savings_to_investment,
        {"net_present": money(-50.0, 50.0), "net_outlay": money(100.0)},
    ),
]

every_row = pytest.mark.parametrize("row", ROWS, ids=lambda row: row.formula.__name__)


def sum_of(values):
    return sum(values[1:], start=values[0])


def same(value, expected):
    return value == pytest.approx(expected, rel=1e-11, abs=1e-300)


def quantity(value, part):
    return UNITS.Quantity(value, part.unit).to(part.other or part.unit)


def magnitude_in(answer, unit):
    return UNITS.Quantity(answer).to(unit).magnitude


def test_every_formula_has_a_row():
    public = {
        name
        for module in (sheet, washing, tray_cost, saving, cash)
        for name, formula in vars(module).items()
        if inspect.isfunction(formula) and formula.__module__ == module.__name__ and not name.startswith("_")
    }
    assert {row.formula.__name__ for row in ROWS} == public


@every_row
def test_parts_are_those_of_the_formula(row):
    if row.call is None:
        assert list(row.parts) == list(inspect.signature(row.formula).parameters)


@every_row
def test_arrays_equal_floats(row):
    """One call on a column of every combination, element by element the same as a call each."""
    combinations = row.combinations(4000)
    columns = [np.array(column) for column in zip(*combinations, strict=True)]
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        together = row(*columns)
    one_by_one = [row(*combination) for combination in combinations]
    assert np.shape(together) == (len(combinations),)
    for combination, value, expected in zip(combinations, together, one_by_one, strict=True):
        assert same(value, expected), combination


@every_row
def test_an_array_beside_plain_numbers(row):
    """Draws of one input, the others as typed: the answer takes the shape of the draws."""
    first = row.combinations(1)[0]
    for at, part in enumerate(row.parts.values()):
        arguments = list(first)
        arguments[at] = np.array(part.values)
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            together = np.broadcast_to(row(*arguments), len(part.values))
        for value, answer in zip(part.values, together, strict=True):
            arguments[at] = value
            assert same(answer, row(*arguments))


@every_row
def test_floats_give_floats(row):
    """A plain call returns a plain number, which the standard library can write to a file."""
    for combination in row.combinations(20):
        assert type(row(*combination)) in (float, int)


@every_row
def test_recorded_numbers_equal_floats(row):
    for combination in row.combinations(300):
        answer = row(*map(Recorded, combination))
        assert isinstance(answer, Recorded)
        assert same(answer.value, row(*combination)), combination


@every_row
def test_recorded_text_names_the_parts(row):
    """The text of the answer names every part it rests on; a choice only those of the branch taken."""
    seen = set()
    for combination in row.combinations(300):
        parts = [
            Recorded(value, "input", (), Tag("input", f"<{name}>"))
            for name, value in zip(row.parts, combination, strict=True)
        ]
        text = text_of(row(*parts), lambda part: part.tag.name)
        named = {name for name in row.parts if f"<{name}>" in text}
        assert named >= set(row.parts) - set(row.unseen), text
        seen |= named
    never_named = set(row.parts) - seen
    assert never_named <= {"tolerance", "value_0"}


@every_row
def test_units(row):
    """Parts in mixed units give the right dimension and, converted, the same number."""
    for combination in row.combinations(60):
        answer = row(*map(quantity, combination, row.parts.values()))
        value, expected = magnitude_in(answer, row.unit), row(*combination)
        assert value == pytest.approx(expected, rel=1e-9, abs=1e-12), combination


@every_row
def test_a_wrong_dimension_shows(row):
    """Any part given as a luminous intensity: the formula refuses it, or the answer has another dimension.

    A zero or a branch not taken can hide it, so one of several combinations has to show it.
    """
    for at, name in enumerate(row.parts):
        if name != "value_0":  # stands before the moment asked for, so it is not looked at
            assert any(shows(row, combination, at) for combination in row.combinations(60)), name


def shows(row, combination, at):
    """Whether a part in the wrong dimension is refused, or changes the dimension of the answer."""
    arguments = [quantity(value, part) for value, part in zip(combination, row.parts.values(), strict=True)]
    arguments[at] = UNITS.Quantity(combination[at], "candela")
    try:
        answer = UNITS.Quantity(row(*arguments))
    except (pint.DimensionalityError, pint.OffsetUnitCalculusError):
        return True
    except ValueError as error:
        return "Cannot compare" in str(error)
    return not answer.is_compatible_with(UNITS.Quantity(1.0, row.unit))


def test_money_is_not_mass():
    """Refusals by name, so that the test above cannot pass for a wrong reason."""
    euro, kilogram, minute = UNITS.Quantity(1.0, "money"), UNITS.Quantity(1.0, "kg"), UNITS.Quantity(1.0, "min")
    with pytest.raises(pint.DimensionalityError):
        sheet.landed_price(euro, kilogram)
    with pytest.raises(pint.DimensionalityError):
        saving.running_cost(euro, euro, minute)
    with pytest.raises(pint.DimensionalityError):
        cash.payback([-euro, euro], 1e-9 * kilogram)
    with pytest.raises(pint.DimensionalityError):
        washing.spread_over_sheets(1.0, minute, 1.0, minute, 20.0, kilogram)
    with pytest.raises(pint.DimensionalityError):
        sheet.pieces_from_cut(UNITS.Quantity(15.0, "m"), UNITS.Quantity(1.0, "m"), 1 * minute, 1 * minute)


# ------------------------------------------------------------------ many draws of a cash flow


@given(st.integers(1, 24), st.integers(0, 2**32 - 1))
@settings(max_examples=40, deadline=None)
def test_draws_of_a_cash_flow(months, seed):
    """A stack of 200 draws, one array a month, against each draw by itself.

    Whole amounts, so that totals reach zero exactly, stay there, and come up more than once.
    """
    generator = np.random.default_rng(seed)
    draws = generator.integers(-4, 5, size=(months + 1, 200)).astype(float)
    draws[0] -= generator.integers(0, 12, size=200)
    rate = generator.choice([0.0, 0.08, 0.6], size=200)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        together = cash_answers(list(draws), rate)
    for draw in range(200):
        alone = cash_answers(draws[:, draw].tolist(), float(rate[draw]))
        for name, answer in alone.items():
            assert same(together[name][draw], answer), name


def cash_answers(flows, rate):
    slack = cash.tolerance(flows)
    running, later = cash.cumulative(flows), cash.cumulative(cash.discounted(flows, rate))
    return {
        "tolerance": slack,
        "simple": cash.payback(running, slack),
        "discounted": cash.payback(later, slack),
        "first simple": cash.first_payback(running, slack),
        "first discounted": cash.first_payback(later, slack),
        "npv": cash.net_present_value(flows, rate),
    }


@given(
    life=st.lists(st.integers(1, 400), min_size=1, max_size=8),
    loss=st.one_of(st.just(0.0), st.floats(1e-12, 0.9)),
    cycles=st.floats(0, 2000),
)
@settings(max_examples=60, deadline=None)
def test_draws_of_a_life(life, loss, cycles):
    """Draws that mix sheets that are never lost with sheets that are."""
    losses = np.array([0.0, *[loss] * len(life)])
    lives = np.array([float(life[0]), *map(float, life)])
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        counts, means = sheet.replacements(cycles, lives, losses), sheet.mean_cycles(lives, losses)
        back = sheet.life_for_mean(means, losses)
    for at, (one_life, one_loss) in enumerate(zip(lives.tolist(), losses.tolist(), strict=True)):
        assert counts[at] == pytest.approx(sheet.replacements(cycles, one_life, one_loss), rel=1e-11, abs=1e-12)
        assert same(means[at], sheet.mean_cycles(one_life, one_loss))
        assert back[at] == pytest.approx(sheet.life_for_mean(float(means[at]), one_loss), rel=1e-9)
