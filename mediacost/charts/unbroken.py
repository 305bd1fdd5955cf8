"""Numbers that no line break may tear apart."""

from __future__ import annotations

import re

_TORN = re.compile(r"(?<=\d) (?=\d{3}(?!\d)|%)")
NO_BREAK = "\u00a0"


def unbroken(text: str) -> str:
    """The text with the spaces inside numbers and before per cent made unbreakable.

    >>> unbroken("still 5 788 USD behind") == f"still 5{NO_BREAK}788 USD behind"
    True
    """
    return _TORN.sub(NO_BREAK, text)
