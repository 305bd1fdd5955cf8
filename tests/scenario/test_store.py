"""Saving never loses a file: not on a full disk, not when somebody else changed it, not through a link."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from mediacost.errors import CannotSave, ChangedOnDisk, InputFaults, MediacostError
from mediacost.scenario import read_draft, read_file, set_value, store, write_draft, write_file
from tests.scenario.sample import SAMPLE_TEXT, sample_data, with_value

CHANGED = with_value((("room", "labour_rate"), 23.5))


def names_in(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    place = tmp_path / "room.toml"
    place.write_text(SAMPLE_TEXT, encoding="utf-8", newline="")
    return place


def test_a_change_is_saved_and_everything_else_stays(path: Path) -> None:
    saved = write_file(path, CHANGED, read_file(path))
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT.replace("labour_rate = 21.0", "labour_rate = 23.5")
    assert saved == read_file(path)
    assert saved.data == CHANGED
    assert names_in(path.parent) == [path.name]


def test_the_saved_file_is_the_base_of_the_next_save(path: Path) -> None:
    saved = write_file(path, CHANGED, read_file(path))
    again = write_file(path, sample_data(), saved)
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT
    assert again.fingerprint != saved.fingerprint


def test_a_new_file_is_written_without_a_base(tmp_path: Path) -> None:
    place = tmp_path / "new.mediacost"
    write_file(place, sample_data(), None)
    assert read_file(place).data == sample_data()


def test_windows_line_ends_are_kept(path: Path) -> None:
    path.write_bytes(SAMPLE_TEXT.replace("\n", "\r\n").encode())
    write_file(path, CHANGED, read_file(path))
    wanted = SAMPLE_TEXT.replace("labour_rate = 21.0", "labour_rate = 23.5").replace("\n", "\r\n")
    assert path.read_bytes() == wanted.encode()


def test_data_with_faults_are_refused_and_nothing_is_written(path: Path) -> None:
    base = read_file(path)
    with pytest.raises(InputFaults, match=r"room\.labour_rate: -1 is outside"):
        write_file(path, with_value((("room", "labour_rate"), -1)), base)
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT


def test_a_draft_with_faults_can_be_saved_and_opened_again(path: Path) -> None:
    faulty = with_value((("room", "labour_rate"), -1))
    saved = write_draft(path, faulty, read_file(path))
    assert [fault.path for fault in saved.faults] == ["room.labour_rate"]
    assert read_draft(path) == saved


@pytest.mark.parametrize("value", [None, object(), {1: 2}, {"a": "\ud800"}])
def test_a_value_that_no_file_can_keep_is_refused(path: Path, value: Any) -> None:
    with pytest.raises(MediacostError, match="cannot be saved"):
        write_draft(path, {**sample_data(), "note": value}, read_file(path))
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT


# Somebody else's work -----------------------------------------------------------------------------


def test_a_file_changed_by_somebody_else_is_not_overwritten(path: Path) -> None:
    base = read_file(path)
    path.write_text(SAMPLE_TEXT + "# theirs\n", encoding="utf-8")
    with pytest.raises(ChangedOnDisk, match="was changed by another program"):
        write_file(path, CHANGED, base)
    assert path.read_text(encoding="utf-8").endswith("# theirs\n")
    write_file(path, CHANGED, base, overwrite=True)
    assert read_file(path).data == CHANGED


def test_a_change_in_the_last_moment_is_noticed(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    base = read_file(path)
    write_through = store._write_through

    def meddle(temporary: Path, content: bytes) -> None:
        write_through(temporary, content)
        path.write_text("theirs", encoding="utf-8")

    monkeypatch.setattr(store, "_write_through", meddle)
    with pytest.raises(ChangedOnDisk):
        write_file(path, CHANGED, base)
    assert path.read_text(encoding="utf-8") == "theirs"
    assert names_in(path.parent) == [path.name]


def test_a_file_that_only_got_a_new_time_stamp_is_overwritten(path: Path) -> None:
    base = read_file(path)
    os.utime(path, (1, 1))
    write_file(path, CHANGED, base)
    assert read_file(path).data == CHANGED


def test_a_file_that_was_deleted_is_written_again(path: Path) -> None:
    base = read_file(path)
    path.unlink()
    write_file(path, CHANGED, base)
    assert read_file(path).data == CHANGED


@pytest.mark.parametrize("with_base", [True, False])
def test_another_existing_file_is_overwritten_only_when_told(path: Path, with_base: bool) -> None:
    base = read_file(path) if with_base else None
    other = path.with_name("other.toml")
    other.write_text("mine", encoding="utf-8")
    with pytest.raises(CannotSave, match="exists already"):
        write_file(other, CHANGED, base)
    assert other.read_text(encoding="utf-8") == "mine"
    write_file(other, CHANGED, base, overwrite=True)
    assert read_file(other).data == CHANGED


def test_saving_under_a_new_name_keeps_the_comments(path: Path) -> None:
    other = path.with_name("other.toml")
    write_file(other, CHANGED, read_file(path))
    assert "# peas are sown once a week" in other.read_text(encoding="utf-8")
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT


# A disk that does not play along ------------------------------------------------------------------


def failing(number: int) -> Callable[..., Any]:
    def fail(*args: object, **kwargs: object) -> Any:
        raise OSError(number, os.strerror(number))

    return fail


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EDQUOT, "your share of the disk is full"),
        (errno.EACCES, "the folder may not be written to"),
        (errno.EROFS, "the disk is read-only"),
        (errno.EIO, os.strerror(errno.EIO)),
    ],
)
@pytest.mark.parametrize("step", ["open", "fsync", "replace", "chmod", "write", "read back"])
def test_a_failing_step_leaves_the_old_file_and_no_other(
    path: Path, monkeypatch: pytest.MonkeyPatch, step: str, number: int, words: str
) -> None:
    base = read_file(path)
    with monkeypatch.context() as patch:
        if step == "write":
            patch.setattr(Path, "open", failing(number))
        elif step == "read back":
            patch.setattr(store, "_write_through", failing(number))
        else:
            patch.setattr(store.os, step, failing(number))
        with pytest.raises(CannotSave) as caught:
            write_file(path, CHANGED, base)
    assert words in str(caught.value)
    assert str(path) in str(caught.value)
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT
    assert names_in(path.parent) == [path.name]


def test_half_a_write_is_noticed(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    base = read_file(path)
    temporary: list[Path] = []
    real_read = Path.read_bytes

    def half(self: Path) -> bytes:
        content = real_read(self)
        if self == path:
            return content
        temporary.append(self)
        return content[: len(content) // 2]

    monkeypatch.setattr(Path, "read_bytes", half)
    with pytest.raises(CannotSave, match="the disk did not keep what was written"):
        write_file(path, CHANGED, base)
    assert len(temporary) == 1
    assert temporary[0].parent == path.parent
    assert names_in(path.parent) == [path.name]


def test_an_interrupted_save_leaves_the_old_file(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*args: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(store.os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_file(path, CHANGED, read_file(path))
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT
    assert names_in(path.parent) == [path.name]


def test_a_folder_that_cannot_be_flushed_does_no_harm(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    base = read_file(path)
    monkeypatch.setattr(store.os, "open", failing(errno.EACCES))
    store._flush_folder(path.parent)
    monkeypatch.undo()
    write_file(path, CHANGED, base)
    assert read_file(path).data == CHANGED


def test_the_temporary_file_is_flushed_before_it_takes_the_place(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    real_fsync, real_replace = os.fsync, os.replace
    monkeypatch.setattr(store.os, "fsync", lambda handle: (calls.append("fsync"), real_fsync(handle))[1])
    monkeypatch.setattr(store.os, "replace", lambda a, b: (calls.append("replace"), real_replace(a, b))[1])
    write_file(path, CHANGED, read_file(path))
    assert calls == ["fsync", "replace", "fsync"]


def test_a_write_protected_file_is_refused(path: Path) -> None:
    base = read_file(path)
    path.chmod(0o444)
    with pytest.raises(CannotSave, match="is write-protected"):
        write_file(path, CHANGED, base)
    with pytest.raises(CannotSave, match="is write-protected"):
        write_file(path, CHANGED, base, overwrite=True)
    assert path.read_text(encoding="utf-8") == SAMPLE_TEXT


@pytest.mark.parametrize("name", ["none/room.toml", "x" * 300, "a\0b"])
def test_a_place_where_nothing_can_be_written(tmp_path: Path, name: str) -> None:
    with pytest.raises(CannotSave):
        write_file(tmp_path / name, sample_data(), None)
    assert names_in(tmp_path) == []


def test_a_folder_is_not_a_place_for_a_file(tmp_path: Path) -> None:
    with pytest.raises(CannotSave, match="is not an ordinary file"):
        write_file(tmp_path, sample_data(), None, overwrite=True)


# Permissions and links ----------------------------------------------------------------------------


@pytest.mark.skipif(os.name == "nt", reason="this system has no permission bits")
def test_permissions_are_kept(path: Path) -> None:
    path.chmod(0o640)
    write_file(path, CHANGED, read_file(path))
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@pytest.mark.skipif(os.name == "nt", reason="this system has no permission bits")
def test_a_new_file_gets_the_permissions_of_any_new_file(tmp_path: Path) -> None:
    ordinary = tmp_path / "ordinary"
    ordinary.touch()
    write_file(tmp_path / "new.toml", sample_data(), None)
    assert (tmp_path / "new.toml").stat().st_mode == ordinary.stat().st_mode


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_stays_a_link_and_its_target_is_written(path: Path, tmp_path: Path) -> None:
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    link = folder / "link.toml"
    link.symlink_to(path)
    write_file(link, CHANGED, read_file(link))
    assert link.is_symlink()
    assert read_file(path).data == CHANGED
    assert names_in(folder) == ["link.toml"]


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_that_leads_in_a_circle_is_refused(tmp_path: Path) -> None:
    link = tmp_path / "loop"
    link.symlink_to(link)
    with pytest.raises(CannotSave):
        write_file(link, sample_data(), None)


def test_the_same_file_under_another_spelling_is_the_same_file(path: Path) -> None:
    base = read_file(path)
    write_file(path.parent / "." / ".." / path.parent.name / path.name, CHANGED, base)
    assert read_file(path).data == CHANGED


def test_saved_data_are_a_copy(path: Path) -> None:
    data = set_value(sample_data(), ("title",), "Mine")
    saved = write_file(path, data, read_file(path))
    data["crops"][0]["name"] = "changed afterwards"
    assert saved.data["crops"][0]["name"] == "Radish"
