"""Numbers and units as words: how every layer writes an amount."""

from __future__ import annotations

import math
from collections.abc import Iterable


def number(value: float, digits: int = 4) -> str:
    """A number with so many significant figures, thousands set apart by a space, never with an exponent.

    >>> number(0.23456), number(1234567.0), number(12.0), number(-0.5)
    ('0.2346', '1 234 567', '12', '-0.5')
    """
    if not math.isfinite(value):
        return "unlimited" if value > 0 else "unknown"
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:,.{min(decimals, 12)}f}".replace(",", " ")
    return text.rstrip("0").rstrip(".") if "." in text else text


def fixed(value: float, decimals: int = 2) -> str:
    """A number with so many decimals, thousands set apart by a space, for columns.

    >>> fixed(1234.5), fixed(-0.001)
    ('1 234.50', '0.00')
    """
    text = f"{value:,.{decimals}f}".replace(",", " ")
    return text[1:] if text.startswith("-") and not text.strip("-0. ") else text


def money_decimals(values: Iterable[float], usual: int = 2) -> int:
    """Decimals for money that is shown side by side: fewer for large amounts, more for amounts below one.

    >>> money_decimals([28.74, 0.67]), money_decimals([0.481]), money_decimals([710.0]), money_decimals([390000.0], 3)
    (2, 3, 0, 0)
    """
    largest = max((abs(value) for value in values if math.isfinite(value)), default=0.0)
    if largest == 0:
        return usual
    size = math.floor(math.log10(largest))
    if size < 2:
        return min(usual - min(size, 0), 12)
    return max(0, usual - 2) if size == 2 else 0


def unit(name: str, currency: str) -> str:
    """A unit as it is shown, the scenario's currency in the place of money.

    >>> unit("money/kg", "EUR"), unit("share", "EUR")
    ('EUR/kg', '')
    """
    return name.replace("money", currency).replace("degC", "°C").replace("share", "").replace("m3", "m³")


def amount(value: float, unit_name: str, currency: str, digits: int = 4) -> str:
    """A number with its unit.

    >>> amount(28.744, "money/kg", "EUR", 3)
    '28.7 EUR/kg'
    """
    shown = unit(unit_name, currency)
    return f"{number(value, digits)} {shown}" if shown else number(value, digits)


def percent(share: float, digits: int = 2) -> str:
    """A share as per cent.

    >>> percent(0.0234)
    '2.3 %'
    """
    return f"{number(100 * share, digits)} %"


def months(value: float) -> str:
    """A number of months, and in years as well where it is long.

    >>> months(9.27), months(30.0), months(1.0)
    ('9.3 months', '30 months (2.5 years)', '1 month')
    """
    size = number(value, 2 if value < 10 else 3)
    shown = f"{size} {'month' if size == '1' else 'months'}"
    return f"{shown} ({number(value / 12, 2)} years)" if value >= 24 else shown


def counted(number: int, noun: str) -> str:
    """A whole number of things.

    >>> counted(1, "crop"), counted(2, "crop")
    ('1 crop', '2 crops')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def listed(names: list[str]) -> str:
    """Names as a list in a sentence.

    >>> listed(["steel", "paper", "coir"])
    'steel, paper and coir'
    """
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
