"""One tray: income where a cost is expected, failed trays, unpaid hours."""

from __future__ import annotations

import pytest

from mediacost.formulas.tray_cost import (
    crop_total,
    disposal,
    equipment_per_tray,
    margin,
    per_kg_total,
    per_tray,
    return_to_labour,
    saleable_yield,
    worn,
)


def test_single_use_wears_out_at_once():
    assert worn(0.8, 2, 1.0) == 1.6
    assert per_tray(0.8, 2) == 1.6


def test_equipment_by_hand():
    """1300 over 5 years of 50 weeks of 40 trays at an average season of 1.3: 13,000 trays."""
    assert equipment_per_tray(1300.0, 5, 40.0, 50.0, 1.3) == pytest.approx(0.1, rel=1e-14)


def test_disposal_that_pays():
    """0.1 kg of steel at 0.5 paid, 0.3 kg of roots at 0.1 charged."""
    assert disposal(0.1, -0.5, 0.3, 0.1) == pytest.approx(-0.02)


def test_crop_total_by_hand():
    """Seed 0.1 kg at 20, 10 min at 0.5, 0.2 kWh a day for 5 days at 0.3, 0.7: 2 + 5 + 0.3 + 0.7."""
    assert crop_total(0.1, 20.0, 10.0, 0.5, 0.2, 5.0, 0.3, 0.7) == pytest.approx(8.0, rel=1e-14)


def test_packing_by_hand():
    """(3 + 8 x 0.5) a kilogram, a quarter of one."""
    assert per_kg_total(3.0, 8.0, 0.5, 0.25) == 1.75


@pytest.mark.parametrize(("failed", "lost"), [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0)])
def test_nothing_saleable(failed, lost):
    assert saleable_yield(0.25, failed, lost) == 0.0


def test_shares_of_failed_and_lost_multiply():
    """A tray that failed cannot be trimmed as well: 0.5 x 0.8, not 0.3."""
    assert saleable_yield(1.0, 0.5, 0.2) == pytest.approx(0.4)


def test_margin_may_be_a_loss():
    assert margin(1.0, 1.5) == -0.5


def test_return_to_labour_of_a_loss():
    """12 minutes at 0.5 were paid 6; a loss of 3 leaves 3 for a fifth of an hour: 15 an hour. Of 9, less than none."""
    assert return_to_labour(-3.0, 12.0, 0.5) == pytest.approx(15.0)
    assert return_to_labour(-9.0, 12.0, 0.5) == pytest.approx(-15.0)


def test_return_to_labour_of_no_margin_is_the_wage():
    assert return_to_labour(0.0, 7.0, 0.35) == pytest.approx(0.35 * 60)
