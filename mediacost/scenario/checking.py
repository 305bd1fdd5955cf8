"""Checks a whole scenario at once: every field, then what must fit together.

`check` returns all faults together, in the order of the file, each with its key path and in plain words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from mediacost.errors import Fault
from mediacost.scenario.checks import cross_check
from mediacost.scenario.fields import REFUSED, describe
from mediacost.scenario.oddities import cross_warnings
from mediacost.scenario.partial import partial_record
from mediacost.scenario.paths_in_words import path_in_words
from mediacost.scenario.records import FactorOverride, Record, Scenario
from mediacost.scenario.rules import Finding
from mediacost.scenario.upgrades import upgrade
from mediacost.scenario.values import Complaint, Refused, on_one_line, shown, unknown_key
from mediacost.scenario.walk import describe_path, nested_record, own_fields

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

Keys = tuple[str | int, ...]

DEEPEST = 12
"""A scenario is never nested deeper than this."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check found: the scenario if there are no faults, the faults, and the warnings."""

    scenario: Scenario | None
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...]


def check(data: Any, where: str = "") -> Checked:
    """Check plain nested data and return the scenario, or every fault in it.

    `where` names the input in the messages, usually the file. Data of an older format is upgraded first.
    """
    where = on_one_line(where)
    if not isinstance(data, Mapping):
        return Checked(None, (Fault(where, "", f"{shown(data)} is not a scenario", "a table"),), ())
    unusable = list(_unusable(data))
    if unusable:
        return Checked(None, _faults(unusable, data, where), ())
    try:
        data = upgrade(data)
    except Refused as refused:
        return Checked(None, _faults((_finding((), c) for c in refused.complaints), data, where), ())
    scenario, findings = _read(data)
    document = scenario if scenario is not None else partial_record(Scenario, data)
    findings += cross_check(document)
    warnings = _faults(cross_warnings(document), data, where)
    if findings:
        return Checked(None, _faults(findings, data, where), warnings)
    return Checked(scenario, (), warnings)


def _faults(findings: Iterable[Finding], data: Any, where: str) -> tuple[Fault, ...]:
    """Put findings into words, each once, in the order of the file."""
    unique = dict.fromkeys(findings)
    faults = [
        Fault(
            where,
            finding.path or path_in_words(finding.keys, data),
            finding.problem,
            finding.expected,
            keys=finding.keys,
        )
        for finding in sorted(unique, key=_file_order)
    ]
    return tuple(faults)


def _file_order(finding: Finding) -> tuple[int, int]:
    names = own_fields(Scenario)
    keys = finding.keys
    top = names.index(keys[0]) if keys and keys[0] in names else -1
    place = keys[1] if len(keys) > 1 and isinstance(keys[1], int) else -1
    return top, place


def _finding(keys: Keys, complaint: Complaint) -> Finding:
    return Finding((*keys, *complaint.keys), complaint.problem, complaint.expected)


# What no record can read --------------------------------------------------------------------------


def _unusable(value: Any, keys: Keys = ()) -> Iterator[Finding]:
    """Find what cannot be a scenario at all: too deep, empty values, keys that are not text."""
    if len(keys) > DEEPEST:
        yield Finding(keys[:3], "is nested too deeply", "tables and lists as in the description of the file")
    elif value is None:
        yield Finding(keys, "is empty", "a value, or no such key at all")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if isinstance(key, str):
                yield from _unusable(inner, (*keys, key))
            else:
                yield Finding(keys, f"has the key {shown(key)}", "keys that are text")
    elif isinstance(value, (list, tuple)):
        for place, inner in enumerate(value):
            yield from _unusable(inner, (*keys, place))


# pydantic's findings in a grower's words ----------------------------------------------------------


def _read(data: Mapping[str, Any]) -> tuple[Scenario | None, list[Finding]]:
    from pydantic import ValidationError

    try:
        return Scenario.model_validate(data), []
    except ValidationError as error:
        details = error.errors(include_url=False)
    return None, [finding for detail in details for finding in translate(detail)]


def translate(detail: ErrorDetails) -> Iterator[Finding]:
    """Say one of pydantic's error details in a grower's words."""
    keys: Keys = detail["loc"]
    kind = detail["type"]
    value = detail.get("input")
    if kind == REFUSED:
        yield from (_finding(keys, complaint) for complaint in detail["ctx"]["complaints"])
    elif kind == "missing":
        yield Finding(keys, "is missing", _expected(keys))
    elif kind == "extra_forbidden":
        yield _unknown(keys)
    elif kind in ("model_type", "model_attributes_type", "dict_type"):
        yield Finding(keys, f"{shown(value)} is not a table", "a table")
    elif kind in ("tuple_type", "list_type"):
        name = keys[-1]
        hint = f"a list of tables, each under [[{name}]]" if len(keys) == 1 else "a list of tables"
        yield Finding(keys, f"{shown(value)} is not a list of tables", hint)
    else:
        yield Finding(keys, f"{shown(value)} cannot be used here", _expected(keys))


def _expected(keys: Keys) -> str:
    try:
        return describe_path(keys).expected
    except KeyError:
        return "what the description of the file says"


def _unknown(keys: Keys) -> Finding:
    """Name the nearest known key, or the table to which this key belongs."""
    *table, name = keys
    record = _record_at(tuple(table))
    complaint = unknown_key(name, own_fields(record))
    home = _home_of(str(name))
    if home and str(name) not in own_fields(record):
        complaint = Complaint(complaint.keys, f"does not belong here but to {home}", "it there, or not at all")
    return _finding(tuple(table), complaint)


def _record_at(keys: Keys) -> type[Record]:
    record: type[Record] = Scenario
    for key in keys:
        if isinstance(key, str):
            record = nested_record(record, key) or FactorOverride
    return record


def _home_of(name: str) -> str:
    """Return the one table that has a field of this name, as it is typed; '' if none or several have it."""
    homes = []
    for table in own_fields(Scenario):
        record = nested_record(Scenario, table)
        if record is not None and name in own_fields(record) and name not in Record.model_fields:
            homes.append(f"[[{table}]]" if describe(Scenario, table).kind == "tables" else f"[{table}]")
    return homes[0] if len(homes) == 1 else ""
