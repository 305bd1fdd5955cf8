"""Single values of a scenario file: what is accepted, and the words for what is not.

Each `read_...` function takes a value as typed (from TOML, JSON or a form) and returns the value that the
records keep, or raises `Refused`. Nothing here knows a record or pydantic.
"""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

RANGE_HINT = "{ low = ..., likely = ..., high = ... }"
"""How a range is typed, for messages."""

LARGEST = 1e12
"""No number in a scenario is larger than this: sums of such numbers stay finite."""

SHOWN_LENGTH = 60
"""Echoed text longer than this is shortened."""


@dataclass(frozen=True, slots=True)
class Range:
    """A number that is not known exactly: low <= likely <= high, in the unit of its field.

    >>> Range(120, 260, 420).likely
    260
    """

    low: float
    likely: float
    high: float
    note: str = ""
    source: str = ""


def likely(value: float | Range) -> float:
    """Return the most likely value of a number that may be a range.

    >>> likely(Range(1.0, 2.0, 4.0)), likely(3.5)
    (2.0, 3.5)
    """
    return value.likely if isinstance(value, Range) else value


def low_of(value: float | Range) -> float:
    """Return the lowest value that a number may take."""
    return value.low if isinstance(value, Range) else value


def high_of(value: float | Range) -> float:
    """Return the highest value that a number may take."""
    return value.high if isinstance(value, Range) else value


@dataclass(frozen=True, slots=True)
class Complaint:
    """One thing wrong inside a value: the keys below the field, what is wrong, and what was expected."""

    keys: tuple[str | int, ...]
    problem: str
    expected: str


class Refused(ValueError):
    """A value that cannot be used, with every complaint about it."""

    def __init__(self, *complaints: Complaint) -> None:
        super().__init__("; ".join(complaint.problem for complaint in complaints))
        self.complaints = complaints


def refuse(problem: str, expected: str, *keys: str | int) -> Refused:
    """Return the `Refused` for a single complaint."""
    return Refused(Complaint(keys, problem, expected))


@dataclass(frozen=True, slots=True)
class Bounds:
    """The limits of a number. None means no limit on that side."""

    minimum: float | None = None
    maximum: float | None = None
    above: float | None = None
    below: float | None = None

    def holds(self, value: float) -> bool:
        """Return whether the value lies inside the limits."""
        return (
            (self.minimum is None or value >= self.minimum)
            and (self.maximum is None or value <= self.maximum)
            and (self.above is None or value > self.above)
            and (self.below is None or value < self.below)
        )

    def words(self) -> str:
        """Return the limits in words, for 'expected a number ...'; limits beyond all sense go without saying.

        >>> Bounds(minimum=0, below=1).words()
        'from 0 to below 1'
        """
        lowest = self.minimum if self.minimum is not None else self.above
        highest = self.maximum if self.maximum is not None else self.below
        lowest = None if lowest is not None and lowest <= -LARGEST else lowest
        highest = None if highest is not None and highest >= LARGEST else highest
        start = "" if lowest is None else plain(lowest)
        end = "" if highest is None else ("below " if self.maximum is None else "") + plain(highest)
        if start and end:
            return f"above {start} and up to {end}" if self.minimum is None else f"from {start} to {end}"
        if start or not end:
            return start and (f"above {start}" if self.minimum is None else f"of {start} or more")
        return end if self.maximum is None else f"up to {end}"


def plain(value: float) -> str:
    """Write a number as a grower would: no exponent where it can be helped, no needless '.0'."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return repr(value)


def shown(value: Any) -> str:
    """Return a value as it may be echoed in a message: on one line, escaped and shortened."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{safe(value)}"'
    if isinstance(value, int) and abs(value) >= 10**SHOWN_LENGTH:
        return "a number of very many digits"
    if isinstance(value, (int, float)):
        return plain(value)
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, (list, tuple)):
        return "a list"
    if value is None:
        return "nothing"
    return safe(str(value)) if isinstance(value, (datetime.date, datetime.time)) else "something else"


def safe(text: str) -> str:
    """Escape control characters and other unprintable ones, and shorten long text.

    >>> safe("two" + chr(10) + "lines")
    'two\\\\nlines'
    """
    cut = text if len(text) <= SHOWN_LENGTH else text[: SHOWN_LENGTH - 3] + "..."
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in cut)


