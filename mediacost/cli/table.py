"""Lays a comparison out as a plain table: a column for each medium, sections of rows, names wrapped."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

_GAP = "  "


@dataclass(frozen=True, slots=True)
class Row:
    """A label and one cell for each column; without cells it is a heading."""

    label: str
    cells: tuple[str, ...] = ()


def lay_out(columns: Sequence[str], rows: Sequence[Row], width: int) -> list[str]:
    """The lines of a table no wider than ``width`` where that can be: columns go on below where they do not fit."""
    label_width = max((len(row.label) for row in rows if row.cells), default=0)
    cell_width = max(11, *(len(cell) for row in rows for cell in row.cells))
    fitting = max(1, (width - label_width) // (cell_width + len(_GAP)))
    lines: list[str] = []
    for start in range(0, len(columns), fitting):
        chosen = slice(start, start + fitting)
        if lines:
            lines += ["", "The same for the next media"]
        part = [Row(row.label, row.cells[chosen]) for row in rows]
        lines += _block(columns[chosen], part, label_width, cell_width, width)
    return lines


def _block(columns: Sequence[str], rows: Sequence[Row], label_width: int, cell_width: int, width: int) -> list[str]:
    lines = [_line("", cells, label_width, cell_width) for cells in _headings(columns, cell_width)]
    for row in rows:
        if row.cells:
            lines.append(_line(row.label, row.cells, label_width, cell_width))
        else:
            lines += ["", *textwrap.wrap(row.label, width)]
    return lines


def _headings(columns: Sequence[str], cell_width: int) -> list[tuple[str, ...]]:
    wrapped = [textwrap.wrap(name, cell_width) or [""] for name in columns]
    height = max(len(lines) for lines in wrapped)
    padded = [[""] * (height - len(lines)) + lines for lines in wrapped]
    return list(zip(*padded, strict=True))


def _line(label: str, cells: Sequence[str], label_width: int, cell_width: int) -> str:
    return (label.ljust(label_width) + "".join(_GAP + cell.rjust(cell_width) for cell in cells)).rstrip()
