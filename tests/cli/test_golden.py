"""The text of two commands, line by line as it was last looked over. How to renew it: tests/golden/README.md."""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

from tests.cli.running import SMALL_ROOM, run

GOLDEN = Path(__file__).parents[1] / "golden"
RENEW = "MEDIACOST_RENEW_GOLDEN"

COMMANDS = {
    "small_room_compare.txt": ("compare", SMALL_ROOM),
    "small_room_explain_break_even.txt": ("explain", SMALL_ROOM, "--medium", "steel", "--figure", "break-even"),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_text_is_as_it_was_looked_over(capsys, monkeypatch, name):
    monkeypatch.setenv("COLUMNS", "110")
    ran = run(capsys, *COMMANDS[name])
    assert (ran.code, ran.err) == (0, "")
    path = GOLDEN / name
    if os.environ.get(RENEW):
        path.write_text(ran.out, encoding="utf-8", newline="\n")
    seen = path.read_text(encoding="utf-8").splitlines()
    changed = list(difflib.unified_diff(seen, ran.out.splitlines(), f"tests/golden/{name}", "printed now", lineterm=""))
    assert not changed, f"{name} differs; {RENEW}=1 writes it anew:\n" + "\n".join(changed)