def on_one_line(text: str) -> str:
    """Return a file name for a message: whole, with whatever would break the line escaped."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


# Numbers ------------------------------------------------------------------------------------------


def read_number(value: Any, bounds: Bounds, *, whole: bool, ranged: bool) -> float | Range:
    """Read a number, or a range where one is allowed."""
    if isinstance(value, Range):
        value = {
            "low": value.low,
            "likely": value.likely,
            "high": value.high,
            "note": value.note,
            "source": value.source,
        }
    if isinstance(value, Mapping):
        if not ranged:
            raise refuse("is a range or a table", f"{number_words(bounds, whole)}; no range is possible here")
        return _read_range(value, bounds, whole)
    return _read_plain_number(value, bounds, whole, ranged)


def number_words(bounds: Bounds, whole: bool, ranged: bool = False) -> str:
    """Return what a number must be, in words."""
    words = f"a {'whole ' if whole else ''}number {bounds.words()}".rstrip()
    return f"{words}, or a range {RANGE_HINT}" if ranged else words


def _read_plain_number(value: Any, bounds: Bounds, whole: bool, ranged: bool = False) -> float:
    expected = number_words(bounds, whole)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        hint = ""
        if isinstance(value, str) and _looks_like_number(value):
            hint = ", without quotes and with a decimal point"
        raise refuse(f"{shown(value)} is not a number", number_words(bounds, whole, ranged) + hint)
    try:
        number = float(value)
    except OverflowError:
        raise refuse(f"{shown(value)} is too large", expected) from None
    if not math.isfinite(number):
        raise refuse(f"{shown(value)} is not an amount", expected)
    if whole and not number.is_integer():
        raise refuse(f"{shown(value)} is not a whole number", expected)
    if abs(number) > LARGEST:
        raise refuse(f"{shown(value)} is too large", expected)
    if not bounds.holds(number):
        raise refuse(f"{shown(value)} is outside what is possible", expected)
    return int(value) if whole else number


def _looks_like_number(text: str) -> bool:
    return re.fullmatch(r"\s*[-+]?[\d'., ]*\d\s*", text[:40]) is not None


def _read_range(value: Mapping[Any, Any], bounds: Bounds, whole: bool) -> Range:
    complaints: list[Complaint] = []
    ends: dict[str, float] = {}
    texts: dict[str, str] = {}
    for key in value:
        if key not in ("low", "likely", "high", "note", "source"):
            complaints.append(unknown_key(key, ("low", "likely", "high", "note", "source")))
    for end in ("low", "likely", "high"):
        if end not in value:
            complaints.append(Complaint((end,), "is missing", f"all three of a range, {RANGE_HINT}"))
            continue
        collect(complaints, ends, end, lambda v: _read_plain_number(v, bounds, whole), value[end])
    for key in ("note", "source"):
        if key in value:
            collect(complaints, texts, key, read_long_text, value[key])
    if not complaints and not ends["low"] <= ends["likely"] <= ends["high"]:
        numbers = ", ".join(plain(ends[end]) for end in ("low", "likely", "high"))
        complaints.append(Complaint((), f"the range {numbers} is out of order", "low <= likely <= high"))
    if complaints:
        raise Refused(*complaints)
    return Range(ends["low"], ends["likely"], ends["high"], **texts)


def collect(
    complaints: list[Complaint], into: dict[Any, Any], key: str | int, read: Callable[[Any], Any], value: Any
) -> None:
    """Read one part of a value; keep it, or keep the complaints about it under its key."""
    try:
        into[key] = read(value)
    except Refused as refused:
        complaints.extend(Complaint((key, *c.keys), c.problem, c.expected) for c in refused.complaints)


def unknown_key(key: Any, known: Sequence[str]) -> Complaint:
    """Return the complaint about a key that does not exist, naming the nearest one that does."""
    import difflib

    name = str(key)
    folded = {k.lower(): k for k in known}
    near = difflib.get_close_matches(name.lower()[:SHOWN_LENGTH], list(folded), n=1, cutoff=0.6)
    if near:
        return Complaint((name,), "is not a known key", f"a known one: the nearest is {folded[near[0]]}")
    listed = ", ".join(known) if len(known) <= 8 else ", ".join(known[:8]) + ", ..."
    return Complaint((name,), "is not a known key", f"one of: {listed}")


# Words, choices, dates ----------------------------------------------------------------------------


_CONTROL = re.compile("[\x00-\x1f\x7f\ud800-\udfff]")
_CONTROL_IN_LINES = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


def read_text(value: Any, *, most: int = 200, needed: bool = False) -> str:
    """Read one line of text."""
    if not isinstance(value, str):
        raise refuse(f"{shown(value)} is not text", 'text in quotes, such as "' + _as_text(value) + '"')
    if needed and not value.strip():
        raise refuse("is empty", "some text")
    if len(value) > most:
        raise refuse(f"has {len(value)} characters", f"at most {most} characters")
    if _CONTROL.search(value):
        raise refuse(f"{shown(value)} has control characters in it", "one line of plain text")
    return value


def _as_text(value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, (int, float, datetime.date)):
        return "..."
    return shown(value)


def read_id(value: Any) -> str:
    """Read an id: the short name by which other tables refer to this one."""
    text = read_text(value, most=80, needed=True)
    if text != text.strip():
        raise refuse(f"{shown(text)} begins or ends with a space", "an id without outer spaces")
    return text


def read_long_text(value: Any) -> str:
    """Read text that may have several lines: a note or a source."""
    if not isinstance(value, str):
        raise refuse(f"{shown(value)} is not text", "text in quotes")
    if len(value) > 20_000:
        raise refuse(f"has {len(value)} characters", "at most 20000 characters")
    if _CONTROL_IN_LINES.search(value):
        raise refuse(f"{shown(value)} has control characters in it", "plain text")
    return value


def read_currency(value: Any) -> str:
    """Read a currency code."""
    expected = 'three capital letters as in ISO 4217, such as "EUR"'
    if not isinstance(value, str) or re.fullmatch("[A-Z]{3}", value) is None:
        raise refuse(f"{shown(value)} is not a currency code", expected)
    return value


def read_flag(value: Any) -> bool:
    """Read yes or no."""
    if not isinstance(value, bool):
        raise refuse(f"{shown(value)} is neither true nor false", "true or false, without quotes")
    return value


def read_choice(value: Any, choices: Sequence[str]) -> str:
    """Read one word out of a few."""
    if not isinstance(value, str) or value not in choices:
        raise refuse(f"{shown(value)} is not one of the choices", _one_of(choices))
    return value


def _one_of(choices: Sequence[str]) -> str:
    quoted = [f'"{choice}"' for choice in choices]
    return ", ".join(quoted[:-1]) + " or " + quoted[-1]


def read_date(value: Any) -> datetime.date:
    """Read a calendar date."""
    if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
        if isinstance(value, str):
            try:
                return datetime.date.fromisoformat(value)
            except ValueError:
                pass
        raise refuse(f"{shown(value)} is not a date", "a date such as 2027-03-12, without quotes")
    return value


# Small tables and lists that are one value --------------------------------------------------------


def read_weekdays(value: Any) -> tuple[str, ...]:
    """Read a list of weekdays; returned in week order, each once."""
    expected = 'at least one weekday in a list, such as ["mon", "thu"]'
    if isinstance(value, str) or not isinstance(value, Sequence):
        raise refuse(f"{shown(value)} is not a list of weekdays", expected)
    if not value:
        raise refuse("is empty", expected)
    complaints: list[Complaint] = []
    for place, day in enumerate(value):
        if not isinstance(day, str) or day not in WEEKDAYS:
            complaints.append(Complaint((place,), f"{shown(day)} is not a weekday", _one_of(WEEKDAYS)))
        elif day in value[:place]:
            complaints.append(Complaint((place,), f"{shown(day)} is listed twice", "each weekday once"))
    if complaints:
        raise Refused(*complaints)
    return tuple(day for day in WEEKDAYS if day in value)


def read_season(value: Any) -> tuple[float, ...]:
    """Read the twelve demand factors of the year, January first."""
    expected = "a list of 12 numbers, January first"
    if isinstance(value, str) or not isinstance(value, Sequence):
        raise refuse(f"{shown(value)} is not a list", expected)
    if len(value) != 12:
        raise refuse(f"has {len(value)} entries", expected)
    complaints: list[Complaint] = []
    months: dict[int, float] = {}
    bounds = Bounds(minimum=0, maximum=1000)
    for place, month in enumerate(value):
        collect(complaints, months, place, lambda v: _read_plain_number(v, bounds, False), month)
    if not complaints and not sum(months.values()) > 0:
        complaints.append(Complaint((), "is zero in every month", "a sum above 0"))
    if complaints:
        raise Refused(*complaints)
    return tuple(months[place] for place in range(12))


SOWN_AT_MOST = 1_000_000
"""Most trays sown on one weekday."""


def read_sowing(value: Any) -> dict[str, int]:
    """Read how many trays are sown on which weekday; returned in week order, as typed."""
    if not isinstance(value, Mapping):
        raise refuse(f"{shown(value)} is not a table of weekdays", "such as { mon = 24, thu = 18 }")
    complaints: list[Complaint] = []
    trays: dict[str, int] = {}
    bounds = Bounds(minimum=0, maximum=SOWN_AT_MOST)
    for key, count in value.items():
        if key in ("note", "source"):
            collect(complaints, {}, key, read_long_text, count)
        elif key in WEEKDAYS:
            collect(complaints, trays, key, lambda v: _read_plain_number(v, bounds, True), count)
        else:
            complaints.append(unknown_key(key, WEEKDAYS))
    if complaints:
        raise Refused(*complaints)
    return {day: trays[day] for day in WEEKDAYS if day in trays}
