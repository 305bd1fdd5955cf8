"""Walks over the fields of the records, and over the values of a scenario."""

from __future__ import annotations

import types
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, NamedTuple, Union, get_args, get_origin

from mediacost.scenario.fields import FieldDescription, describe
from mediacost.scenario.records import FactorOverride, Record, Scenario
from mediacost.scenario.values import SOWN_AT_MOST, WEEKDAYS

Keys = tuple[str | int, ...]

WEEKDAY_NAMES = dict(
    zip(WEEKDAYS, ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"), strict=True)
)
MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

EACH = "*"
"""Stands for every place of a list in the paths of `walk_fields`."""


class FieldRow(NamedTuple):
    """One field of the file: where it stands (`EACH` for list places), the record, and its description."""

    path: tuple[str, ...]
    record: type[Record]
    description: FieldDescription


class ValueRow(NamedTuple):
    """One value of a scenario: its key path, its description and the value."""

    keys: Keys
    description: FieldDescription
    value: Any


def nested_record(record: type[Record], field_name: str) -> type[Record] | None:
    """Return the record inside a field that is a table or a list of tables, else None."""
    return _record_in(record.model_fields[field_name].annotation)


def _record_in(annotation: Any) -> type[Record] | None:
    if isinstance(annotation, type) and get_origin(annotation) is None:
        return annotation if issubclass(annotation, Record) else None
    if get_origin(annotation) in (tuple, Union, types.UnionType):
        for part in get_args(annotation):
            found = _record_in(part)
            if found is not None:
                return found
    return None


def own_fields(record: type[Record]) -> tuple[str, ...]:
    """Return the field names of a record in file order, `note` and `source` last."""
    shared = tuple(Record.model_fields)
    return tuple(name for name in record.model_fields if name not in shared) + shared


def describe_path(keys: Sequence[str | int]) -> FieldDescription:
    """Return the description of the value at a key path (KeyError if no such field exists).

    >>> describe_path(("media", 1, "pack_price")).label
    'Pack price'
    """
    record: type[Record] = Scenario
    description: FieldDescription | None = None
    names = list(keys)
    while names:
        name = names.pop(0)
        if not isinstance(name, str) or name not in record.model_fields:
            raise KeyError(f"no field at {list(keys)!r}")
        description = describe(record, name)
        inner = nested_record(record, name)
        if inner is None:
            return _describe_inside(description, names, keys)
        if description.kind == "tables" and names:
            if not isinstance(names[0], int):
                raise KeyError(f"no field at {list(keys)!r}")
            names.pop(0)
        record = inner
    if description is None:
        raise KeyError("an empty key path")
    return description


def _describe_inside(
    description: FieldDescription, rest: list[str | int], keys: Sequence[str | int]
) -> FieldDescription:
    """Describe a part of a value: one weekday of a sowing, one end of a range, one factor."""
    if not rest:
        return description
    first = rest[0]
    if description.kind == "sowing" and first in WEEKDAYS:
        return _sown_on(str(first))
    if description.kind == "season" and isinstance(first, int) and 0 <= first < 12:
        return _season_of(first)
    if description.kind == "factors" and isinstance(first, str):
        if rest[1:] and rest[1] in ("note", "source"):
            return describe(FactorOverride, str(rest[1]))
        inside = rest[2:] if rest[1:] and rest[1] == "value" else rest[1:]
        return _describe_inside(_factor(first), inside, keys)
    if description.kind == "weekdays" and isinstance(first, int):
        return description
    if description.ranged and len(rest) == 1:
        if first in ("low", "likely", "high"):
            return replace(
                description,
                name=str(first),
                label=f"{description.label}, {first}",
                ranged=False,
                required=True,
            )
        if first in ("note", "source"):
            return describe(Scenario, first)
    raise KeyError(f"no field at {list(keys)!r}")


def _sown_on(day: str) -> FieldDescription:
    return FieldDescription(
        day,
        f"Trays sown on {WEEKDAY_NAMES[day]}",
        "trays",
        "In a week with season 1.",
        minimum=0,
        maximum=SOWN_AT_MOST,
        whole=True,
        default=0,
        kind="number",
    )


def _season_of(month: int) -> FieldDescription:
    return FieldDescription(
        str(month),
        f"Season in {MONTH_NAMES[month]}",
        "",
        "Demand; 1 is the sowing typed at the crops.",
        minimum=0,
        maximum=1000,
        default=1.0,
        kind="number",
    )


def _factor(factor_id: str) -> FieldDescription:
    return replace(describe(FactorOverride, "value"), name=factor_id, label=f"Factor {factor_id}", required=False)


def walk_fields(record: type[Record] = Scenario, path: tuple[str, ...] = ()) -> Iterator[FieldRow]:
    """Walk every field of the file, tables included, in file order."""
    for name in own_fields(record):
        description = describe(record, name)
        here = (*path, name)
        yield FieldRow(here, record, description)
        inner = nested_record(record, name)
        if inner is not None:
            yield from walk_fields(inner, (*here, EACH) if description.kind == "tables" else here)
        elif description.kind == "factors":
            yield from walk_fields(FactorOverride, (*here, EACH))


def walk_values(scenario: Record, keys: Keys = ()) -> Iterator[ValueRow]:
    """Walk every value of a scenario, defaults included, None left out.

    Sowing is walked weekday by weekday, season month by month, factors one by one.
    """
    for name in own_fields(type(scenario)):
        value = getattr(scenario, name)
        if value is None:
            continue
        here = (*keys, name)
        description = describe(type(scenario), name)
        if description.kind == "table":
            yield from walk_values(value, here)
        elif description.kind == "tables":
            for place, item in enumerate(value):
                yield from walk_values(item, (*here, place))
        elif description.kind == "sowing":
            yield from (ValueRow((*here, day), _sown_on(day), count) for day, count in value.items())
        elif description.kind == "season":
            yield from (ValueRow((*here, month), _season_of(month), x) for month, x in enumerate(value))
        elif description.kind == "factors":
            yield from (ValueRow((*here, key), _factor(key), factor.value) for key, factor in value.items())
        else:
            yield ValueRow(here, description, value)
