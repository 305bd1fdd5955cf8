"""Key paths as they are written in messages: `media[steel].pack_price`, `pairs[steel, radish].mean_g`."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from mediacost.scenario.values import safe

_NAMED_BY = {
    "crops": ("id",),
    "media": ("id",),
    "washes": ("id",),
    "trials": ("id",),
    "pairs": ("medium", "crop"),
    "trays": ("tray",),
}
"""By which keys the items of a list are named; items of other lists are counted."""


def path_in_words(keys: Sequence[str | int], data: Any) -> str:
    """Write a key path in words, items by their id where they have one of their own, else counted from 1.

    >>> path_in_words(("media", 0, "pack_price"), {"media": [{"id": "steel"}]})
    'media[steel].pack_price'
    """
    words = ""
    here = data
    last = ""
    for key in keys:
        if isinstance(key, int):
            words += f"[{_item_in_words(last, here, key)}]"
        else:
            words += ("." if words else "") + _key_in_words(key)
            last = key
        here = _inside(here, key)
    return words


def _inside(here: Any, key: str | int) -> Any:
    if isinstance(here, Mapping):
        return here.get(key)
    if isinstance(key, int) and isinstance(here, (list, tuple)) and 0 <= key < len(here):
        return here[key]
    return None


def _key_in_words(key: str) -> str:
    return safe(key) if re.fullmatch(r"[A-Za-z0-9_-]+", key) else f'"{safe(key)}"'


def _item_in_words(list_name: str, items: Any, place: int) -> str:
    names = _names(list_name, _inside(items, place))
    if names is None or not isinstance(items, (list, tuple)):
        return str(place + 1)
    if sum(_names(list_name, item) == names for item in items) > 1:
        return str(place + 1)
    return ", ".join(name_in_words(name) for name in names)


def _names(list_name: str, item: Any) -> tuple[str, ...] | None:
    keys = _NAMED_BY.get(list_name)
    if keys is None or not isinstance(item, Mapping):
        return None
    names = [item.get(key) for key in keys]
    if not all(isinstance(name, str) and name.strip() for name in names):
        return None
    return tuple(str(name) for name in names)


def name_in_words(name: str) -> str:
    """Write an id; in quotes where it could be taken for a place or for something else."""
    return name if re.fullmatch(r"(?!\d+$)[\w][\w .-]{0,59}", name) and name.isprintable() else f'"{safe(name)}"'
