"""Edits of plain nested data: each returns new data, shares what did not change, and never touches the old.

A key path is a sequence of table keys and list places (from 0), such as `("media", 1, "pack_price")`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

Data = Mapping[str, Any]
Keys = Sequence[str | int]


def get_value(data: Data, keys: Keys) -> Any:
    """Return the value at a key path (KeyError if there is none).

    >>> get_value({"media": [{"id": "steel"}]}, ("media", 0, "id"))
    'steel'
    """
    here: Any = data
    for key in keys:
        here = _inside(here, key, keys)
    return here


def set_value(data: Data, keys: Keys, value: Any) -> dict[str, Any]:
    """Return the data with the value at a key path; tables on the way are made where they are missing.

    A list place must exist already (KeyError): items are added with `insert_item`.
    """
    if not keys:
        raise KeyError("an empty key path")
    return _changed_data(data, tuple(keys), lambda _: value, keys)


def remove_value(data: Data, keys: Keys) -> dict[str, Any]:
    """Return the data without the key or list item at a key path (KeyError if there is none)."""
    get_value(data, keys)
    *parent, last = keys

    def without(holder: Any) -> Any:
        if isinstance(last, int):
            return [*holder[:last], *holder[last + 1 :]]
        return {key: value for key, value in holder.items() if key != last}

    return _changed_data(data, tuple(parent), without, keys)


def insert_item(data: Data, keys: Keys, place: int | None, item: Any) -> dict[str, Any]:
    """Return the data with an item put into the list at a key path; place None is the end.

    A list that is not there yet is made.
    """

    def grown(items: Any) -> list[Any]:
        old = [] if items is None else _as_list(items, keys)
        at = len(old) if place is None else place
        if not 0 <= at <= len(old):
            raise KeyError(f"no place {at} in {list(keys)!r}")
        return [*old[:at], item, *old[at:]]

    return _changed_data(data, tuple(keys), grown, keys)


def move_item(data: Data, keys: Keys, start: int, end: int) -> dict[str, Any]:
    """Return the data with a list item moved from one place to another."""

    def moved(items: Any) -> list[Any]:
        old = _as_list(items, keys)
        if not (0 <= start < len(old) and 0 <= end < len(old)):
            raise KeyError(f"no places {start} and {end} in {list(keys)!r}")
        rest = [*old[:start], *old[start + 1 :]]
        return [*rest[:end], old[start], *rest[end:]]

    return _changed_data(data, tuple(keys), moved, keys)


_REFERENCES: dict[str, tuple[tuple[str | None, ...], ...]] = {
    "media": (("baseline",), ("pairs", None, "medium"), ("trials", None, "trays", None, "medium")),
    "crops": (("pairs", None, "crop"), ("trials", None, "crop")),
    "washes": (("media", None, "wash"),),
}
"""Where the ids of a list are referred to; None stands for every item of a list."""


def rename_id(data: Data, list_name: str, place: int, new_id: str) -> dict[str, Any]:
    """Return the data with the id of a crop, medium or wash routine changed wherever it is used.

    >>> renamed = rename_id({"media": [{"id": "a"}], "baseline": "a"}, "media", 0, "b")
    >>> renamed["baseline"]
    'b'
    """
    old_id = get_value(data, (list_name, place, "id"))
    renamed = set_value(data, (list_name, place, "id"), new_id)
    for pattern in _REFERENCES[list_name]:
        renamed = _replaced(renamed, pattern, old_id, new_id)
    return renamed


def _replaced(here: Any, pattern: Sequence[str | None], old: Any, new: Any) -> Any:
    """Replace a value wherever the pattern leads to it; the same object if it stands nowhere."""
    if not pattern:
        return new if here == old else here
    first, rest = pattern[0], pattern[1:]
    if first is None:
        if not isinstance(here, (list, tuple)):
            return here
        items = [_replaced(item, rest, old, new) for item in here]
        return here if all(a is b for a, b in zip(items, here, strict=True)) else items
    if not isinstance(here, Mapping) or first not in here:
        return here
    inner = _replaced(here[first], rest, old, new)
    return here if inner is here[first] else {**here, first: inner}


def _changed_data(data: Data, keys: tuple[str | int, ...], change: Callable[[Any], Any], whole: Keys) -> dict[str, Any]:
    changed: dict[str, Any] = _changed(data, keys, change, whole)
    return changed


def _changed(here: Any, keys: tuple[str | int, ...], change: Callable[[Any], Any], whole: Keys) -> Any:
    """Return a copy of `here` with `change` applied at the keys; only the path down to it is copied."""
    if not keys:
        return change(here)
    key, rest = keys[0], keys[1:]
    if isinstance(key, int):
        old = _inside(here, key, whole)
        return [*here[:key], _changed(old, rest, change, whole), *here[key + 1 :]]
    if here is None:
        here = {}
    if not isinstance(here, Mapping):
        raise KeyError(f"no table at {list(whole)!r}")
    return {**here, key: _changed(here.get(key), rest, change, whole)}


def _inside(here: Any, key: str | int, whole: Keys) -> Any:
    if isinstance(key, int):
        if isinstance(here, (list, tuple)) and 0 <= key < len(here):
            return here[key]
    elif isinstance(here, Mapping) and key in here:
        return here[key]
    raise KeyError(f"nothing at {list(whole)!r}")


def _as_list(items: Any, keys: Keys) -> list[Any]:
    if not isinstance(items, (list, tuple)):
        raise KeyError(f"no list at {list(keys)!r}")
    return list(items)
