"""How amounts are written."""

from __future__ import annotations

import math

import pytest

from mediacost.results import words


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0, 4, "0"),
        (0.0000012345, 3, "0.00000123"),
        (12.0, 4, "12"),
        (1234567.0, 3, "1 234 567"),
        (-1190.0, 4, "-1 190"),
        (0.99999, 3, "1"),
        (math.inf, 4, "unlimited"),
        (math.nan, 4, "unknown"),
    ],
)
def test_number(value, digits, text):
    assert words.number(value, digits) == text


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(1234.5, 2, "1 234.50"), (-0.001, 2, "0.00"), (-0.006, 2, "-0.01"), (-1234567, 0, "-1 234 567"), (-0.4, 0, "0")],
)
def test_fixed(value, decimals, text):
    assert words.fixed(value, decimals) == text


@pytest.mark.parametrize(
    ("values", "usual", "decimals"),
    [
        ([28.74, 0.67], 2, 2),
        ([0.481, -0.02], 2, 3),
        ([0.0313], 2, 4),
        ([1e-20], 2, 12),
        ([-749.0], 2, 0),
        ([450.0], 3, 1),
        ([390000.0, 1.5], 3, 0),
        ([0.0], 2, 2),
        ([], 3, 3),
        ([math.inf, 5.0], 2, 2),
    ],
)
def test_money_has_decimals_that_suit_its_size(values, usual, decimals):
    assert words.money_decimals(values, usual) == decimals


@pytest.mark.parametrize(
    ("unit", "shown"),
    [
        ("money/kg", "KWD/kg"),
        ("money", "KWD"),
        ("share", ""),
        ("degC", "°C"),
        ("m3", "m³"),
        ("per year", "per year"),
        ("", ""),
    ],
)
def test_unit(unit, shown):
    assert words.unit(unit, "KWD") == shown


def test_amount_without_a_unit_is_the_bare_number():
    assert words.amount(0.5, "share", "EUR") == "0.5"
    assert words.amount(28.744, "money/kg", "EUR", 3) == "28.7 EUR/kg"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.5, "0.5 months"),
        (1.0, "1 month"),
        (9.27, "9.3 months"),
        (0.999, "1 month"),
        (23.9, "23.9 months"),
        (30.0, "30 months (2.5 years)"),
    ],
)
def test_months(value, text):
    assert words.months(value) == text


@pytest.mark.parametrize(("share", "text"), [(0.0234, "2.3 %"), (0, "0 %"), (-0.5, "-50 %"), (12.5, "1 250 %")])
def test_percent(share, text):
    assert words.percent(share) == text


def test_counted_and_listed():
    assert [words.counted(number, "crop") for number in (0, 1, 2)] == ["0 crops", "1 crop", "2 crops"]
    assert words.listed(["steel"]) == "steel"
    assert words.listed(["steel", "paper"]) == "steel and paper"
    assert words.listed(["steel", "paper", "coir"]) == "steel, paper and coir"
