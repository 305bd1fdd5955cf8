"""A TOML text as a tree of its sections, so that whole tables can be moved with the comments above them.

A section is a `[table]` or `[[list item]]` heading with the lines under it and the comments above it.
Sections inside a section (`[[washes.steps]]` in `[[washes]]`) are its children. Joining the tree gives back
the text, unless it has a section above or apart from its own parent.
The text must be valid TOML with plain line feeds.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple


@dataclass(slots=True)
class Section:
    """One heading: the keys from its parent to it, the lines above, the heading, the lines under it."""

    keys: tuple[str, ...] = ()
    is_item: bool = False
    lead: str = ""
    heading: str = ""
    body: str = ""
    children: list[Section] = field(default_factory=list)

    def text(self) -> str:
        """Return the text of the section with everything in it."""
        return "".join([self.lead, self.heading, self.body, *(child.text() for child in self.children)])


class _Statement(NamedTuple):
    """A heading or a `key = value`, with the rest of its last line."""

    is_heading: bool
    start: int
    end: int


def split_sections(text: str) -> tuple[Section, str]:
    """Return the root section (the keys above the first heading) and the comments that end the file."""
    statements = list(_statements(text))
    headings = [statement for statement in statements if statement.is_heading]
    root = Section()
    if not headings:
        root.body = text
        return root, ""
    lasts = [max((s.end for s in statements if s.end <= h.start), default=0) for h in headings]
    leads = [_start_of_lead(text, last, heading.start) for last, heading in zip(lasts, headings, strict=True)]
    ends = [*leads[1:], len(text)]
    root.body = text[: leads[0]]
    for lead, heading, end in zip(leads, headings, ends, strict=True):
        section = Section(lead=text[lead : heading.start], heading=text[heading.start : heading.end])
        section.body = text[heading.end : end]
        keys, section.is_item = _heading_keys(section.heading)
        _attach(root, section, keys)
        last_section = section
    last_end = max(s.end for s in statements)
    cut = _start_of_lead(text, last_end, len(text))
    tail = text[cut:] if cut < len(text) and text[last_end:cut].strip() == "" and "#" in text[cut:] else ""
    if tail:
        last_section.body = last_section.body[: len(last_section.body) - len(tail)]
    return root, tail


def _heading_keys(heading: str) -> tuple[tuple[str, ...], bool]:
    """Read the key path of a heading."""
    here = tomllib.loads(heading)
    keys: list[str] = []
    while isinstance(here, dict) and here:
        ((key, here),) = here.items()
        keys.append(key)
    return tuple(keys), isinstance(here, list)


def _attach(root: Section, section: Section, keys: tuple[str, ...]) -> None:
    """Hang a section under the newest section that holds it."""
    parent, rest = root, keys
    while True:
        holder = next(
            (c for c in reversed(parent.children) if len(c.keys) < len(rest) and rest[: len(c.keys)] == c.keys),
            None,
        )
        if holder is None:
            break
        parent, rest = holder, rest[len(holder.keys) :]
    section.keys = rest
    for early in [c for c in parent.children if len(c.keys) > len(rest) and c.keys[: len(rest)] == rest]:
        parent.children.remove(early)  # a table that stands above its own parent moves under it
        early.keys = early.keys[len(rest) :]
        section.children.append(early)
    parent.children.append(section)


def _start_of_lead(text: str, last_end: int, heading_start: int) -> int:
    """Return where the comments begin that belong to the heading below, not to the keys above.

    Comments right under a key stay with it; those after the first empty line go with the heading.
    """
    position = last_end
    between = text[last_end:heading_start]
    for line in between.splitlines(keepends=True):
        if not line.strip():
            return position
        position += len(line)
    return last_end


# Finding the statements ---------------------------------------------------------------------------


def _statements(text: str) -> Iterator[_Statement]:
    position = 0
    while position < len(text):
        first = text[position]
        if first in " \t\n":
            position += 1
        elif first == "#":
            position = _line_end(text, position)
        elif first == "[":
            end = _line_end(text, position)
            yield _Statement(True, text.rfind("\n", 0, position) + 1, end)
            position = end
        else:
            end = _end_of_pair(text, position)
            yield _Statement(False, text.rfind("\n", 0, position) + 1, end)
            position = end


def _line_end(text: str, position: int) -> int:
    """Return where the line ends, its line feed included."""
    found = text.find("\n", position)
    return len(text) if found < 0 else found + 1


def _end_of_pair(text: str, position: int) -> int:
    """Return where a `key = value` ends, with the rest of its last line."""
    depth = 0
    while position < len(text):
        char = text[position]
        if char in "\"'":
            position = _end_of_string(text, position)
            continue
        if char == "#":
            position = _line_end(text, position) - 1 if "\n" in text[position:] else len(text)
            continue
        depth += (char in "[{") - (char in "]}")
        position += 1
        if char == "\n" and depth == 0:
            return position
    return len(text)


def _end_of_string(text: str, position: int) -> int:
    """Return the place after the closing quote of the string that begins here."""
    quote = text[position]
    long = text.startswith(quote * 3, position)
    close = quote * 3 if long else quote
    position += len(close)
    while not text.startswith(close, position):
        position += 2 if quote == '"' and text[position] == "\\" else 1
    position += len(close)
    extra = 0
    while long and extra < 2 and text.startswith(quote, position):
        position, extra = position + 1, extra + 1
    return position
