"""How long draws, ties and the value of knowing take, and how the time grows; ratios within one run."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from mediacost.formulas.sampling import share_blocks
from mediacost.results.draws import DrawPlan, DrawReading, plan_draws
from mediacost.results.evaluation import evaluate
from mediacost.results.outcomes import tray_outcome
from mediacost.results.study import BLOCK, run_study
from mediacost.results.ties import find_ties
from mediacost.results.value_of_knowing import find_value
from mediacost.scenario import Scenario, check, read_file
from mediacost.scenario.edits import set_value
from tests.benchmarks.timing import ROOT, Finding, report

SAMPLE = ROOT / "sample_scenarios" / "two_crop_room.toml"
MANY, LOOPED, USUAL = 1_000_000, 20_000, 8192

PEAK = """
import resource
from mediacost.results.study import run_study
from mediacost.scenario import read_file
run_study(read_file({path!r}).scenario, {draws}, money=False)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def main() -> int:
    """Measure, print, and return 1 if a limit does not hold."""
    scenario = read_file(SAMPLE).scenario
    plan = plan_draws(scenario)
    run_study(scenario, USUAL)
    findings = [*a_million(scenario, plan), peak_memory(), with_payback(scenario)]
    findings += [value_of_knowing(scenario), all_ties(scenario), *growth(scenario)]
    return report(findings)


def seconds(call: Callable[[], object], runs: int = 1) -> float:
    """Least seconds of some runs."""
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        taken.append(time.perf_counter() - start)
    return min(taken)


def draw_alone(plan: DrawPlan, draws: int) -> None:
    """Everything that a study draws, and nothing else."""
    for shares in share_blocks(draws, len(plan.inputs), 1, BLOCK):
        plan.draw(shares)


def looped(scenario: Scenario, plan: DrawPlan, draws: int) -> None:
    """The same model, one draw after the other."""
    shares = np.concatenate(list(share_blocks(draws, len(plan.inputs), 1, BLOCK)), axis=1)
    drawn = plan.draw(shares)
    for values in zip(*(each.tolist() for each in drawn.values()), strict=True):
        evaluation = evaluate(scenario, DrawReading(dict(zip(drawn, values, strict=True))))
        for at in range(len(evaluation.media)):
            tray_outcome(evaluation, at, scenario.room.limit)


def a_million(scenario: Scenario, plan: DrawPlan) -> list[Finding]:
    """Tray figures of a million draws, 4 media, 2 crops: against the drawing alone, and against a plain loop."""
    drawing = seconds(lambda: draw_alone(plan, MANY), 2)
    whole = seconds(lambda: run_study(scenario, MANY, money=False), 2)
    loop = seconds(lambda: looped(scenario, plan, LOOPED)) * MANY / LOOPED
    remark = f"{whole:.2f} s and {drawing:.2f} s for {len(plan.inputs)} inputs"
    faster = f"{loop / whole:.0f} x faster than {loop:.0f} s, measured on {LOOPED} draws"
    return [
        Finding("1e6 draws, tray figures / drawing alone", whole / drawing, 4.0, "x", remark),
        Finding("1e6 draws, arrays in per cent of a plain loop", 100 * whole / loop, 100 / 30, "%", faster),
    ]


def peak_memory() -> Finding:
    """Most memory of a program of its own that does the same million draws."""
    code = PEAK.format(path=str(SAMPLE), draws=MANY)
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True, text=True)
    kilobytes = int(done.stdout) / (1024 if sys.platform == "darwin" else 1)
    return Finding("1e6 draws, peak memory", kilobytes / 1024, 600, "MB")


def with_payback(scenario: Scenario) -> Finding:
    """The usual draws with payback over 36 months."""
    room = scenario.room.model_copy(update={"horizon_months": 36})
    document = scenario.model_copy(update={"room": room})
    return Finding("8 192 draws with payback, 36 months", seconds(lambda: run_study(document, USUAL), 3), 1.0, "s")


def value_of_knowing(scenario: Scenario) -> Finding:
    """Each input by itself, more than 25 of them, the draws included."""
    count = len(plan_draws(scenario).inputs)
    taken = seconds(lambda: find_value(scenario, run_study(scenario, USUAL, money=False)), 2)
    return Finding("value of knowing each of 25 inputs", taken * 25 / count, 5.0, "s", f"{taken:.2f} s for {count}")


def all_ties(scenario: Scenario) -> Finding:
    """Every tie of every input, on all ways of counting."""
    find_ties(scenario)
    inputs = len(find_ties(scenario)[0].inputs)
    return Finding("all ties", seconds(lambda: find_ties(scenario), 3), 1.0, "s", f"{inputs} inputs, 3 media")


def growth(scenario: Scenario) -> list[Finding]:
    """Exponents of the time in draws, media and months: 1 is in proportion, below is better."""

    def media(count: int) -> Scenario:
        return with_media(scenario, count)

    def months(count: int) -> Scenario:
        return scenario.model_copy(update={"room": scenario.room.model_copy(update={"horizon_months": count})})

    rows: list[tuple[str, Sequence[int], Callable[[int], Callable[[], Any]]]] = [
        ("draws", (16_384, 65_536, 262_144), lambda n: lambda: run_study(scenario, n, money=False)),
        ("media", (4, 8, 16), lambda n: lambda: run_study(media(n), USUAL)),
        ("months", (24, 60, 120), lambda n: lambda: run_study(months(n), USUAL)),
    ]
    found = []
    for name, counts, made in rows:
        taken = [seconds(made(count), 3) for count in counts]
        exponent = float(np.polyfit(np.log(counts), np.log(taken), 1)[0])
        remark = ", ".join(f"{count}: {each:.2f} s" for count, each in zip(counts, taken, strict=True))
        found.append(Finding(f"time grows as {name} to the power of", exponent, 1.15, "", remark))
    return found


def with_media(scenario: Scenario, count: int) -> Scenario:
    """The sample with its media again and again under other ids."""
    data = scenario.model_dump(exclude_unset=True)
    kinds, pairs = list(data["media"]), list(data["pairs"])
    tried = [each["medium"] for each in pairs if each["crop"] == "broccoli"]
    for number in range(len(kinds), count):
        kind = kinds[number % len(kinds)]
        name = f"{kind['id']} {number}"
        data = set_value(data, ("media",), [*data["media"], {**kind, "id": name}])
        own = [{**pair, "medium": name} for pair in pairs if pair["medium"] == kind["id"]]
        if kind["id"] not in tried:
            own.append({"medium": name, "crop": "broccoli", "mean_g": 215})
        data = set_value(data, ("pairs",), [*data["pairs"], *own])
    checked = check(data)
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    return checked.scenario


if __name__ == "__main__":
    sys.exit(main())
