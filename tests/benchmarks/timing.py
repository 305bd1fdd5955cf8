"""Measure whole programs against a reference, and calls in a warm program; print what came out."""

from __future__ import annotations

import statistics
import subprocess
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Finding:
    """One measured thing: its median, what it is held to, and the limit, all in the same unit."""

    what: str
    measured: float
    limit: float
    unit: str
    remark: str = ""

    @property
    def within(self) -> bool:
        """Whether the limit holds."""
        return self.measured <= self.limit


def medians_in_turn(commands: Mapping[str, Sequence[str]], rounds: int) -> dict[str, float]:
    """Median wall-clock seconds of each command, all of them started once in every round.

    One round before is not counted: it fills the file cache and writes bytecode.
    """
    times: dict[str, list[float]] = {name: [] for name in commands}
    for number in range(rounds + 1):
        for name, command in commands.items():
            taken = seconds_of(command)
            if number > 0:
                times[name].append(taken)
    return {name: statistics.median(taken) for name, taken in times.items()}


def seconds_of(command: Sequence[str]) -> float:
    """Wall-clock seconds of one whole process, which must succeed."""
    start = time.perf_counter()
    subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def median_of_calls(call: Callable[[], object], warm_up: int = 5, runs: int = 200) -> float:
    """Median seconds of a call in this process, after some calls that are not counted."""
    for _ in range(warm_up):
        call()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def report(findings: Sequence[Finding]) -> int:
    """Print the table; return 1 if a limit does not hold, else 0."""
    width = max(len(finding.what) for finding in findings)
    print(f"{'':{width}}  {'measured':>10}  {'limit':>10}")
    for finding in findings:
        verdict = "ok" if finding.within else "TOO SLOW"
        figures = f"{finding.measured:>10.2f}  {finding.limit:>10.2f} {finding.unit}"
        print(f"{finding.what:{width}}  {figures:27}  {verdict:8}  {finding.remark}".rstrip())
    return 0 if all(finding.within for finding in findings) else 1
