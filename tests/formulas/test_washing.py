"""Washing at its edges: part batches, cold water, heat pumps."""

from __future__ import annotations

import pytest

from mediacost.formulas.washing import batches_per_week, heat, sanitiser_litres, spread_over_sheets


@pytest.mark.parametrize(
    ("daily", "batch", "batches"),
    [
        ([20], 20, 1),
        ([21], 20, 2),
        ([1], 200, 1),
        ([20, 20], 20, 2),
        ([10, 10], 20, 2),  # two half-filled batches on two days are not one
        ([], 20, 0),
        ([0.3 / 0.1 * 10], 10, 3),  # 29.999999999999996
        ([100 * 1.1], 10, 11),  # 110.00000000000001: no twelfth batch for a hair
    ],
)
def test_batches(daily, batch, batches):
    assert batches_per_week(daily, batch) == batches


@pytest.mark.parametrize("temperature", [5.0, 12.0])
def test_water_at_the_inlet_or_below_costs_no_heat(temperature):
    """Nobody cools wash water: no negative heat."""
    assert heat(100.0, temperature, 12.0, 0.95) == 0.0


def test_heat_pump():
    """An efficiency of 3 buys a third of the heat."""
    assert heat(100.0, 60.0, 15.0, 3.0) == pytest.approx(heat(100.0, 60.0, 15.0, 1.0) / 3, rel=1e-14)


def test_each_part_of_a_step_by_hand():
    """3 batches of 10 min, 2 wash days of 5 min, 20 sheets, 0.5 min each: (30 + 10) / 20 + 0.5."""
    assert spread_over_sheets(3.0, 10.0, 2.0, 5.0, 20.0, 0.5) == 2.5


def test_product_is_part_of_the_bath():
    """Half as strong as the product: half the bath is product, so the water is the other half."""
    assert sanitiser_litres(10.0, 500.0, 1000.0) == 5.0
