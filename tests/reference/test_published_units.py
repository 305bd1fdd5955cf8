"""Units, sheet goods and the tray room's calendar, held to definitions and to published and derived figures."""

from __future__ import annotations

from fractions import Fraction

import pytest
from scipy import constants

from mediacost import units
from mediacost.formulas.saving import sheets_needed
from mediacost.formulas.sheet import pieces_from_cut
from mediacost.formulas.tray_cost import priced, saleable_yield, worn
from mediacost.formulas.week import trays_away, way_round

WORKING_WEEK = range(5)
SATURDAY = 5


# ------------------------------------------------------------------ factors


@pytest.mark.parametrize(
    ("ours", "exact"),
    [
        (units.KILOGRAMS_PER_POUND, "0.45359237"),  # NIST Special Publication 811 (second hand)
        (units.KILOGRAMS_PER_OUNCE, "0.028349523125"),  # NIST Handbook 44, Appendix C (second hand)
        (units.METRES_PER_INCH, "0.0254"),  # by definition
        (units.SQUARE_METRES_PER_SQUARE_FOOT, "0.09290304"),  # by definition
        (units.LITRES_PER_US_GALLON, "3.785411784"),  # by definition, 231 cubic inches
        (units.LITRES_PER_US_GALLON * 1000 / 128, "29.5735295625"),  # US fluid ounce in ml, by definition
        (units.KILOJOULES_PER_KILOWATT_HOUR / 1000, "3.6"),  # MJ in a kWh, by definition
        (231 * (units.METRES_PER_INCH * 10) ** 3, "3.785411784"),  # the gallon from the inch, in dm3
    ],
)
def test_exact_factors(ours, exact):
    assert ours == pytest.approx(float(Fraction(exact)), rel=4e-16, abs=0)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (units.KILOGRAMS_PER_POUND, constants.pound),
        (units.KILOGRAMS_PER_OUNCE, constants.ounce),
        (units.METRES_PER_INCH, constants.inch),
        (units.SQUARE_METRES_PER_SQUARE_FOOT, constants.foot**2),
        (units.LITRES_PER_US_GALLON, constants.gallon_US / constants.liter),
        (units.MINUTES_PER_HOUR, constants.hour / constants.minute),
        (units.GRAMS_PER_KILOGRAM, 1 / constants.gram),
        (units.MILLIMETRES_PER_METRE, 1 / constants.milli),
        (units.LITRES_PER_CUBIC_METRE, 1 / constants.liter),
        (units.KILOJOULES_PER_KILOWATT_HOUR, constants.hour),
    ],
)
def test_factors_of_scipy(ours, theirs):
    """scipy.constants, a general-purpose library, as a second opinion."""
    assert ours == pytest.approx(theirs, rel=1e-15)


def test_months_in_a_year():
    assert units.MONTHS_PER_YEAR == 12


def test_every_factor_is_checked_here():
    """A factor added to the package without a check fails here."""
    known = {
        "GRAMS_PER_KILOGRAM",
        "KILOGRAMS_PER_OUNCE",
        "KILOGRAMS_PER_POUND",
        "KILOJOULES_PER_KILOWATT_HOUR",
        "LITRES_PER_CUBIC_METRE",
        "LITRES_PER_US_GALLON",
        "METRES_PER_INCH",
        "MILLIMETRES_PER_METRE",
        "MINUTES_PER_HOUR",
        "MONTHS_PER_YEAR",
        "SQUARE_METRES_PER_SQUARE_FOOT",
        "WATER_HEAT",  # in test_published_washing
        "WATER_KILOJOULES_PER_LITRE_KELVIN",  # in test_published_washing
    }
    assert {name for name in vars(units) if name.isupper()} == known


# ------------------------------------------------------------------ from square feet and ounces to kilograms


