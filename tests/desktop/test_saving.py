"""Saving: comments stay, nothing is lost, and leaving asks first."""

from __future__ import annotations

from pathlib import Path

import pytest

from mediacost import paths
from mediacost.scenario import read_file
from tests.robots import Grower, wait_until

COMMENT = "# what lies in the trays today"


def test_a_saved_file_keeps_its_comments_and_holds_what_was_typed(grower: Grower, small_room: Path) -> None:
    before = small_room.read_text(encoding="utf-8")
    grower.start(small_room)
    grower.set("Pack price", "131,5")
    grower.save()
    after = small_room.read_text(encoding="utf-8")
    assert COMMENT in after
    changed = [(old, new) for old, new in zip(before.splitlines(), after.splitlines(), strict=True) if old != new]
    assert changed == [("pack_price = 116", "pack_price = 131.5")]
    assert grower.session.is_clean
    assert grower.read_notice() == ""
    assert grower.asked == []


def test_saving_does_not_look_like_somebody_else(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    for price in ("131", "132"):
        grower.set("Pack price", price)
        grower.save()
    wait_a_moment()
    assert grower.read_notice() == ""


def wait_a_moment() -> None:
    """Long enough for the watch on the file to speak."""
    import time

    end = time.monotonic() + 0.3
    wait_until(lambda: time.monotonic() > end, "a moment")


def test_undo_goes_back_beyond_a_save(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.save()
    grower.undo()
    assert grower.read_field("Pack price") == "116"
    assert not grower.session.is_clean


def test_save_as_leaves_the_first_file_and_goes_on_with_the_second(
    grower: Grower, small_room: Path, tmp_path: Path
) -> None:
    before = small_room.read_bytes()
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.save_as(tmp_path / "mine.mediacost")
    assert small_room.read_bytes() == before
    assert read_file(tmp_path / "mine.mediacost").scenario.media[1].pack_price == 131
    assert COMMENT in (tmp_path / "mine.mediacost").read_text(encoding="utf-8")
    assert grower.window.windowTitle().startswith("mine.mediacost")
    grower.set("Pack price", "132")
    grower.save()
    assert read_file(tmp_path / "mine.mediacost").scenario.media[1].pack_price == 132


def test_save_as_given_up_saves_nothing(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.will_save_under(None)
    grower.press("Save as...")
    assert not grower.session.is_clean
    assert grower.read_notice() == ""


def test_a_sample_is_not_written_over(grower: Grower, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    before = paths.main_sample().read_bytes()
    grower.start(paths.main_sample())
    grower.set("Pack price", "131")
    grower.will_save_under(tmp_path / "mine.mediacost")
    grower.save()
    assert grower.asked == ["save small_room.toml"]
    assert paths.main_sample().read_bytes() == before
    assert read_file(tmp_path / "mine.mediacost").scenario.media[1].pack_price == 131


def test_a_document_with_faults_can_be_saved_and_opened_again(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "a few")
    grower.save()
    assert grower.session.is_clean
    assert "faults to mend" in grower.read_notice()
    grower.open(small_room)
    assert grower.read_field("Pack price") == "a few"
    assert grower.read_fault("Pack price") != ""
    assert grower.read_answer() == ""
    assert grower.read_stale().startswith("There is no answer yet: ")
    grower.set("Pack price", "116")
    assert grower.read_answer().startswith("Steel mesh comes out best")


# Leaving


@pytest.mark.parametrize(
    ("choice", "goes", "saved"), [("save", True, True), ("drop", True, False), ("stay", False, False)]
)
def test_closing_with_changes_asks(grower: Grower, small_room: Path, choice: str, goes: bool, saved: bool) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.will_leave(choice)
    assert grower.close() is goes
    assert grower.asked == ["unsaved small_room.toml"]
    assert (read_file(small_room).scenario.media[1].pack_price == 131) is saved
    assert grower.window.isVisible() is not goes


def test_closing_goes_on_where_saving_fails(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    small_room.chmod(0o444)
    grower.will_leave("save")
    assert not grower.close()
    assert "write-protected" in grower.read_notice()
    assert grower.read_field("Pack price") == "131"


@pytest.mark.parametrize(("choice", "opens"), [("save", True), ("drop", True), ("stay", False)])
def test_opening_another_with_changes_asks(
    grower: Grower, small_room: Path, two_crop_room: Path, choice: str, opens: bool
) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.will_leave(choice)
    grower.open(two_crop_room)
    assert grower.window.windowTitle().startswith("two_crop_room.toml" if opens else "small_room.toml")
    assert (read_file(small_room).scenario.media[1].pack_price == 131) is (choice == "save")


def test_the_next_window_has_the_size_and_the_folder_of_the_last(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1111, 666))
    assert grower.close()
    grower.go_home()
    kept = grower.settings
    assert (kept.size.width(), kept.size.height()) == (1111, 666)
    assert kept.folder == small_room.parent


def test_a_size_from_a_spoilt_settings_file_is_not_taken(grower: Grower, small_room: Path, tmp_path: Path) -> None:
    (tmp_path / "window.ini").write_text("[window]\nsize=@Size(3 2)\n[files]\nfolder=\n", encoding="utf-8")
    grower.start(small_room)
    assert grower.settings.size.width() >= 320
