"""The document in the window: one place that edits, and tells what changed and who did it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from mediacost.desktop.session import Change, Session
from mediacost.errors import InputFaults

PRICE = ("media", 1, "pack_price")


@pytest.fixture
def session(qapp: object, small_room: Path) -> Iterator[Session]:
    made = Session()
    made.open(small_room)
    yield made
    made.deleteLater()


@pytest.fixture
def told(session: Session) -> list[Change]:
    heard: list[Change] = []
    session.changed.connect(heard.append)
    return heard


def test_an_empty_session_has_no_answer(qapp: object) -> None:
    empty = Session()
    assert (empty.answered, empty.faults, empty.path, empty.is_clean) == (None, (), None, True)
    empty.undo()
    empty.redo()
    assert empty.value(("media", 0)) is None
    empty.deleteLater()


def test_an_edit_says_what_changed_and_who_did_it(session: Session, told: list[Change]) -> None:
    session.set_value(PRICE, 130, "Change the price", source="me", live=True)
    assert told == [Change(PRICE, "me", True)]
    assert session.answered is not None
    assert session.answered.scenario.media[1].pack_price == 130


def test_what_is_there_already_is_no_edit(session: Session, told: list[Change]) -> None:
    session.set_value(PRICE, 116, "Change the price")
    assert told == []
    assert session.undo_words == ""


def test_a_fault_keeps_the_last_good_answer_and_marks_it(session: Session) -> None:
    good = session.answered
    assert good is not None and good.current
    session.set_value(PRICE, -1, "Change the price")
    assert session.answered == good._replace(current=False)
    assert [fault.keys for fault in session.faults_at(PRICE)] == [PRICE]
    assert session.faults_at(("media", 0)) == ()
    session.undo()
    assert session.answered is not None and session.answered.current
    assert session.faults == ()


def test_a_file_that_cannot_be_opened_changes_nothing(session: Session, told: list[Change], tmp_path: Path) -> None:
    session.set_value(PRICE, 130, "Change the price")
    told.clear()
    with pytest.raises(InputFaults):
        session.open(tmp_path / "nowhere.toml")
    wrong = session.try_to_open(tmp_path / "nowhere.toml")
    assert wrong is not None and "no such file" in str(wrong)
    assert told == []
    assert session.value(PRICE) == 130
    assert session.undo_words == "Change the price"


def test_reading_again_is_a_step(session: Session, told: list[Change], small_room: Path) -> None:
    session.set_value(PRICE, 130, "Change the price")
    small_room.write_text(
        small_room.read_text(encoding="utf-8").replace("pack_price = 116", "pack_price = 99"), encoding="utf-8"
    )
    session.reopen()
    assert (session.value(PRICE), session.is_clean, told[-1]) == (99, True, Change(None))
    session.undo()
    assert (session.value(PRICE), session.is_clean) == (130, False)


def test_undo_of_a_value_leaves_the_pages_as_they_are(session: Session, told: list[Change]) -> None:
    session.set_value(PRICE, None, "Clear the price")
    session.undo()
    session.redo()
    assert [change.keys for change in told] == [PRICE, (), ()]


def test_undo_to_other_media_lets_the_pages_be_made_anew(
    session: Session, told: list[Change], small_room: Path, two_crop_room: Path
) -> None:
    small_room.write_bytes(two_crop_room.read_bytes())
    session.reopen()
    session.undo()
    assert [change.keys for change in told] == [None, None]


def test_two_sessions_do_not_share_a_document(session: Session, small_room: Path) -> None:
    other = Session()
    other.open(small_room)
    session.set_value(PRICE, 130, "Change the price")
    assert other.value(PRICE) == 116
    other.deleteLater()
