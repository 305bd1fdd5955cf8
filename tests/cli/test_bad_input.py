"""Bad input gets one clear line per fault on standard error, exit code 2, nothing on standard output."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import tomlkit

from tests.cli.running import SMALL_ROOM, assert_refused, run
from tests.scenario.sample import SAMPLE_TEXT, with_value, without

COMMANDS = (["check"], ["compare"], ["compare", "--json"], ["explain", "--medium", "steel", "--figure", "cost_per_kg"])


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "mine.toml"


def written(file: Path, content: str | bytes | dict[str, Any]) -> Path:
    if isinstance(content, dict):
        content = tomlkit.dumps(content)
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return file


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_every_command_refuses_alike(capsys, file, command):
    written(file, with_value((("room", "labour_rate"), -1)))
    ran = run(capsys, *command, file)
    assert_refused(ran, *ran.faults)
    assert len(ran.faults) == 1
    assert ran.faults[0].startswith(f"{file}: room.labour_rate: ")


def test_missing_file(capsys, file):
    assert_refused(run(capsys, "compare", file), f"{file}: there is no such file; expected a scenario file")


def test_folder(capsys, tmp_path):
    assert_refused(run(capsys, "compare", tmp_path), f"{tmp_path}: is a folder; expected a scenario file")


def test_path_through_a_file(capsys, file):
    written(file, SAMPLE_TEXT)
    ran = run(capsys, "compare", file / "inside.toml")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)


def test_name_with_a_line_break_stays_on_one_line(capsys, tmp_path):
    ran = run(capsys, "compare", tmp_path / "two\nlines.toml")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert "two\\nlines.toml" in ran.err


def test_device(capsys):
    ran = run(capsys, "compare", "/dev/zero")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)


def test_a_gigabyte_is_refused_unread(capsys, file):
    with file.open("wb") as huge:
        huge.truncate(1 << 30)
    ran = run(capsys, "compare", file)
    assert_refused(ran, *ran.faults)
    assert "has 1073741824 bytes, too many for a scenario" in ran.err


def test_binary(capsys, file):
    written(file, bytes(range(256)) * 8)
    ran = run(capsys, "compare", file)
    assert_refused(ran, f"{file}: is not a text file; expected a scenario file, which is UTF-8 text")


def test_not_utf8(capsys, file):
    written(file, b'format = 1\ntitle = "caf\xe9"\n')
    ran = run(capsys, "compare", file)
    says = "has a character that is not UTF-8; expected text saved as UTF-8"
    assert_refused(ran, f"{file}: line 2: {says}")


def test_toml_faults_name_line_and_column(capsys, file):
    written(file, 'format = 1\ntitle = "x"\nroom = = 2\n')
    ran = run(capsys, "compare", file)
    assert_refused(ran, *ran.faults)
    assert ran.err.startswith(f"{file}: line 3, column 8: is not valid TOML")


def test_deep_nesting(capsys, file):
    written(file, "a = " + "[" * 5000 + "]" * 5000)
    ran = run(capsys, "compare", file)
    assert_refused(ran, f"{file}: is nested too deeply; expected the tables of a scenario file")


def test_empty_file(capsys, file):
    ran = run(capsys, "compare", written(file, ""))
    assert_refused(ran, f"{file}: format: is missing; expected format = 1, as the first line of a scenario file")


def test_newer_format(capsys, file):
    ran = run(capsys, "compare", written(file, with_value((("format",), 99))))
    assert_refused(ran, *ran.faults)
    assert len(ran.faults) == 1 and ran.err.startswith(f"{file}: format: ") and "99" in ran.err


NAN, INF = float("nan"), float("inf")

WRONG = {
    "text for a number": ((("room", "water_price"), "cheap"), "room.water_price", "number"),
    "number for text": ((("title",), 7), "title", "text"),
    "a list for a table": ((("room",), []), "room", "table"),
    "not a number": ((("room", "water_price"), NAN), "room.water_price", ""),
    "infinite": ((("room", "water_price"), INF), "room.water_price", ""),
    "minus infinite": ((("crops", 0, "sell_price_per_kg"), -INF), "crops[radish].sell_price_per_kg", ""),
    "negative price": ((("media", 0, "pack_price"), -1), "media[paper].pack_price", "0 or more"),
    "a share above one": ((("crops", 0, "loss_share"), 1.5), "crops[radish].loss_share", ""),
    "low above likely": (
        (("room", "energy_price"), {"low": 3, "likely": 2, "high": 4}),
        "room.energy_price",
        "low <= likely <= high",
    ),
    "likely above high": (
        (("room", "energy_price"), {"low": 1, "likely": 5, "high": 4}),
        "room.energy_price",
        "low <= likely <= high",
    ),
    "half a tray": ((("crops", 0, "sowing", "mon"), 2.5), "crops[radish].sowing.mon", "whole number"),
    "no such weekday": ((("room", "wash_days"), ["tue", "caturday"]), "room.wash_days", "mon"),
    "no such limit": ((("room", "limit"), "weather"), "room.limit", '"shelf"'),
    "unknown baseline": ((("baseline",), "papr"), "baseline", "paper"),
    "unknown wash": ((("media", 1, "wash"), "quik"), "media[steel].wash", "quick"),
    "unknown medium in a pair": ((("pairs", 0, "medium"), "felt"), "pairs[", "steel"),
    "unknown crop in a pair": ((("pairs", 0, "crop"), "beet"), "pairs[", "radish"),
    "unknown key": ((("room", "labor_rate"), 20), "room.labor_rate", "labour_rate"),
    "longer blackout than the crop": ((("crops", 0, "blackout_days"), 12), "crops[radish].blackout_days", ""),
    "washed without being reusable": ((("media", 0, "wash"), "quick"), "media[paper].wash", ""),
    "sanitiser stronger than stock": (
        (("washes", 0, "steps", 1, "sanitiser", "target_ppm"), 60000),
        "washes[quick].steps[2].sanitiser.target_ppm",
        "",
    ),
}


@pytest.mark.parametrize(("change", "path", "says"), WRONG.values(), ids=WRONG)
def test_one_line_names_file_place_and_wish(capsys, file, change, path, says):
    written(file, with_value(change))
    ran = run(capsys, "compare", file)
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.faults) == 1, ran.err
    assert ran.faults[0].startswith(f"{file}: {path}")
    assert says in ran.faults[0].split(path, 1)[1]


def test_several_faults_are_all_named(capsys, file):
    data = with_value((("room", "water_price"), -1), (("crops", 0, "seed_price_per_kg"), "dear"), (("baseline",), "x"))
    ran = run(capsys, "compare", written(file, data))
    assert (ran.code, ran.out) == (2, "")
    for path in ("room.water_price", "crops[radish].seed_price_per_kg"):
        assert sum(f": {path}: " in line for line in ran.faults) == 1
    assert all(line.startswith(f"{file}: ") for line in ran.faults)


@pytest.mark.parametrize("table", ["crops", "media", "washes"])
def test_duplicate_ids(capsys, file, table):
    data = with_value()
    data[table] = [*data[table], data[table][0]]
    ran = run(capsys, "compare", written(file, data))
    assert (ran.code, ran.out) == (2, "")
    assert any(f"{table}[" in line and "id" in line for line in ran.faults), ran.err
    assert all(line.startswith(f"{file}: ") for line in ran.faults)


def test_nothing_sown(capsys, file):
    data = with_value((("crops", 0, "sowing"), {"mon": 0}), (("crops", 1, "sowing"), {"tue": 0}))
    ran = run(capsys, "compare", written(file, data))
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.faults) == 1 and "crops" in ran.err


def test_missing_harvest_weight_names_the_pair(capsys, file):
    ran = run(capsys, "compare", written(file, without(("pairs", 1, "mean_g"))))
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.faults) == 1
    assert "Paper sheet" in ran.err and "Pea shoots" in ran.err or "paper" in ran.err and "pea" in ran.err


@pytest.mark.parametrize(
    ("asked", "nearest"),
    [
        ("stel", "steel"),
        ("Silicon", "silicone"),
    ],
)
def test_unknown_medium_names_the_nearest(capsys, asked, nearest):
    ran = run(capsys, "explain", SMALL_ROOM, "--medium", asked, "--figure", "npv")
    assert_refused(
        ran,
        f'{SMALL_ROOM}: --medium: "{asked}" is not known (nearest: {nearest}); expected one of pad, steel, silicone',
    )


@pytest.mark.parametrize(
    ("asked", "nearest"),
    [
        ("cost_per_kilo", "cost_per_kg"),
        ("breakeven", "break_even_life"),
        ("shet", "sheet"),
        ("payback_months.sell_extra.simpel", "payback_months.sell_extra.simple"),
    ],
)
def test_unknown_figure_names_the_nearest(capsys, asked, nearest):
    ran = run(capsys, "explain", SMALL_ROOM, "--medium", "steel", "--figure", asked)
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert ran.err.startswith(f'{SMALL_ROOM}: --figure: "{asked}" is not known (nearest: {nearest}); expected one of ')


def test_unknown_figure_far_from_all_others(capsys):
    ran = run(capsys, "explain", SMALL_ROOM, "--medium", "steel", "--figure", "\x1b[31mzzzz\n")
    assert (ran.code, ran.out, len(ran.faults)) == (2, "", 1)
    assert "nearest" not in ran.err and "\x1b" not in ran.err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([], "COMMAND"),
        (["compare"], "FILE"),
        (["explain", SMALL_ROOM], "--medium"),
        (["explain", SMALL_ROOM, "--medium", "steel"], "--figure"),
        (["muddle", SMALL_ROOM], "'muddle'"),
        (["compare", SMALL_ROOM, "--wrong"], "--wrong"),
        (["explain", SMALL_ROOM, "--medium", "steel", "--figure", "npv", "--depth", "-1"], "whole number"),
        (["explain", SMALL_ROOM, "--medium", "steel", "--figure", "npv", "--depth", "two"], "whole number"),
    ],
)
def test_wrong_arguments(capsys, arguments, says):
    ran = run(capsys, *arguments)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("usage: mediacost")
    assert says in ran.faults[-1]
