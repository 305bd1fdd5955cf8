"""Undo and redo: in words, a visit to a field at a time, a drag at a time."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from tests.robots import Grower


def test_undo_and_redo_say_what_they_would_do(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert (grower.undo_words(), grower.redo_words()) == ("Undo: nothing", "Redo: nothing")
    grower.set("Pack price", "130")
    assert grower.undo_words() == "Undo: change pack price of Steel mesh"
    grower.undo()
    assert (grower.undo_words(), grower.redo_words()) == ("Undo: nothing", "Redo: change pack price of Steel mesh")


def test_a_visit_to_a_field_is_one_step(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    start = grower.read_answer()
    grower.set("Pack price", "130")
    one = grower.read_answer()
    grower.set("Life", "80")
    two = grower.read_answer()
    assert len({start, one, two}) == 3
    seen = []
    for step in (grower.undo, grower.undo, grower.redo, grower.redo):
        step()
        seen.append((grower.read_answer(), grower.read_field("Pack price"), grower.read_field("Life")))
    assert seen == [(one, "130", "150"), (start, "116", "150"), (one, "130", "150"), (two, "130", "80")]


def test_a_second_visit_is_a_second_step(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "130")
    grower.go_to("Life")
    grower.set("Pack price", "140")
    grower.undo()
    assert grower.read_field("Pack price") == "130"


def test_a_new_step_forgets_what_was_undone(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "130")
    grower.undo()
    grower.set("Life", "80")
    assert grower.redo_words() == "Redo: nothing"


def test_undo_mends_a_fault(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    answer = grower.read_answer()
    grower.set("Pack price", "a few")
    grower.undo()
    assert (grower.read_field("Pack price"), grower.read_fault("Pack price"), grower.read_stale()) == ("116", "", "")
    assert grower.read_answer() == answer
    grower.redo()
    assert grower.read_field("Pack price") == "a few"
    assert grower.read_fault("Pack price") != ""


def test_a_drag_is_one_step_and_the_answer_follows_it(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    start = grower.read_answer()
    said = grower.drag("Pack price", 30)
    assert len(set(said)) > 10
    assert float(grower.read_field("Pack price")) > 116
    assert grower.undo_words() == "Undo: change pack price of Steel mesh"
    grower.undo()
    assert (grower.read_field("Pack price"), grower.read_answer()) == ("116", start)
    assert grower.undo_words() == "Undo: nothing"


def test_two_drags_are_two_steps(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.drag("Pack price", 20)
    between = grower.read_field("Pack price")
    grower.drag("Pack price", 20)
    grower.undo()
    assert grower.read_field("Pack price") == between


def test_a_bar_stays_within_what_the_field_allows(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Lost per cycle", "0.015")
    grower.drag("Lost per cycle", 400)
    assert grower.read_fault("Lost per cycle") == ""


def test_the_clean_mark_follows_undo_and_redo(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "130")
    assert "(changed)" in grower.window.top_line.title
    assert "(changed)" in grower.window.windowTitle()
    grower.undo()
    assert "(changed)" not in grower.window.top_line.title
    assert grower.close()
    assert grower.asked == []


def test_ctrl_z_in_a_field_is_the_documents_undo(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "130")
    grower.go_to("Life")
    grower.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert grower.read_field("Pack price") == "116"
    grower.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert grower.read_field("Pack price") == "130"
