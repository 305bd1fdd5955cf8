"""`mediacost trial`: the table and the verdict for each trial, JSON, and one line for what is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import tomlkit

from tests.cli.running import SAMPLES, SMALL_ROOM, assert_refused, run
from tests.house.places import run_python

BLOCKED = SAMPLES / "blocked_trial.toml"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "mine.toml"


def with_trays(file: Path, trays: list[dict]) -> Path:
    """The small room with one trial of these trays."""
    document = tomlkit.parse(SMALL_ROOM.read_text(encoding="utf-8"))
    for number, tray in enumerate(trays, start=1):
        tray["tray"] = str(number)
    document["trials"] = [{"id": "t", "crop": "radish", "trays": trays}]
    file.write_text(tomlkit.dumps(document), encoding="utf-8")
    return file


def test_the_blocked_sample(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    ran = run(capsys, "trial", BLOCKED)
    assert (ran.code, ran.err) == (0, "")
    text = " ".join(ran.out.split())
    assert "Red cabbage: trial four_shelves, sown 2027-04-05, harvested 2027-04-16" in text
    assert "Steel mesh against Hemp mat: cannot tell yet." in text
    assert "About 11 more blocks would show a difference of the 5 % that would matter." in text
    assert "Silicone is worse than Hemp mat by 30.6 g a tray (12 %)" in text
    assert "tray 17 (silicone): discarded: Tub tipped over at the scale" in text
    assert "The comparison uses these harvest weights on Red cabbage, and on no other crop" in text
    assert max(len(line) for line in ran.out.splitlines()) <= 100


def test_the_money_is_there(capsys):
    lines = run(capsys, "trial", BLOCKED).out.splitlines()
    row = next(line for line in lines if line.startswith("margin against today, GBP"))
    assert row.split()[4] == "today"


def test_json_and_text_agree(capsys):
    data = json.loads(run(capsys, "trial", BLOCKED, "--json").out)
    (crop,) = data["crops"]
    (trial,) = crop["trials"]
    text = " ".join(run(capsys, "trial", BLOCKED).out.split())
    for pair in trial["against_baseline"]:
        assert pair["verdict"]["words"] in text
    assert data["baseline"] == "mat"
    assert crop["harvest_g"]["silicone"] == trial["media"][2]["adjusted_mean_g"]


def test_the_comparison_uses_what_the_trial_says(capsys):
    weights = json.loads(run(capsys, "trial", BLOCKED, "--json").out)["crops"][0]["harvest_g"]
    media = json.loads(run(capsys, "compare", BLOCKED, "--json").out)["media"]
    for medium in media:
        failed = {"mat": 0.02, "steel": 0.03, "silicone": 0.03}[medium["id"]]
        assert medium["yield_kg_per_tray"] == pytest.approx(weights[medium["id"]] / 1000 * (1 - failed) * (1 - 0.08))


def test_no_trial(capsys):
    ran = run(capsys, "trial", SMALL_ROOM)
    assert (ran.code, ran.err) == (0, "")
    assert "No trial is recorded in this file." in ran.out


def test_a_trial_that_cannot_be_used(capsys, file):
    ran = run(capsys, "trial", with_trays(file, [{"medium": "pad", "harvest_g": 250}]))
    assert ran.code == 0
    assert "Trial not usable: only one tray was weighed: nothing to set it against, and no spread." in " ".join(
        ran.out.split()
    )


def test_media_never_tried_together(capsys, file):
    trays = [
        {"medium": medium, "harvest_g": grams, "block": block}
        for medium, grams, block in (
            ("pad", 250, "a"),
            ("steel", 240, "a"),
            ("silicone", 230, "b"),
            ("silicone", 220, "b"),
        )
    ]
    path = with_trays(file, trays)
    line = (
        f"{path}: trials: (pad, steel) and (silicone) were never tried together on radish, not even through others; "
        "expected a trial, or a block of one, that holds both; or use = false on one of the trials"
    )
    for command in ("trial", "compare", "check"):
        assert_refused(run(capsys, command, path), line)


def test_a_discard_without_its_reason(capsys, file):
    path = with_trays(file, [{"medium": "pad", "harvest_g": 250, "discard": True}])
    ran = run(capsys, "trial", path)
    assert (ran.code, len(ran.faults)) == (2, 1)
    assert "is missing; expected the reason for the discard" in ran.faults[0]


def test_a_comparison_on_blocks_waits_for_no_scipy():
    done = run_python(
        "import sys\nfrom mediacost.__main__ import main\nmain(['compare', sys.argv[1], '--json'])\n"
        "sys.exit('scipy' in sys.modules)",
        BLOCKED,
    )
    assert done.returncode == 0, done.stderr
