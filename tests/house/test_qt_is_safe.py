"""Some Qt bindings take a reference from None and True in every call and end a long session with a crash.

PySide6-Essentials 6.12.0 does so on Python 3.11: 1,000 emits lose about 1,000 references, and the process aborts
after some thousands (seen; its maker's number, second hand: PYSIDE-3474).
"""

from __future__ import annotations

import sys
from typing import Any

import pytest
from PySide6.QtCore import QObject, Signal

EMITS = 1_000
SLACK = 50
"""Counts move a little by themselves: other threads, caches."""


class Sender(QObject):
    """An object with a signal to send."""

    changed = Signal(object)


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None and True are immortal from Python 3.12: nothing to lose")
@pytest.mark.parametrize("constant", [None, True], ids=str)
def test_emits_lose_no_reference(constant: Any) -> None:
    sender = Sender()
    sender.changed.connect(lambda _value: None)
    before = sys.getrefcount(constant)
    for _ in range(EMITS):
        sender.changed.emit(constant)
    assert sys.getrefcount(constant) >= before - SLACK
