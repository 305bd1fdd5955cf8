"""Numbers as people type them: decimal comma or point, thousands set apart, blank for nothing."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from typing import NamedTuple

_WHOLE = re.compile(r"[+-]?\d{1,18}")
_PLAIN = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")
_THOUSANDS = re.compile(r"[+-]?\d{1,3}((,\d{3})+(\.\d*)?|(\.\d{3})+,\d*|(\.\d{3}){2,})")
_EITHER = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_SPACES = re.compile(r"(?<=\d)[ \u00a0\u202f\u2009\u2019'](?=\d{3}(\D|$))")


class Typed(NamedTuple):
    """What was typed: a number, None for blank, or the text itself where it is no number; and how it was read."""

    value: float | int | str | None
    echo: str = ""


def read_number(text: str) -> Typed:
    """Read a number. A comma and a point are both decimal marks; '1,234' could be two numbers and is echoed.

    >>> read_number("12,5").value, read_number("1 190").value, read_number(" ").value, read_number("1,234,567").value
    (12.5, 1190, None, 1234567)
    >>> read_number("1,234")
    Typed(value=1.234, echo='read as 1.234; for a thousand and more type 1234')
    >>> read_number("a few").value
    'a few'
    """
    bare = _SPACES.sub("", text.strip())
    if not bare:
        return Typed(None)
    echo = ""
    if _EITHER.fullmatch(bare):
        echo = f"read as {bare.replace(',', '.')}; for a thousand and more type {bare.replace(',', '')}"
        bare = bare.replace(",", ".")
    elif _THOUSANDS.fullmatch(bare):
        decimal = "," if bare.rfind(",") > bare.rfind(".") and bare.count(",") == 1 else "."
        thousands = "." if decimal == "," or (bare.count(".") > 1) else ","
        bare = bare.replace(thousands, "").replace(",", ".")
    elif bare.count(",") == 1 and "." not in bare:
        bare = bare.replace(",", ".")
    if not _PLAIN.fullmatch(bare):
        return Typed(text.strip())
    if not math.isfinite(float(bare)):
        return Typed(text.strip())
    return Typed(int(bare) if _WHOLE.fullmatch(bare) else float(bare), echo)


def number_text(value: object) -> str:
    """A value as it stands in a field: twelve figures at most, no exponent, blank for nothing.

    >>> number_text(12.0), number_text(0.006), number_text(None), number_text("a few")
    ('12', '0.006', '', 'a few')
    """
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return str(value)
    if value == 0:
        return "0"
    return format(Decimal(f"{value:.12g}"), "f") if isinstance(value, float) else str(value)
