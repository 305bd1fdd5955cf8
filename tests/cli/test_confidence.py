"""The command that says how sure the answer is: text, JSON, and what it refuses."""

from __future__ import annotations

import json
import re

import pytest
import tomlkit

from tests.cli.running import SAMPLES, SMALL_ROOM, assert_refused, run
from tests.house.places import run_python

FEW = ("--draws", "512")


@pytest.fixture(autouse=True)
def _wide(monkeypatch):
    monkeypatch.setenv("COLUMNS", "110")


def test_text_says_the_verdict_first_and_what_would_settle_it(capsys):
    ran = run(capsys, "confidence", SMALL_ROOM)
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[2].startswith("Cannot tell yet: ")
    text = " ".join(ran.out.split())
    for said in (
        "To settle it, find out first: ",
        "How often each comes out best",
        "What moves it most: ",
        "Harvest that each may lose and still tie with Fibre pad",
        "What it would be worth to know for sure",
        "8 192 draws of 19 inputs, seed 1",
    ):
        assert said in text
    assert max(map(len, lines)) <= 110


def test_json_is_complete(capsys):
    ran = run(capsys, "confidence", SAMPLES / "two_crop_room.toml", "--json", *FEW, "--seed", "7")
    assert (ran.code, ran.err) == (0, "")
    data = json.loads(ran.out)
    assert list(data) == [
        *("draws", "seed", "baseline", "limit", "basis", "measure", "best", "horizon_months", "verdict", "notes"),
        *("inputs", "media", "swings", "value_of_knowing", "ties"),
    ]
    assert (data["draws"], data["seed"]) == (512, 7)
    assert [medium["id"] for medium in data["media"]] == ["coir", "mat", "steel", "silicone"]
    assert sum(medium["chance_best"] for medium in data["media"]) == pytest.approx(1)
    paths = {each["path"] for each in data["inputs"]}
    assert {each["path"] for swings in data["swings"].values() for each in swings} <= paths
    for ties in data["ties"]:
        tied = {each["path"] for each in ties["inputs"]}
        assert tied and not tied & set(ties["never"])


def test_the_same_bytes_in_two_runs_of_the_program():
    code = "import sys; from mediacost.__main__ import main; sys.exit(main(sys.argv[1:]))"
    first, again = (run_python(code, "confidence", SMALL_ROOM, "--json", *FEW) for _ in range(2))
    assert (first.returncode, first.stderr) == (0, "")
    assert first.stdout == again.stdout


def test_what_the_table_shows_is_what_the_json_says(capsys):
    data = json.loads(run(capsys, "confidence", SMALL_ROOM, "--json", *FEW).out)
    text = run(capsys, "confidence", SMALL_ROOM, *FEW).out
    row = next(line for line in text.splitlines() if "(the measure used)" in line)
    assert re.findall(r"(\d+) %", row) == [f"{100 * medium['chance_best']:.0f}" for medium in data["media"]]
    middle = text.partition("Net present value")[2].splitlines()[2]
    assert re.findall(r"-?\d[\d ]*\d(?=  |$)", middle) == [
        f"{medium['npv']['p50']:,.0f}".replace(",", " ") for medium in data["media"][1:]
    ]


@pytest.mark.parametrize("draws", ["0", "255"])
def test_too_few_draws(capsys, draws):
    ran = run(capsys, "confidence", SMALL_ROOM, "--draws", draws)
    assert_refused(ran, *ran.faults)
    assert ran.faults[0].startswith(
        f"{SMALL_ROOM}: --draws: {draws} draws tell nothing; expected a whole number from 256"
    )


def test_far_too_many_draws_say_what_they_would_need(capsys):
    ran = run(capsys, "confidence", SMALL_ROOM, "--draws", "1000000000")
    assert_refused(ran, *ran.faults)
    assert re.search(
        r"1 000 000 000 draws would need about \d+ GB of memory and [\d.]+ (minutes|hours);", ran.faults[0]
    )


@pytest.mark.parametrize("typed", ["-1", "many", "1e3"])
def test_draws_that_are_no_number(capsys, typed):
    ran = run(capsys, "confidence", SMALL_ROOM, f"--draws={typed}")
    assert (ran.code, ran.out) == (2, "")
    assert "is not a whole number of 0 or more" in ran.err


def test_no_ranges_and_no_spread_is_said_to_be_doubtful(capsys, tmp_path):
    data = tomlkit.parse(SMALL_ROOM.read_text(encoding="utf-8")).unwrap()

    def likely(value):
        if isinstance(value, dict):
            return value["likely"] if "likely" in value else {key: likely(each) for key, each in value.items()}
        return [likely(each) for each in value] if isinstance(value, list) else value

    data = likely(data)
    for pair in data["pairs"]:
        pair["sd_g"] = 0
    file = tmp_path / "sure.toml"
    file.write_text(tomlkit.dumps(data), encoding="utf-8")
    ran = run(capsys, "confidence", file, *FEW)
    text = " ".join(ran.out.split())
    assert ran.code == 0
    assert "there is nothing to be unsure about. That itself is doubtful" in text
    assert "Cannot tell yet" in text


def test_a_weight_from_one_tray_is_said_to_be_unknown(capsys, tmp_path):
    data = tomlkit.parse(SMALL_ROOM.read_text(encoding="utf-8")).unwrap()
    data["pairs"][1]["trays"] = 1
    file = tmp_path / "one.toml"
    file.write_text(tomlkit.dumps(data), encoding="utf-8")
    text = " ".join(run(capsys, "confidence", file, *FEW).out.split())
    assert "Too few trays to know their spread: Steel mesh on radish: harvest weight." in text
    assert "no verdict is called clear" in text


def test_wrong_files_are_refused_as_by_every_command(capsys, tmp_path):
    ran = run(capsys, "confidence", tmp_path / "none.toml")
    assert_refused(ran, f"{tmp_path / 'none.toml'}: there is no such file; expected a scenario file")
