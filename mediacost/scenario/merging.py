"""Puts changed data into a TOML text so that comments, order and layout survive.

Whole tables are moved, added and removed as sections with the comments above them; inside a section tomlkit
changes the keys. Every result is read back; where that does not give the data, the section is written afresh
with its comments on top.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import Array, InlineTable

from mediacost.scenario.sections import Section, split_sections

Table = Mapping[str, Any]

_NAMED_BY = {"pairs": ("medium", "crop"), "trays": ("tray",), "steps": ("name",)}
"""By which keys list items are recognised; all others by their id."""

_LISTS_OF_SECTIONS = {(), ("washes",)}
"""Where a list of tables is written under headings, not inline: at the top, and the steps of a wash."""


def merged_text(text: str, data: Table) -> str:
    """Return the text changed so that it reads as the data.

    The text must be valid TOML. Raises ValueError if the data cannot be written as TOML.
    """
    line_feeds = text.replace("\r\n", "\n")
    if same(tomllib.loads(line_feeds), data):
        return text
    new = _merged(line_feeds, data)
    if not _reads_as(new, data):
        new = _afresh(line_feeds, data)
        if not _reads_as(new, data):
            raise ValueError("the data cannot be written as TOML")
    return new.replace("\n", "\r\n") if "\r\n" in text else new


def fresh_text(data: Table) -> str:
    """Return new TOML text for the data."""
    return merged_text("", data)


def same(one: Any, other: Any) -> bool:
    """Return whether two pieces of data are equal in value and kind: 1, 1.0 and true differ."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, (list, tuple)) and isinstance(other, (list, tuple)):
        return len(one) == len(other) and all(map(same, one, other))
    return type(one) is type(other) and repr(one) == repr(other)


def _reads_as(text: str, data: Table) -> bool:
    try:
        return same(tomllib.loads(text), data)
    except (tomllib.TOMLDecodeError, RecursionError):
        return False


def _afresh(text: str, data: Table) -> str:
    """Write everything anew, the old text's comment lines on top."""
    comments = [line.strip() for line in text.splitlines() if line.strip().startswith("#")]
    return "".join(f"{comment}\n" for comment in comments) + _merged("", data)


# Sections -----------------------------------------------------------------------------------------


def _merged(text: str, data: Table) -> str:
    root, tail = split_sections(text)
    old = tomllib.loads(text)
    _merge_section(root, old, data, ())
    joined = root.text()
    if tail and joined and not joined.endswith("\n"):
        joined += "\n"
    return joined.lstrip("\n") + tail if not text else joined + tail


def _merge_section(section: Section, old: Any, new: Table, where: tuple[str, ...]) -> None:
    """Make a section and its children read as the new table."""
    in_sections = {child.keys[0] for child in section.children}
    own_old = {key: value for key, value in old.items() if key not in in_sections}
    _merge_children(section, old, new, where)
    kept = {child.keys[0] for child in section.children}
    own_new = {}
    for key, value in new.items():
        if key in kept:
            continue
        if not own_old.get(key) and _goes_under_headings(where, value):
            _add_sections(section, key, value, where)
        else:
            own_new[key] = value
    section.body = _merged_body(section.body, own_new)


def _goes_under_headings(where: tuple[str, ...], value: Any) -> bool:
    if isinstance(value, Mapping):
        return where == ()
    return where in _LISTS_OF_SECTIONS and _is_list_of_tables(value)


def _is_list_of_tables(value: Any) -> bool:
    return isinstance(value, (list, tuple)) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _merge_children(section: Section, old: Table, new: Table, where: tuple[str, ...]) -> None:
    """Merge the sections inside a section; those whose data are gone go too."""
    lists: dict[tuple[str, ...], list[Section]] = {}
    kept: list[Section] = []
    for child in section.children:
        if child.is_item:
            lists.setdefault(child.keys, []).append(child)
            kept.append(child)
            continue
        old_inside, new_inside = _at(old, child.keys), _at(new, child.keys)
        if isinstance(new_inside, Mapping) and isinstance(old_inside, Mapping):
            _merge_section(child, old_inside, new_inside, (*where, *child.keys))
            kept.append(child)
    section.children = kept
    for keys, items in lists.items():
        _merge_items(section, keys, items, _at(old, keys), _at(new, keys), where)


def _at(data: Any, keys: Sequence[str]) -> Any:
    for key in keys:
        data = data.get(key) if isinstance(data, Mapping) else None
    return data


def _merge_items(
    section: Section, keys: tuple[str, ...], items: list[Section], old: Any, new: Any, where: tuple[str, ...]
) -> None:
    """Bring the sections of a list into the order of the new list, with new ones for new items."""
    inside = (*where, *keys)
    new_items = new if _is_list_of_tables(new) else []
    ordered: list[Section] = []
    for item, place in zip(new_items, matches(keys[-1], old, new_items), strict=True):
        if place is None:
            ordered.append(_new_section(keys, inside, item, is_item=True))
        else:
            _merge_section(items[place], old[place], item, inside)
            ordered.append(items[place])
    _keep_blank_lines(items, ordered)
    section.children = _into_slots(section.children, items, ordered)


def _keep_blank_lines(before: Sequence[Section], after: Sequence[Section]) -> None:
    """Where another item has become the first, part it from what stands above."""
    for section in after:
        if section.lead == "" and (not before or section is not before[0]):
            section.lead = "\n"