@pytest.mark.parametrize(("ounces", "kg_per_m2", "money_per_kg"), [(1.5, 0.457728, 57.849), (4.0, 1.220607, 21.693)])
def test_cost_of_a_kilogram_from_square_feet(ounces, kg_per_m2, money_per_kg):
    """Bachman and Coker, abstract at the American Society for Horticultural Science, 2013 (published).

    Harvest 1.5 to more than 4 oz/ft2, inputs 2.46 USD/ft2. Per kilogram: worked here.
    """
    square_feet = 1 / units.SQUARE_METRES_PER_SQUARE_FOOT  # in a tray of one square metre
    harvest = ounces * units.KILOGRAMS_PER_OUNCE * square_feet
    kilograms = saleable_yield(harvest, 0.0, 0.0)
    assert kilograms == pytest.approx(kg_per_m2, rel=1.1e-6)
    assert priced(square_feet, 2.46) / kilograms == pytest.approx(money_per_kg, abs=5e-4)


@pytest.mark.parametrize(("per_ounce", "per_kg"), [(2.0, 70.548), (6.0, 211.644)])
def test_price_of_a_kilogram_from_ounces(per_ounce, per_kg):
    """The same abstract: 2 to 6 USD an ounce (published)."""
    assert priced(1 / units.KILOGRAMS_PER_OUNCE, per_ounce) == pytest.approx(per_kg, abs=5e-4)


# ------------------------------------------------------------------ sheet goods


@pytest.mark.parametrize(("length", "width", "pieces", "offcut"), [(0.51, 0.25, 116, 0.01), (0.527, 0.267, 84, 0.21)])
def test_pieces_from_a_roll(length, width, pieces, offcut):
    """A roll of 1 x 15 m, cut in a plain grid: 116 sheets of 25 x 51 cm, 84 of 26.7 x 52.7 cm (derived)."""
    assert pieces_from_cut(15.0, 1.0, length, width) == pieces
    assert pieces_from_cut(1.0, 15.0, length, width) == pieces
    assert 1 - pieces * length * width / 15.0 == pytest.approx(offcut, abs=0.005)


@pytest.mark.parametrize(("grammage", "grams"), [(45.0, 5.806), (38.0, 4.903)])
def test_mass_of_a_paper_sheet(grammage, grams):
    """ISO 536 defines grammage; on a tray of 10 x 20 in, 0.129032 m2 exactly (derived)."""
    area = 200 * units.METRES_PER_INCH**2
    assert area == pytest.approx(0.129032, rel=1e-15)
    assert worn(grammage * area, 1, 1.0) == pytest.approx(grams, abs=5e-4)


# ------------------------------------------------------------------ the calendar


def away(wash_days, dry_days):
    """40 trays a week, 20 on Monday and 20 on Thursday, a crop of ten days, harvest on working days."""
    return trays_away(way_round([20, 0, 0, 20, 0, 0, 0], 10, WORKING_WEEK, wash_days, dry_days))


@pytest.mark.parametrize(
    ("wash_days", "dry_days", "peak"), [(WORKING_WEEK, 1, 80), (WORKING_WEEK, 2, 80), ({SATURDAY}, 1, 100)]
)
def test_calendar_peak(wash_days, dry_days, peak):
    """Washed on the harvest day, dry after one or two days: 80 at the peak. Washed on Saturdays only: 100.

    Common practice, no source; the peaks are derived. A rule of thumb, trays a week times days away over 7, gives 63
    to 69 in the first two and runs short.
    """
    by_day = away(wash_days, dry_days)
    assert max(by_day) == peak
    assert sum(by_day) / 7 < peak
    assert sheets_needed(float(max(by_day)), 1.0, 1, 0.0) == peak


def test_standing_trays_of_a_plan():
    """Alberta Agriculture, Agdex 268/821-1 (published): 960 trays a month in three cycles a month; 320 stand at once.

    Little's law, L = lambda W (second hand): 32 trays a day that stay ten days.
    """
    by_day = trays_away(way_round([32] * 7, 10, range(7), range(7), 0))
    assert by_day == (320,) * 7
