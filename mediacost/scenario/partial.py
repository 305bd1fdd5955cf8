"""What can be read of a document that has faults, so that the other checks still run on the rest.

A `Partial` looks like a record. Asking it for a field that is missing or wrong raises `Unreadable`, which
ends the check that asked, and only that one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mediacost.scenario.fields import describe, described
from mediacost.scenario.records import Record
from mediacost.scenario.values import Refused
from mediacost.scenario.walk import nested_record


class Unreadable(Exception):
    """A check needs a field whose own fault is reported already."""


class Partial:
    """The readable fields of a record that has faults."""

    def __init__(self, record: type[Record], fields: Mapping[str, Any], typed: frozenset[str] | None) -> None:
        self._record = record
        self._fields = fields
        self._typed = typed

    @property
    def model_fields_set(self) -> frozenset[str]:
        """The fields that are typed, readable or not."""
        if self._typed is None:
            raise Unreadable("not a table")
        return self._typed

    def __getattr__(self, name: str) -> Any:
        if name in self._fields:
            return self._fields[name]
        if name in self._record.model_fields:
            raise Unreadable(name)
        shared = getattr(self._record, name)
        return shared.fget(self)  # the records have properties beside their fields, and checks call nothing else


def partial_record(record: type[Record], typed: Any) -> Any:
    """Read what can be read of one table; it can be used where the record itself would be."""
    if not isinstance(typed, Mapping):
        return Partial(record, {}, None)
    fields = {}
    for name in record.model_fields:
        try:
            fields[name] = _partial_field(record, name, typed)
        except (Refused, Unreadable):
            continue
    return Partial(record, fields, frozenset(typed) & frozenset(record.model_fields))


def _partial_field(record: type[Record], name: str, typed: Mapping[str, Any]) -> Any:
    description = describe(record, name)
    if name not in typed:
        if description.required:
            raise Unreadable(name)
        return description.default
    value = typed[name]
    inner = nested_record(record, name)
    if inner is None:
        return described(record, name).accept(value)
    if description.kind == "table":
        return partial_record(inner, value)
    if not isinstance(value, (list, tuple)):
        raise Unreadable(name)
    return tuple(partial_record(inner, item) for item in value)
