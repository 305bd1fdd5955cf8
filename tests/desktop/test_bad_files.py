"""Files that are broken, missing, changed behind our back, read-only or too new: said in words, nothing lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.robots import Grower, wait_until

Spoil = Callable[[Path], Path]


def broken(folder: Path) -> Path:
    path = folder / "broken.toml"
    path.write_text('format = 1\ntitle = "no end\n', encoding="utf-8")
    return path


def missing(folder: Path) -> Path:
    return folder / "nowhere.toml"


def binary(folder: Path) -> Path:
    path = folder / "picture.toml"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    return path


def newer(folder: Path) -> Path:
    path = folder / "newer.toml"
    path.write_text('format = 999\ntitle = "from the future"\n', encoding="utf-8")
    return path


def a_folder(folder: Path) -> Path:
    path = folder / "a_folder.toml"
    path.mkdir()
    return path


def not_utf8(folder: Path) -> Path:
    path = folder / "latin.toml"
    path.write_bytes("title = 'Bl\xe4tter'\n".encode("latin-1"))
    return path


CANNOT_BE_OPENED = pytest.mark.parametrize(
    ("make", "said"),
    [
        (broken, "line 2"),
        (missing, "there is no such file"),
        (binary, "is not a text file"),
        (newer, "newer"),
        (a_folder, "is a folder"),
        (not_utf8, "not UTF-8"),
    ],
)


@CANNOT_BE_OPENED
def test_what_cannot_be_opened_is_said_and_the_open_document_stays(
    grower: Grower, small_room: Path, tmp_path: Path, make: Spoil, said: str
) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.will_leave("drop")
    answer = grower.read_answer()
    path = make(tmp_path)
    grower.open(path)
    assert grower.read_notice().startswith("This file cannot be opened:\n")
    assert said in grower.read_notice()
    assert path.name in grower.read_notice()
    assert grower.read_notice().endswith("What was open before is still here.")
    assert (grower.read_answer(), grower.read_field("Pack price")) == (answer, "131")
    grower.undo()
    assert grower.read_field("Pack price") == "116"


@CANNOT_BE_OPENED
def test_a_start_on_what_cannot_be_opened_shows_the_sample(
    grower: Grower, tmp_path: Path, make: Spoil, said: str
) -> None:
    grower.start(make(tmp_path))
    assert said in grower.read_notice()
    assert grower.read_notice().endswith("Here is the sample instead.")
    assert grower.read_answer().startswith("Steel mesh comes out best")


def test_the_message_offers_another_file(grower: Grower, small_room: Path, tmp_path: Path) -> None:
    grower.start(missing(tmp_path))
    grower.will_open(small_room)
    grower.take_way_out("Open another")
    assert grower.read_notice() == ""
    assert grower.window.windowTitle().startswith("small_room.toml")


def test_a_message_can_be_closed(grower: Grower, tmp_path: Path) -> None:
    grower.start(missing(tmp_path))
    grower.take_way_out("Close this message")
    assert grower.read_notice() == ""


def test_a_file_with_faults_opens_with_them_and_can_be_mended(grower: Grower, small_room: Path) -> None:
    text = small_room.read_text(encoding="utf-8")
    spoilt = text.replace("pack_price = 116", "pack_price = -1").replace('wash = "tubs"', 'wash = "tub"', 1)
    small_room.write_text(spoilt, encoding="utf-8")
    grower.start(small_room)
    assert "The file has faults to mend before there is an answer:" in grower.read_notice()
    assert "media[steel].pack_price" in grower.read_notice()
    assert "media[steel].wash" in grower.read_notice()
    assert grower.read_answer() == ""
    assert grower.read_fault("Pack price") != ""
    grower.set("Pack price", "116")
    assert grower.read_fault("Pack price") == ""
    assert grower.read_stale().startswith("There is no answer yet: Wash routine of Steel mesh")


def test_a_file_with_many_faults_names_some_and_counts_the_rest(grower: Grower, small_room: Path) -> None:
    text = small_room.read_text(encoding="utf-8").replace("minutes_per_sheet = ", "minutes_per_sheet = -")
    text = text.replace("prep_minutes_per_tray = {", "prep_minutes_per_tray = { other = 1,").replace("-{", "{ bad = 1,")
    small_room.write_text(text, encoding="utf-8")
    grower.start(small_room)
    assert grower.read_notice().count("\n") >= 6
    assert len(grower.read_notice().splitlines()) <= 8


def test_a_file_with_nothing_in_it_has_faults_and_no_answer(grower: Grower, tmp_path: Path) -> None:
    (tmp_path / "bare.toml").write_text("format = 1\n", encoding="utf-8")
    grower.start(tmp_path / "bare.toml")
    assert grower.read_notice() != ""
    assert grower.read_answer() == ""
    assert grower.read_stale().startswith("There is no answer yet:")
    for words in ("Over the cycles", "All figures", "What a kilogram costs"):
        for button in grower.window.charts.words:
            if button.text() == words:
                button.click()
    assert grower.window.charts.canvas is None


def test_a_read_only_file_opens_and_says_so_only_when_saved(grower: Grower, small_room: Path, tmp_path: Path) -> None:
    small_room.chmod(0o444)
    before = small_room.read_bytes()
    grower.start(small_room)
    assert grower.read_notice() == ""
    grower.set("Pack price", "131")
    grower.save()
    assert grower.read_notice().startswith("Not saved. ")
    assert "write-protected" in grower.read_notice()
    assert small_room.read_bytes() == before
    grower.will_save_under(tmp_path / "mine.toml")
    grower.take_way_out("Save under another name")
    assert grower.read_notice() == ""
    assert grower.window.windowTitle().startswith("mine.toml")


def test_a_folder_that_is_gone_is_said_when_saving(grower: Grower, small_room: Path, tmp_path: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    grower.save_as(tmp_path / "no_such_folder" / "mine.toml")
    assert "the folder does not exist" in grower.read_notice()
    assert not grower.session.is_clean


# Changed behind our back


def change_behind(path: Path, price: str = "555") -> None:
    path.write_text(
        path.read_text(encoding="utf-8").replace("pack_price = 116", f"pack_price = {price}"), encoding="utf-8"
    )


def test_a_change_behind_our_back_is_said_at_once_and_nothing_is_lost(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Life", "80")
    change_behind(small_room)
    wait_until(grower.read_notice, "the change is noticed")
    assert "Another program has changed or removed this file" in grower.read_notice()
    assert grower.read_field("Pack price") == "116"
    grower.save()
    assert grower.read_notice().startswith("Not saved. ")
    assert "changed by another program" in grower.read_notice()
    assert "pack_price = 555" in small_room.read_text(encoding="utf-8")


def test_read_again_takes_the_file_and_undo_brings_back_what_was_typed(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Life", "80")
    change_behind(small_room)
    wait_until(grower.read_notice, "the change is noticed")
    grower.take_way_out("Read it again")
    assert (grower.read_field("Pack price"), grower.read_field("Life")) == ("555", "150")
    assert grower.session.is_clean
    assert grower.read_notice() == "Read again. Undo brings back what you had typed."
    assert grower.undo_words() == "Undo: read the file again"
    grower.undo()
    assert (grower.read_field("Pack price"), grower.read_field("Life")) == ("116", "80")
    grower.save()
    assert "pack_price = 116" in small_room.read_text(encoding="utf-8")


def test_read_again_of_a_file_that_broke_keeps_what_is_shown(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    small_room.write_text("[[", encoding="utf-8")
    wait_until(grower.read_notice, "the change is noticed")
    grower.take_way_out("Read it again")
    assert grower.read_notice().startswith("The file cannot be read again:")
    assert grower.read_answer().startswith("Steel mesh comes out best")


def test_a_removed_file_is_said_and_saving_brings_it_back(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "131")
    small_room.unlink()
    wait_until(grower.read_notice, "the loss is noticed")
    assert "removed" in grower.read_notice()
    grower.save()
    assert grower.read_notice() == ""
    assert "pack_price = 131" in small_room.read_text(encoding="utf-8")


def test_a_second_change_behind_our_back_is_said_again(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    change_behind(small_room)
    wait_until(grower.read_notice, "the change is noticed")
    grower.take_way_out("Read it again")
    assert grower.read_notice() == ""
    small_room.write_text(
        small_room.read_text(encoding="utf-8").replace("pack_price = 555", "pack_price = 556"), encoding="utf-8"
    )
    wait_until(grower.read_notice, "the second change is noticed")


def test_a_file_with_other_media_read_again_lists_its_parts(
    grower: Grower, small_room: Path, two_crop_room: Path
) -> None:
    grower.start(small_room)
    small_room.write_text(two_crop_room.read_text(encoding="utf-8"), encoding="utf-8")
    wait_until(grower.read_notice, "the change is noticed")
    grower.take_way_out("Read it again")
    assert "Loose coir" in grower.window.parts.words
    grower.undo()
    assert "Loose coir" not in grower.window.parts.words
    assert "Fibre pad" in grower.window.parts.words
