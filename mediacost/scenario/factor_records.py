"""The records of greenhouse-gas factors that replace those of the factor table."""

from collections.abc import Mapping
from typing import Annotated, Any

from mediacost.scenario import values
from mediacost.scenario.fields import number
from mediacost.scenario.record import Number, Record
from mediacost.scenario.values import LARGEST, Bounds, Range, refuse


class FactorOverride(Record):
    """A greenhouse-gas factor that replaces the one in the factor table.

    In the file it is a plain number, a range, or a table with `value`, `note` and `source`.
    """

    value: Annotated[
        Number, number("Factor", "", "In the unit of the factor table; may be negative.", minimum=-LARGEST)
    ]


FACTOR_BOUNDS = Bounds(minimum=-LARGEST, maximum=LARGEST)


def read_factors(value: Any) -> dict[str, FactorOverride]:
    """Read the table of factors by id (`values.Refused` with every complaint)."""
    if not isinstance(value, Mapping):
        raise refuse(f"{values.shown(value)} is not a table", "such as { steel = 4.0 }")
    complaints: list[values.Complaint] = []
    factors: dict[str, FactorOverride] = {}
    for key, typed in value.items():
        if key in ("note", "source") and isinstance(typed, str):
            values.collect(complaints, {}, key, values.read_long_text, typed)
        elif isinstance(typed, FactorOverride):
            factors[key] = typed
        else:
            values.collect(complaints, factors, key, _read_factor, typed)
    if complaints:
        raise values.Refused(*complaints)
    return factors


def _read_factor(typed: Any) -> FactorOverride:
    """Read one override: a number, a range, or a table with `value`."""
    if not isinstance(typed, Mapping) or "low" in typed or "likely" in typed or "high" in typed:
        read = values.read_number(typed, FACTOR_BOUNDS, whole=False, ranged=True)
        if isinstance(read, Range):
            return FactorOverride(value=read, note=read.note, source=read.source)
        return FactorOverride(value=read)
    complaints = [
        values.unknown_key(key, ("value", "note", "source")) for key in typed if key not in FactorOverride.model_fields
    ]
    parts: dict[str, Any] = {}
    if "value" not in typed:
        complaints.append(values.Complaint(("value",), "is missing", "a number"))
    for key in ("note", "source"):
        if key in typed:
            values.collect(complaints, parts, key, values.read_long_text, typed[key])
    if "value" in typed:
        values.collect(
            complaints,
            parts,
            "value",
            lambda v: values.read_number(v, FACTOR_BOUNDS, whole=False, ranged=True),
            typed["value"],
        )
    if complaints:
        raise values.Refused(*complaints)
    return FactorOverride(**parts)
