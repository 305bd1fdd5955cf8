"""Opening, saving and leaving a document: what is asked, what is said when it fails, and nothing lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from mediacost import paths
from mediacost.desktop import files
from mediacost.desktop.notice import Notice
from mediacost.desktop.preferences import Preferences
from mediacost.desktop.session import Session
from mediacost.errors import ChangedOnDisk, InputFaults, MediacostError

_MOST_FAULTS = 6


class FileDesk:
    """Works for one window: questions are asked above ``parent``, troubles are said in ``notice``."""

    def __init__(self, session: Session, notice: Notice, preferences: Preferences, parent: QWidget) -> None:
        self._session, self._notice, self._preferences, self._parent = session, notice, preferences, parent
        session.changed_on_disk.connect(self._changed_on_disk)

    def open(self, path: Path) -> bool:
        """Open a file; where that fails it is said above the page, and the old document stays."""
        trouble = self._session.try_to_open(path)
        if trouble is not None:
            self._notice.say(
                f"This file cannot be opened:\n{_listed(trouble)}\nWhat was open before is still here.",
                {"Open another": self.ask_open},
            )
            return False
        self._remember_folder()
        self._tell_faults()
        return True

    def tell_opened(self, trouble: InputFaults | None) -> None:
        """Say what came of opening the file that a new window was asked for; None if it is open."""
        if trouble is None:
            self._remember_folder()
            self._tell_faults()
            return
        self._notice.say(
            f"This file cannot be opened:\n{_listed(trouble)}\nHere is the sample instead.",
            {"Open another": self.ask_open},
        )

    def ask_open(self) -> None:
        """Ask which file to open."""
        if not self.may_leave():
            return
        path = files.ask_open(self._parent, self._preferences.folder)
        if path is not None:
            self.open(path)

    def save(self) -> bool:
        """Save to the document's own file; True if it was saved. A sample is saved under a name of one's own."""
        if self._session.path is None or _is_sample(self._session.path):
            return self.ask_save_as()
        return self._try_to_save(self._session.save)

    def ask_save_as(self) -> bool:
        """Ask for a name and save under it; True if it was saved."""
        own = self._session.path
        suggestion = self._preferences.folder / (own.name if own is not None else "scenario.mediacost")
        if own is not None and not _is_sample(own):
            suggestion = own
        elif _is_sample(suggestion):
            suggestion = Path.home() / suggestion.name
        path = files.ask_save(self._parent, suggestion)
        return path is not None and self._try_to_save(lambda: self._session.save_as(path))

    def may_leave(self) -> bool:
        """Whether the document may be left: it is saved, or the person says what to do."""
        if self._session.is_clean:
            return True
        name = self._session.path.name if self._session.path else "This scenario"
        choice = files.ask_unsaved(self._parent, name)
        return choice == "drop" or (choice == "save" and self.save())

    def _try_to_save(self, save: Callable[[], None]) -> bool:
        try:
            save()
        except ChangedOnDisk as changed:
            self._notice.say(
                f"Not saved. {changed}",
                {"Save under another name": self.ask_save_as, "Read it again": self._read_again},
            )
            return False
        except MediacostError as problem:
            self._notice.say(f"Not saved. {problem}", {"Save under another name": self.ask_save_as})
            return False
        self._remember_folder()
        self._tell_faults()
        return True

    def _remember_folder(self) -> None:
        """Where the next question about a file begins; samples are nobody's folder."""
        if self._session.path is not None and not _is_sample(self._session.path):
            self._preferences.folder = self._session.path.resolve().parent

    def _tell_faults(self) -> None:
        """Say which faults a document has; nothing where it has none."""
        self._notice.clear()
        if self._session.faults:
            self._notice.say(
                f"The file has faults to mend before there is an answer:\n{_listed(InputFaults(self._session.faults))}"
            )

    def _changed_on_disk(self) -> None:
        self._notice.say(
            "Another program has changed or removed this file since it was read. What you see is what was read, with "
            "your changes.",
            {"Read it again": self._read_again, "Save under another name": self.ask_save_as},
        )

    def _read_again(self) -> None:
        """Read the file as it is now; undo brings back what was typed."""
        dropped = not self._session.is_clean
        try:
            self._session.reopen()
        except InputFaults as wrong:
            self._notice.say(
                f"The file cannot be read again:\n{_listed(wrong)}\nWhat you see is what was read before.",
                {"Save under another name": self.ask_save_as},
            )
            return
        self._tell_faults()
        if dropped and not self._session.faults:
            self._notice.say("Read again. Undo brings back what you had typed.")


def _listed(wrong: InputFaults) -> str:
    more = len(wrong.faults) - _MOST_FAULTS
    said = "\n".join(str(fault) for fault in wrong.faults[:_MOST_FAULTS])
    return f"{said}\nand {more} more" if more > 0 else said


def _is_sample(path: Path) -> bool:
    """Whether a file is one of the samples, which are not to be written over."""
    return path.resolve().parent == paths.samples_folder().resolve()
