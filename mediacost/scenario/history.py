"""Undo and redo of whole documents.

Every step keeps the whole document as it was. As edits share what they do not change (see `edits`), a step
costs little more than the path that changed.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import Any

Data = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class _State:
    """A document, and the words and merge key of the step that led to it."""

    data: Data
    words: str = ""
    merge_key: Hashable | None = None


class History:
    """The states that a document went through, with a mark at the saved one.

    >>> history = History({"title": "a"})
    >>> history.push({"title": "b"}, "Change the title")
    >>> history.undo_words, history.undo()["title"], history.redo_words
    ('Change the title', 'a', 'Change the title')
    """

    def __init__(self, data: Data, limit: int = 500) -> None:
        if limit < 1:
            raise ValueError("a history keeps one step or more")
        self._states = [_State(data)]
        self._now = 0
        self._limit = limit
        self._clean: _State | None = self._states[0]
        self._open = False

    @property
    def data(self) -> Data:
        """The document as it is now."""
        return self._states[self._now].data

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to undo."""
        return self._now > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is an undone step to do again."""
        return self._now < len(self._states) - 1

    @property
    def undo_words(self) -> str:
        """What the next undo takes back; '' if there is none."""
        return self._states[self._now].words if self.can_undo else ""

    @property
    def redo_words(self) -> str:
        """What the next redo does again; '' if there is none."""
        return self._states[self._now + 1].words if self.can_redo else ""

    @property
    def is_clean(self) -> bool:
        """Whether the document is as it was saved."""
        return self._states[self._now] is self._clean

    def mark_clean(self) -> None:
        """Remember the document as saved; the next push begins a step of its own."""
        self._clean = self._states[self._now]
        self._open = False

    def mark_changed(self) -> None:
        """Remember that no state of the document is saved, as after a recovery."""
        self._clean = None

    def push(self, data: Data, words: str, merge_key: Hashable | None = None) -> None:
        """Add a step; consecutive pushes with the same merge key (not None) fold into one.

        Nothing folds across an undo, a redo or a save. The first words of a folded step stay.
        """
        current = self._states[self._now]
        del self._states[self._now + 1 :]
        if merge_key is not None and self._open and current.merge_key == merge_key:
            self._states[self._now] = _State(data, current.words, merge_key)
            return
        self._states.append(_State(data, words, merge_key))
        del self._states[: max(0, len(self._states) - 1 - self._limit)]
        self._now = len(self._states) - 1
        self._open = True

    def end_merging(self) -> None:
        """Let the next push begin a step of its own, as when a field loses the keyboard."""
        self._open = False

    def undo(self) -> Data:
        """Go back one step and return the document (IndexError if there is none)."""
        if not self.can_undo:
            raise IndexError("nothing to undo")
        return self._go_to(self._now - 1)

    def redo(self) -> Data:
        """Go forward one step and return the document (IndexError if there is none)."""
        if not self.can_redo:
            raise IndexError("nothing to redo")
        return self._go_to(self._now + 1)

    def _go_to(self, place: int) -> Data:
        self._now = place
        self._open = False
        return self.data
