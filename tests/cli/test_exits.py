"""Exit codes, and what happens when nobody reads on: no traceback in any of it."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from mediacost.cli import commands
from mediacost.cli.main import main
from mediacost.errors import CannotSave
from tests.cli.running import SAMPLES, SMALL_ROOM, run
from tests.scenario.sample import SAMPLE_TEXT

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("command", [["check"], ["compare"], ["compare", "--json"]], ids=" ".join)
def test_samples_are_fine(capsys, command, path):
    ran = run(capsys, *command, path)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.endswith("\n")


def test_check_counts(capsys):
    assert run(capsys, "check", SMALL_ROOM).out == f"{SMALL_ROOM}: no faults (3 media, 1 crop, 0 trials)\n"


def test_check_shows_warnings_and_still_is_fine(capsys, tmp_path):
    path = tmp_path / "warned.toml"
    path.write_text(SAMPLE_TEXT.replace("seed_g = 40\n", "seed_g = 90\n"), encoding="utf-8")
    ran = run(capsys, "check", path)
    assert ran.code == 0
    assert "trials[spring].seed_g" in ran.out and "no faults, 1 to look at" in ran.out
    shown = json.loads(run(capsys, "check", "--json", path).out)
    assert shown["faults"] == [] and len(shown["warnings"]) == 1
    beside = run(capsys, "compare", path)
    assert beside.code == 0 and "trials[spring].seed_g" in beside.err
    assert "trials[spring].seed_g" not in beside.out


@pytest.mark.parametrize(
    ("raised", "code", "says"),
    [
        (CannotSave("the disk is full"), 1, "the disk is full\n"),
        (KeyboardInterrupt(), 130, ""),
        (BrokenPipeError(), 1, ""),
        (OSError(28, "No space left on device"), 2, "the output cannot be written: No space left on device\n"),
    ],
    ids=lambda each: type(each).__name__,
)
def test_other_failures(capfd, monkeypatch, raised, code, says):
    def fail(options: object) -> None:
        raise raised

    monkeypatch.setattr(commands, "compare", fail)
    monkeypatch.setattr("mediacost.cli.main._leave_the_pipe", lambda: None)
    assert main(["compare", "any.toml"]) == code
    assert capfd.readouterr() == ("", says)


def test_no_standard_output_at_all(capsys, monkeypatch):
    monkeypatch.setattr(sys, "stdout", None)
    assert main(["compare", str(SMALL_ROOM)]) == 0


def _start(*arguments: object, **options: object) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "mediacost", *map(str, arguments)]
    return subprocess.Popen(command, cwd=ROOT, text=True, encoding="utf-8", stderr=subprocess.PIPE, **options)


def test_closed_pipe_leaves_no_traceback():
    with _start("explain", SMALL_ROOM, "--medium", "steel", "--figure", "npv", stdout=subprocess.PIPE) as running:
        assert running.stdout is not None and running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == ""
    assert running.returncode == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
def test_full_disk_is_said():
    with Path("/dev/full").open("w") as full, _start("compare", SMALL_ROOM, stdout=full) as running:
        assert running.stderr is not None
        assert running.stderr.read() == "the output cannot be written: No space left on device\n"
    assert running.returncode == 2


def test_odd_letters_on_a_narrow_terminal(tmp_path):
    path = tmp_path / "odd.toml"
    text = SMALL_ROOM.read_text(encoding="utf-8")
    path.write_text(text.replace('name = "Steel mesh"', 'name = "Stål 鋼 🌱"'), encoding="utf-8")
    shown = subprocess.run(
        [sys.executable, "-m", "mediacost", "compare", path],
        cwd=ROOT,
        env={"PYTHONIOENCODING": "ascii", "PYTHONPATH": str(ROOT), "PATH": ""},
        capture_output=True,
        check=False,
    )
    assert (shown.returncode, shown.stderr) == (0, b"")
    assert b"St?l" in shown.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="signals differ")
def test_interrupt_leaves_no_traceback():
    waits = (
        "import os, signal, sys\n"
        "from mediacost.cli import commands\n"
        "commands.compare = lambda options: os.kill(os.getpid(), signal.SIGINT)\n"
        "from mediacost.__main__ import main\n"
        "sys.exit(main(['compare', 'any.toml']))\n"
    )
    ended = subprocess.run([sys.executable, "-c", waits], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stdout, ended.stderr) == (130, "", "")
    assert signal.SIGINT == 2
