"""How long one comparison takes: as a whole program, and again in a warm one (each key typed in the window)."""

from __future__ import annotations

import sys

from mediacost.results import compare
from mediacost.scenario import read_file
from tests.benchmarks.timing import ROOT, Finding, median_of_calls, medians_in_turn, report

SAMPLE = ROOT / "sample_scenarios" / "two_crop_room.toml"
ROUNDS = 15

COMMANDS = {
    "compare": [sys.executable, "-m", "mediacost", "compare", str(SAMPLE), "--json"],
    "reference": [sys.executable, "-c", "import numpy, pydantic"],
}


def main() -> int:
    """Measure, print, and return 1 if a limit does not hold."""
    return report([whole_program(), warm_evaluation()])


def whole_program() -> Finding:
    """`mediacost compare --json` against starting Python with the two libraries that it cannot do without."""
    seconds = medians_in_turn(COMMANDS, ROUNDS)
    remark = ", ".join(f"{name} {1e3 * taken:.0f} ms" for name, taken in seconds.items())
    ratio = seconds["compare"] / seconds["reference"]
    return Finding("compare --json / import numpy, pydantic", ratio, 2.0, "x", remark)


def warm_evaluation() -> Finding:
    """One comparison of a scenario that is already read."""
    scenario = read_file(SAMPLE).scenario
    return Finding("one comparison, warm", 1e3 * median_of_calls(lambda: compare(scenario)), 5.0, "ms")


if __name__ == "__main__":
    sys.exit(main())
