"""Exact factors between the units people type and the coherent ones the formulas use."""

from __future__ import annotations

MINUTES_PER_HOUR = 60.0
GRAMS_PER_KILOGRAM = 1000.0
MILLIMETRES_PER_METRE = 1000.0
LITRES_PER_CUBIC_METRE = 1000.0
KILOJOULES_PER_KILOWATT_HOUR = 3600.0
MONTHS_PER_YEAR = 12

WATER_KILOJOULES_PER_LITRE_KELVIN = 4.186
"""Heat that one litre of water takes up per kelvin (15 degree calorie, 1 kg/l). Holds within 0.3 % from 10 to 80 C."""

WATER_HEAT = WATER_KILOJOULES_PER_LITRE_KELVIN / KILOJOULES_PER_KILOWATT_HOUR
"""The same in kWh/(l K)."""

KILOGRAMS_PER_POUND = 0.45359237
"""International avoirdupois pound: exact (NIST Special Publication 811)."""

KILOGRAMS_PER_OUNCE = KILOGRAMS_PER_POUND / 16
METRES_PER_INCH = 0.0254
"""International inch: exact."""

SQUARE_METRES_PER_SQUARE_FOOT = (12 * METRES_PER_INCH) ** 2
LITRES_PER_US_GALLON = 3.785411784
"""US liquid gallon, 231 cubic inches: exact."""
