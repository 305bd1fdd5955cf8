"""Washing, held to published properties of water, published dilutions and the trade's batch arithmetic.

Figures of sanitisers are here to check arithmetic. They are no dosing instruction: the product's label, local codes
and licensed practice decide what is used.
"""

from __future__ import annotations

import pytest

from mediacost.formulas.washing import batches_per_week, heat, sanitiser_litres, spread_over_sheets
from mediacost.units import WATER_HEAT, WATER_KILOJOULES_PER_LITRE_KELVIN

PER_CENT = 10_000.0
"""One per cent by weight and volume is 10 g/l, 10,000 mg/l."""


@pytest.mark.parametrize(
    ("inlet", "temperature", "kwh_per_kg"),
    [(15, 60, 0.052270), (10, 60, 0.058092), (20, 80, 0.069736), (15, 82, 0.077882)],
)
def test_heat_of_a_kilogram(inlet, temperature, kwh_per_kg):
    """Enthalpy of water at 1 atm after the IAPWS formulation, computed with CoolProp 8.0.0."""
    assert heat(1.0, temperature, inlet, 1.0) == pytest.approx(kwh_per_kg, rel=3e-3)


def test_heat_of_a_hundred_litres():
    """100 l measured cold, 15 to 60 C, with density: 5.2223 kWh (IAPWS through CoolProp)."""
    assert heat(100.0, 60.0, 15.0, 1.0) == pytest.approx(5.2223, rel=3e-3)
    assert heat(100.0, 60.0, 15.0, 0.5) == pytest.approx(2 * heat(100.0, 60.0, 15.0, 1.0))


def test_heat_by_hand():
    """4.186 kJ/(kg K) times 45 K over 3600: 0.052325 kWh (by hand)."""
    assert heat(1.0, 60.0, 15.0, 1.0) == pytest.approx(0.052325, abs=5e-7)


def test_specific_heat_lies_between_published_values():
    """cp at 1 atm: 4.18405 kJ/(kg K) at 20 C, 4.18495 at 60 C, 4.18846 at 15 C (IAPWS through CoolProp)."""
    assert pytest.approx(WATER_KILOJOULES_PER_LITRE_KELVIN, rel=1e-15) == WATER_HEAT * 3600
    assert 4.18405 < WATER_KILOJOULES_PER_LITRE_KELVIN < 4.18846


@pytest.mark.parametrize(
    ("stock", "target", "parts_of_water"), [(3.5 * PER_CENT, 0.5 * PER_CENT, 6), (5.0 * PER_CENT, 0.1 * PER_CENT, 49)]
)
def test_parts_of_water(stock, target, parts_of_water):
    """US CDC, chlorine solution preparation, Appendix E (published): parts of water = stock / target - 1."""
    product = sanitiser_litres(1.0, target, stock)
    assert (1.0 - product) / product == pytest.approx(parts_of_water, rel=1e-12)


def test_powder():
    """The same page: 35 % powder to 0.5 % takes 14.3 g a litre (published); a gram counts as a millilitre here."""
    assert 1000 * sanitiser_litres(1.0, 0.5 * PER_CENT, 35 * PER_CENT) == pytest.approx(14.3, abs=0.05)


@pytest.mark.parametrize(
    ("bath", "target", "stock", "product"),
    [
        (100.0, 500.0, 5.0 * PER_CENT, 1.0),
        (100.0, 500.0, 2.5 * PER_CENT, 2.0),
        (10.0, 5250.0, 5.25 * PER_CENT, 1.0),
    ],
)
def test_dilution(bath, target, stock, product):
    """WHO 2014, Annex G, table G.1 (published): 5 % at 1:100 gives 500 ppm, a 2.5 % stock takes 2 parts in 98.

    The last: a safety fact sheet, 1:10 of 5.25 % gives 5250 ppm (published).
    """
    assert sanitiser_litres(bath, target, stock) == pytest.approx(product, rel=1e-12)


@pytest.mark.parametrize(("per_cent", "millilitres"), [(5.25, 38.095), (6.0, 33.333), (8.25, 24.242), (12.5, 16.000)])
def test_bath_of_ten_litres(per_cent, millilitres):
    """C1 V1 = C2 V2 for 10 l at 200 mg/l, worked by hand."""
    assert 1000 * sanitiser_litres(10.0, 200.0, per_cent * PER_CENT) == pytest.approx(millilitres, abs=5e-4)


@pytest.mark.parametrize(("batch", "minutes"), [(5, 5.8), (20, 3.1), (60, 2.5)])
def test_set_up_spread_over_a_batch(batch, minutes):
    """18 minutes a batch and 2.2 a sheet, one wash day (common practice, no source)."""
    batches = batches_per_week([batch], batch)
    assert spread_over_sheets(batches, 18.0, 1, 0.0, batch, 2.2) == pytest.approx(minutes, abs=1e-9)


def test_two_half_batches_cost_two_set_ups():
    """The same minutes, 20 sheets on two wash days of 10, batches of 20: 2 x 18 / 20 + 2.2 (derived)."""
    batches = batches_per_week([10, 10], 20)
    assert spread_over_sheets(batches, 18.0, 2, 0.0, 20, 2.2) == pytest.approx(4.0, abs=1e-12)
