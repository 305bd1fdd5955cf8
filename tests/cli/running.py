"""Runs the command line inside the test's own process, which costs no start of an interpreter."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from mediacost.cli.main import main

SAMPLES = Path(__file__).parents[2] / "sample_scenarios"
SMALL_ROOM = SAMPLES / "small_room.toml"


class Ran(NamedTuple):
    """What a command left behind."""

    code: int
    out: str
    err: str

    @property
    def faults(self) -> list[str]:
        """The lines of standard error."""
        return self.err.splitlines()


def run(capsys: pytest.CaptureFixture[str], *arguments: object) -> Ran:
    """Run one command; a complaint of the argument parser counts as its exit code."""
    try:
        code = main([str(each) for each in arguments])
    except SystemExit as left:
        code = int(left.code or 0)
    return Ran(code, *capsys.readouterr())


def assert_refused(ran: Ran, *lines: str) -> None:
    """The input was refused: these lines on standard error, each for one fault, nothing on standard output."""
    assert (ran.code, ran.out) == (2, "")
    assert ran.faults == list(lines)
