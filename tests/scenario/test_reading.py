"""Every way in which a file cannot be read ends in one plain line."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from mediacost.errors import InputFaults
from mediacost.scenario import read_draft, read_file, read_text
from mediacost.scenario.reading import LARGEST_BYTES, fingerprint_of
from tests.scenario.sample import SAMPLE_PATH, SAMPLE_TEXT, sample_data


def faults_of(path: Path) -> list[str]:
    with pytest.raises(InputFaults) as caught:
        read_file(path)
    lines = [str(fault) for fault in caught.value.faults]
    assert str(caught.value) == "\n".join(lines)
    return lines


def written(tmp_path: Path, content: bytes | str) -> Path:
    path = tmp_path / "a.toml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def test_a_good_file_is_read_with_its_text_data_and_fingerprint() -> None:
    file = read_file(str(SAMPLE_PATH))
    assert file.path == SAMPLE_PATH
    assert file.text == SAMPLE_TEXT
    assert file.data == sample_data()
    assert file.fingerprint == fingerprint_of(SAMPLE_PATH.read_bytes())
    assert file.scenario.title == "Mesh or paper for two crops"
    assert (file.faults, file.warnings) == ((), ())


def test_a_text_is_read_alike_and_has_no_path() -> None:
    file = read_text(SAMPLE_TEXT, "here")
    assert (file.path, file.fingerprint) == (None, "")
    assert file.scenario == read_file(SAMPLE_PATH).scenario


def test_a_missing_file(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    assert faults_of(path) == [f"{path}: there is no such file; expected a scenario file"]


def test_a_folder(tmp_path: Path) -> None:
    assert faults_of(tmp_path) == [f"{tmp_path}: is a folder; expected a scenario file"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    path = tmp_path / "pipe"
    os.mkfifo(path)
    assert faults_of(path) == [f"{path}: is not an ordinary file; expected a scenario file"]


def test_a_name_that_no_file_can_have() -> None:
    assert faults_of(Path("a\0b")) == ["a\\x00b: cannot be read: it has no usable name; expected a scenario file"]


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, SAMPLE_TEXT)

    def refuse(self: Path, *args: object, **kwargs: object) -> None:
        raise PermissionError(13, "no")

    monkeypatch.setattr(Path, "open", refuse)
    assert faults_of(path) == [f"{path}: may not be read; expected a file that you are allowed to open"]


def test_a_disk_that_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, SAMPLE_TEXT)

    def fail(self: Path, *args: object, **kwargs: object) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "open", fail)
    assert faults_of(path) == [f"{path}: cannot be read: Input/output error; expected a scenario file"]


def test_a_file_that_is_too_large_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "large.toml"
    with path.open("wb") as stream:
        stream.truncate(LARGEST_BYTES + 1)
    opened: list[object] = []
    monkeypatch.setattr(Path, "open", lambda *args, **kwargs: opened.append(args))
    assert faults_of(path) == [f"{path}: has 8000001 bytes, too many for a scenario; expected at most 8000000 bytes"]
    assert opened == []


def test_a_binary_file(tmp_path: Path) -> None:
    path = written(tmp_path, b"format = 1\n\0")
    assert faults_of(path) == [f"{path}: is not a text file; expected a scenario file, which is UTF-8 text"]


@pytest.mark.parametrize("line", ["water_price = 3,60", "water_price = 3,60  # per m3"])
def test_a_decimal_comma_is_told_from_other_slips(line):
    with pytest.raises(InputFaults, match=r"line 2.*3,60 has a decimal comma; expected a point: 3\.60"):
        read_text(f"[room]\n{line}\n", "F")


def test_text_that_is_not_utf_8_is_named_with_its_line(tmp_path: Path) -> None:
    path = written(tmp_path, "format = 1\ntitle = 'caf\xe9'\n".encode("latin-1"))
    assert faults_of(path) == [f"{path}: line 2: has a character that is not UTF-8; expected text saved as UTF-8"]


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    path = written(tmp_path, b"\xef\xbb\xbf" + SAMPLE_TEXT.encode())
    assert read_file(path).data == sample_data()
    assert read_text("\ufeff" + SAMPLE_TEXT).text == SAMPLE_TEXT


def test_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    assert read_file(written(tmp_path, SAMPLE_TEXT.replace("\n", "\r\n"))).data == sample_data()


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("format = 1\ntitle = \n", 2, 9),
        ("format = 1\nformat = 2\n", 2, 11),
        ("format = 1\n[room\n", 2, 6),
        ('format = 1\ntitle = "x\n', 2, 11),
    ],
)
def test_a_slip_in_the_toml_is_named_with_line_and_column(text: str, line: int, column: int) -> None:
    with pytest.raises(InputFaults) as caught:
        read_text(text, "F")
    (fault,) = caught.value.faults
    assert (fault.line, fault.column) == (line, column)
    assert str(fault).startswith(f"F: line {line}, column {column}: is not valid TOML: ")
    assert str(fault).endswith("; expected key = value lines under [table] headings")
    assert str(fault).isprintable()


def test_a_table_that_stands_twice_is_named_as_a_key_path() -> None:
    with pytest.raises(InputFaults) as caught:
        read_text("[a.b]\n[a.b]\n", "F")
    assert "is not valid TOML: cannot declare a.b twice" in str(caught.value)


def test_a_slip_at_the_end_of_the_text_is_named_with_its_last_line() -> None:
    with pytest.raises(InputFaults) as caught:
        read_text("format = 1\ntitle = [", "F")
    assert str(caught.value).startswith("F: line 2: is not valid TOML: ")


@pytest.mark.parametrize(
    "text",
    [
        "format = 1\nx = " + "[" * 5000 + "]" * 5000,
        "format = 1\nx = " + "{a=" * 5000 + "1" + "}" * 5000,
        "format = 1\nx = " + "9" * 5000,
        "format = " + "9" * 5000,
        "format = 1\nx = 2027-02-31",
        "format = 1\nx = 1e999",
        "format = 1\n" + ".".join(["a"] * 3000) + " = 1",
    ],
)
def test_what_chokes_a_reader_ends_as_a_fault(text: str) -> None:
    with pytest.raises(InputFaults) as caught:
        read_text(text, "F")
    for fault in caught.value.faults:
        assert str(fault).startswith("F: ")
        assert len(str(fault)) < 300


def test_all_faults_of_the_content_come_at_once() -> None:
    with pytest.raises(InputFaults) as caught:
        read_text('format = 1\ntitle = ""\ncurrency = "eur"\n', "F")
    assert [fault.path for fault in caught.value.faults] == [
        "title",
        "currency",
        "room",
        "tray",
        "crops",
        "media",
    ]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "F: format: is missing; expected format = 1, as the first line of a scenario file"),
        ("format = 0", "F: format: 0 is not a format number; expected format = 1"),
        ("format = '1'", 'F: format: "1" is not a format number; expected format = 1'),
        ("format = nan", "F: format: nan is not a format number; expected format = 1"),
        ("format = inf", "F: format: inf is not a format number; expected format = 1"),
        (
            "format = 7",
            "F: format: 7 is newer than this program knows; expected 1 or less: a newer version of mediacost opens it",
        ),
    ],
)
def test_a_format_that_cannot_be_read_is_the_only_fault(text: str, problem: str) -> None:
    with pytest.raises(InputFaults) as caught:
        read_text(text, "F")
    assert str(caught.value) == problem


def test_a_draft_may_have_faults_but_must_be_a_scenario_file(tmp_path: Path) -> None:
    path = written(tmp_path, SAMPLE_TEXT.replace("labour_rate = 21.0", "labour_rate = -21.0"))
    draft = read_draft(path)
    assert [fault.path for fault in draft.faults] == ["room.labour_rate"]
    assert draft.data["room"]["labour_rate"] == -21.0
    for content in ("title = 1", "format = 2", "format ="):
        with pytest.raises(InputFaults):
            read_draft(written(tmp_path, content))


def test_file_names_stay_on_one_line(tmp_path: Path) -> None:
    path = tmp_path / "two\nlines.toml"
    name = str(path).replace("\n", "\\n")
    assert faults_of(path) == [f"{name}: there is no such file; expected a scenario file"]


def test_reading_loads_neither_screens_nor_tables_nor_the_saving_half() -> None:
    code = (
        "import sys; from mediacost.scenario import read_file, Scenario; read_file(sys.argv[1]);"
        "print(sorted({name.split('.')[0] for name in sys.modules} & {'PySide6', 'matplotlib', "
        "'openpyxl', 'pandas',"
        " 'numpy', 'scipy', 'tomlkit'}), [name for name in sys.modules if "
        "name.startswith(('mediacost.formulas',"
        " 'mediacost.results'))])"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", code, str(SAMPLE_PATH)],
        capture_output=True,
        text=True,
        cwd=root,
        check=True,
        env={**os.environ, "PYTHONPATH": str(root)},
    )
    assert done.stdout.strip() == "[] []"