def _into_slots(children: Sequence[Section], items: Sequence[Section], ordered: Sequence[Section]) -> list[Section]:
    """Put the ordered sections where the items stood; what does not fit follows the last slot."""
    queue = list(ordered)
    result: list[Section] = []
    for child in children:
        if not any(child is item for item in items):
            result.append(child)
        elif child is items[-1]:
            result.extend(queue)
        elif queue:
            result.append(queue.pop(0))
    return result


def matches(list_name: str, old: Sequence[Any], new: Sequence[Any]) -> list[int | None]:
    """Return for each new item which old one it continues: by name, by equality, else by an equal place."""
    free = dict(enumerate(old))
    found: list[int | None] = [None] * len(new)

    def claim(place: int, candidates: Any) -> None:
        if found[place] is None:
            match = next(candidates, None)
            if match is not None:
                found[place] = match
                del free[match]

    names = [_name(list_name, item) for item in old]
    for place, item in enumerate(new):
        name = _name(list_name, item)
        if name is not None:
            claim(place, (i for i in free if names[i] == name))
    for place, item in enumerate(new):
        claim(place, (i for i in free if same(old[i], item)))
    for place in range(len(new)):
        claim(place, (i for i in free if i == place))
    return found


def _name(list_name: str, item: Any) -> tuple[Any, ...] | None:
    keys = _NAMED_BY.get(list_name, ("id",))
    if isinstance(item, Mapping) and all(isinstance(item.get(key), str) for key in keys):
        return tuple(item[key] for key in keys)
    return None


def _add_sections(section: Section, key: str, value: Any, where: tuple[str, ...]) -> None:
    """Append the section of a new table, or the sections of a new list."""
    inside = (*where, key)
    items = [(value, False)] if isinstance(value, Mapping) else [(item, True) for item in value]
    for item, is_item in items:
        section.children.append(_new_section((key,), inside, item, is_item=is_item))


def _new_section(keys: tuple[str, ...], inside: tuple[str, ...], data: Table, *, is_item: bool) -> Section:
    path = ".".join(tomlkit.key(key).as_string() for key in inside)
    heading = f"[[{path}]]\n" if is_item else f"[{path}]\n"
    section = Section(keys, is_item, "\n", heading)
    _merge_section(section, {}, data, inside)
    return section


# Keys in one section ------------------------------------------------------------------------------


def _merged_body(body: str, data: Table) -> str:
    """Return the lines of a section changed so that they read as the table."""
    if not data and not tomllib.loads(body):
        return body
    try:
        document = tomlkit.parse(body)
        _merge_table(document, data)
        merged = document.as_string()
    except (tomlkit.exceptions.TOMLKitError, ValueError, KeyError, IndexError, AttributeError):
        merged = ""
    if merged and not merged.endswith("\n"):
        merged += "\n"
    return merged if _reads_as(merged, data) else _body_afresh(body, data)


def _body_afresh(body: str, data: Table) -> str:
    """Write the keys anew, the comment lines of the old ones on top."""
    comments = [line.strip() for line in body.splitlines() if line.strip().startswith("#")]
    document = tomlkit.document()
    for comment in comments:
        document.add(tomlkit.comment(comment.removeprefix("#").strip()))
    for key, value in data.items():
        document.add(key, new_item(value, key))
    return document.as_string()


def _merge_table(table: Any, data: Table) -> None:
    """Change a tomlkit table in place: keys removed, changed, added."""
    inline = isinstance(table, InlineTable)
    for key in [key for key in table if key not in data]:
        del table[key]
    for key, value in data.items():
        if key not in table:
            table[key] = new_item(value, key, inline=inline)
            continue
        old = table[key]
        plain_old = old.unwrap() if hasattr(old, "unwrap") else old
        if same(plain_old, value):
            continue
        if isinstance(plain_old, Mapping) and isinstance(value, Mapping):
            _merge_table(old, value)
        elif isinstance(old, Array) and _is_list_of_tables(value) and _is_list_of_tables(plain_old):
            _merge_array(old, plain_old, value, key)
        else:
            table[key] = new_item(value, key, inline=inline)


def _merge_array(array: Array, old: Sequence[Any], new: Sequence[Any], name: str) -> None:
    """Change a list of inline tables in place; items that keep their order keep their lines."""
    found = matches(name, old, new)
    kept = [place for place in found if place is not None]
    if kept != sorted(kept):
        array.clear()
        for item in new_item(new, name):
            array.append(item)
        array.multiline(True)
        return
    for place in reversed(range(len(old))):
        if place not in kept:
            del array[place]
    for place, (item, match) in enumerate(zip(new, found, strict=True)):
        if match is None:
            array.insert(place, new_item(item, name, inline=True))
        elif not same(old[match], item):
            _merge_table(array[place], item)


def new_item(value: Any, name: str = "", *, inline: bool = False) -> Any:
    """Return the tomlkit item of a new value: tables inline, lists of tables a line each."""
    if isinstance(value, Mapping):
        table = tomlkit.inline_table()
        for key, inner in value.items():
            table[key] = new_item(inner, key, inline=True)
        return table
    if isinstance(value, (list, tuple)):
        array = tomlkit.array()
        for inner in value:
            array.append(new_item(inner, name, inline=True))
        return array.multiline(_is_list_of_tables(value) and not inline)
    if isinstance(value, str) and "\n" in value and not inline and not value.startswith("\n") and "\r" not in value:
        return tomlkit.string(value, multiline=True)
    return tomlkit.item(value)
