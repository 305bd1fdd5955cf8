"""The open document and its answer. Every edit goes through here; whoever shows something listens and pulls."""

from __future__ import annotations

import os
from collections.abc import Callable, Hashable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from PySide6.QtCore import QFileSystemWatcher, QObject, Signal

from mediacost.errors import Fault, InputFaults
from mediacost.results import Comparison, compare
from mediacost.scenario import History, Scenario, check, get_value, remove_value, set_value
from mediacost.scenario.reading import Draft, fingerprint_of, read_draft
from mediacost.scenario.store import write_draft

Keys = tuple[str | int, ...]


class Change(NamedTuple):
    """What changed: the key path, () for any, None for other media; the field that did it; whether it goes on.

    ``live`` is set while a value is being dragged: more changes follow at once.
    """

    keys: Keys | None
    source: object | None = None
    live: bool = False


class Answered(NamedTuple):
    """The last good answer, the document it belongs to, and whether it is the answer to what is typed now."""

    scenario: Scenario
    comparison: Comparison
    current: bool


class Session(QObject):
    """One document being worked on."""

    changed = Signal(object)
    """Emitted with a :class:`Change` after every edit, undo, redo, opening and saving."""

    changed_on_disk = Signal()
    """Emitted when another program has changed the open file."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._history = History({})
        self._base: Draft | None = None
        self._watcher = QFileSystemWatcher(self)
        self._watcher.fileChanged.connect(self._look_at_disk)
        self.faults: tuple[Fault, ...] = ()
        self.answered: Answered | None = None

    # Reading -------------------------------------------------------------------------------------------------

    @property
    def data(self) -> Mapping[str, Any]:
        """The document as typed."""
        return self._history.data

    @property
    def path(self) -> Path | None:
        """The file, if the document has one."""
        return self._base.path if self._base is not None else None

    @property
    def is_clean(self) -> bool:
        """Whether the document is as it was opened or saved."""
        return self._history.is_clean

    @property
    def undo_words(self) -> str:
        """What the next undo takes back; '' if nothing."""
        return self._history.undo_words

    @property
    def redo_words(self) -> str:
        """What the next redo does again; '' if nothing."""
        return self._history.redo_words

    def value(self, keys: Keys) -> Any:
        """What is typed at a key path; None where nothing is."""
        try:
            return get_value(self.data, keys)
        except KeyError:
            return None

    def faults_at(self, keys: Keys) -> tuple[Fault, ...]:
        """Faults of the value at a key path, those inside it included."""
        return tuple(fault for fault in self.faults if fault.keys[: len(keys)] == keys)

    # Files ---------------------------------------------------------------------------------------------------

    def open(self, path: str | os.PathLike[str]) -> None:
        """Open a file; raises InputFaults where there is nothing that could be shown. The old one stays then."""
        draft = read_draft(path)
        self._history = History(draft.data)
        self.answered = None
        self._take_as_base(draft)
        self._work_out()
        self.changed.emit(Change(None))

    def try_to_open(self, path: str | os.PathLike[str]) -> InputFaults | None:
        """Open a file, or return what is wrong with it."""
        try:
            self.open(path)
        except InputFaults as wrong:
            return wrong
        return None

    def reopen(self) -> None:
        """Read the file again, as a step that undo takes back; raises InputFaults where it cannot be shown."""
        assert self.path is not None
        draft = read_draft(self.path)
        self._history.push(draft.data, "Read the file again")
        self._history.mark_clean()
        self._take_as_base(draft)
        self._work_out()
        self.changed.emit(Change(None))

    def save(self) -> None:
        """Save to the file it came from; raises ChangedOnDisk or CannotSave with the file as it was."""
        assert self.path is not None
        self._write(self.path, overwrite=False)

    def save_as(self, path: str | os.PathLike[str]) -> None:
        """Save under a name that the person chose, agreeing to what is replaced."""
        self._write(Path(path), overwrite=True)

    def _write(self, path: Path, overwrite: bool) -> None:
        draft = write_draft(path, self.data, self._base, overwrite)
        self._history.mark_clean()
        self._take_as_base(draft)
        self.changed.emit(Change(()))

    def _take_as_base(self, draft: Draft) -> None:
        self._base = draft
        if self._watcher.files():
            self._watcher.removePaths(self._watcher.files())
        if draft.path is not None:
            self._watcher.addPath(str(draft.path))

    def _look_at_disk(self, path: str) -> None:
        """A replaced file drops out of the watch: put it back, and say so only if its content is not ours."""
        if self._base is None or self._base.path is None or Path(path) != self._base.path:
            return
        try:
            content = self._base.path.read_bytes()
        except OSError:
            self.changed_on_disk.emit()
            return
        self._watcher.addPath(path)
        if fingerprint_of(content) != self._base.fingerprint:
            self.changed_on_disk.emit()

    # Editing -------------------------------------------------------------------------------------------------

    def set_value(
        self,
        keys: Keys,
        value: Any,
        words: str,
        merge_key: Hashable | None = None,
        source: object | None = None,
        live: bool = False,
    ) -> None:
        """Put a value at a key path, or take it away where it is None. ``words`` name the step for undo."""
        if self.value(keys) == value and type(self.value(keys)) is type(value):
            return
        data = set_value(self.data, keys, value) if value is not None else remove_value(self.data, keys)
        self._history.push(data, words, merge_key)
        self._work_out()
        self.changed.emit(Change(keys, source, live))

    def undo(self) -> None:
        """Take the last step back."""
        if self._history.can_undo:
            self._step(self._history.undo)

    def redo(self) -> None:
        """Do the last undone step again."""
        if self._history.can_redo:
            self._step(self._history.redo)

    def _step(self, move: Callable[[], object]) -> None:
        before = _shape_of(self.data)
        move()
        self._work_out()
        self.changed.emit(Change(() if _shape_of(self.data) == before else None))

    def _work_out(self) -> None:
        """Check the document and work out its answer; where it has faults the last good answer stays."""
        checked = check(self.data)
        self.faults = checked.faults
        if checked.scenario is not None:
            try:
                comparison = compare(checked.scenario)
            except InputFaults as wrong:
                self.faults = wrong.faults
            else:
                self.answered = Answered(checked.scenario, comparison, current=True)
                return
        if self.answered is not None:
            self.answered = self.answered._replace(current=False)


_NAMES = {"id", "name", "use", "wash", "medium", "crop"}


def _shape_of(data: Any) -> Any:
    """The tables of a document and what they are called: where these differ, pages must be built anew."""
    if isinstance(data, Mapping):
        return {
            key: value if key in _NAMES else _shape_of(value)
            for key, value in data.items()
            if key in _NAMES or (isinstance(value, list) and any(isinstance(each, Mapping) for each in value))
        }
    return [_shape_of(each) for each in data] if isinstance(data, list) else None
