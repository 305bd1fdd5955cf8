"""Paragraphs and cautions as lines of text."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable

from mediacost.results.cautions import Caution

WIDEST = 96
"""Prose is not set wider than it reads well."""

_NO_BREAK = "\u00a0"


def wrapped(text: str, width: int, indent: str = "", hanging: str | None = None) -> list[str]:
    """A paragraph in lines of at most ``width``; ``hanging`` indents the lines after the first."""
    return folded(text, min(width, WIDEST), indent, indent if hanging is None else hanging)


def folded(text: str, width: int, first: str, later: str) -> list[str]:
    """Text in lines, each with its indent; the thousands of a number stay together, names in one piece."""
    together = re.sub(r"(?<=\d) (?=\d{3}\b|%)", _NO_BREAK, text)
    lines = textwrap.wrap(
        together, width, initial_indent=first, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
    )
    return [line.replace(_NO_BREAK, " ") for line in lines]


def caution_lines(cautions: Iterable[Caution], width: int) -> list[str]:
    """The cautions that an output brings up."""
    lines = []
    for caution in cautions:
        lines += ["", f"Caution: {caution.heading.lower()}"]
        for each in caution.lines:
            lines += wrapped(each, width, "- ", "  ")
    return lines


def sentence(reason: str) -> str:
    """A reason as a sentence of its own."""
    return f"{reason[0].upper()}{reason[1:]}."
