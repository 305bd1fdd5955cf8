"""The manual's page on the scenario file, written from the descriptions of the fields."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from mediacost.scenario.fields import UNIT_WORDS, FieldDescription
from mediacost.scenario.values import shown
from mediacost.scenario.walk import EACH, FieldRow, walk_fields

_OPENING = """\
# The scenario file

<!-- Written by `python packaging/tasks.py pages`; change the fields' descriptions, not this page. -->

A scenario is one TOML file in UTF-8, named `*.mediacost` or `*.toml`. It can be read and changed by hand, and comments
stay when the window saves it. The samples in `sample_scenarios/` show every table in use; `scenario.schema.json` beside
this page says the same to programs.

- Money is in the scenario's currency, without recoverable VAT.
- Where *range* is said, a number may also be written `{ low = 120, likely = 260, high = 420 }`, with a `note` and a
  `source` of its own. The comparison takes the likely value.
- Any table may have a `note` and a `source`.
- An unknown key is a fault, and the nearest known key is named.
- Left out is not zero: a field without a default has to be given, or the figure that needs it is missing.
"""

_TABLE_HEAD = ("| key | what | unit | accepts | left out |", "| --- | --- | --- | --- | --- |")


def file_page() -> str:
    """The page as Markdown."""
    parts = [_OPENING]
    for table, rows in groupby(_shown_rows(), key=lambda row: row.path[:-1]):
        parts += [f"\n## {_heading(table)}\n", *_TABLE_HEAD]
        parts += [_line(row.path[-1], row.description) for row in rows]
    return "\n".join(parts) + "\n"


def _shown_rows() -> Iterator[FieldRow]:
    """All fields but notes, sources and the tables themselves, table by table."""
    rows = [
        row
        for row in walk_fields()
        if row.path[-1] not in ("note", "source") and row.description.kind not in ("table", "tables", "factors")
    ]
    order = list(dict.fromkeys(row.path[:-1] for row in rows))
    return iter(sorted(rows, key=lambda row: order.index(row.path[:-1])))


def _heading(table: tuple[str, ...]) -> str:
    """The table as it is written in the file: `[room]`, `[[washes.steps]]`."""
    if not table:
        return "At the top"
    name = ".".join(part for part in table if part != EACH)
    return f"`[[{name}]]`" if table[-1] == EACH else f"`[{name}]`"


def _line(key: str, described: FieldDescription) -> str:
    unit = UNIT_WORDS[described.unit]
    ranged = ", or a range" if described.ranged else ""
    accepts = described.expected.partition(f" ({unit}")[0] if unit else described.expected
    cells = (f"`{key}`", f"{described.label}. {described.help}".strip(), unit, accepts + ranged, _left_out(described))
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _left_out(described: FieldDescription) -> str:
    if described.required:
        return "a fault"
    default = described.default
    if isinstance(default, tuple) and default:
        parts = list(dict.fromkeys(shown(each).strip('"') for each in default))
        return ", ".join(parts) if len(parts) > 1 else f"{parts[0]} each"
    return shown(default) if default not in (None, "", (), {}) else "-"
