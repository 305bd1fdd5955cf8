"""A comparison on the command line stays light, and needs neither window, chart nor spreadsheet library."""

from __future__ import annotations

import json

import pytest

from tests.house.places import SAMPLES, run_python

HEAVY = ["PySide6", "matplotlib", "openpyxl", "pandas", "scipy", "tomlkit"]

LOADED = """
import contextlib, io, sys
from mediacost.__main__ import main
heavy, arguments = sys.argv[1].split(","), sys.argv[2:]
printed = io.StringIO()
with contextlib.redirect_stdout(printed):
    code = main(arguments)
assert code == 0, code
assert len(printed.getvalue()) > 200, printed.getvalue()
print(sorted({name.partition(".")[0] for name in sys.modules} & set(heavy)))
"""

BLOCKED = """
import sys

class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in blocked:
            raise ImportError(f"{name} is blocked here")

blocked, arguments = sys.argv[1].split(","), sys.argv[2:]
sys.meta_path.insert(0, Blocked())
for name in blocked:
    try:
        __import__(name)
    except ImportError:
        continue
    raise AssertionError(f"{name} is not blocked")
from mediacost.__main__ import main
sys.exit(main(arguments))
"""


@pytest.mark.parametrize("options", [[], ["--json"]], ids=["text", "json"])
def test_compare_loads_nothing_heavy(options: list[str]) -> None:
    done = run_python(LOADED, ",".join(HEAVY), "compare", SAMPLES[0], *options)
    assert (done.returncode, done.stdout) == (0, "[]\n"), done.stdout + done.stderr


def test_a_heavy_library_would_be_seen() -> None:
    done = run_python("import openpyxl" + LOADED, ",".join(HEAVY), "compare", SAMPLES[0])
    assert (done.returncode, done.stdout) == (0, "['openpyxl']\n"), done.stdout + done.stderr


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_evaluated_without_the_outer_libraries(sample: object) -> None:
    done = run_python(BLOCKED, "PySide6,matplotlib,openpyxl", "compare", sample, "--json")
    assert done.returncode == 0, done.stderr
    media = json.loads(done.stdout)["media"]
    assert len(media) >= 2
    assert all(each["cost_per_kg"] > 0 for each in media)
