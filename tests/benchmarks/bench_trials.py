"""How long a trial takes to analyse: against the bare scipy calls it stands for, and with ten thousand trays."""

from __future__ import annotations

import json
import sys
import tomllib

import numpy as np
from scipy import stats

from mediacost.formulas.trial_distributions import range_critical
from mediacost.results import compare
from mediacost.results.evaluation import evaluate
from mediacost.results.trial_analysis import analyse
from mediacost.results.trials import trials_answer
from mediacost.scenario import Scenario, check, read_file
from tests.benchmarks.timing import ROOT, Finding, median_of_calls, report

SAMPLE = ROOT / "sample_scenarios" / "small_room.toml"
BLOCKED = ROOT / "sample_scenarios" / "blocked_trial.toml"
MEDIA = ("pad", "steel", "silicone")


def main() -> int:
    """Measure, print, and return 1 if a limit does not hold."""
    return report([*sixty_trays(), ten_thousand_trays(), comparison_with_blocks()])


def room(groups: list[list[float]], blocked: bool) -> Scenario:
    """The small room with a trial of these weights, a medium a group."""
    trays = [
        {"tray": f"{medium}{at}", "medium": medium, "harvest_g": weight, "block": str(at) if blocked else ""}
        for medium, weights in zip(MEDIA, groups, strict=True)
        for at, weight in enumerate(weights)
    ]
    data = tomllib.loads(SAMPLE.read_text(encoding="utf-8"))
    checked = check(data | {"trials": [{"id": "t", "crop": "radish", "trays": trays}]})
    assert checked.scenario is not None
    return checked.scenario


def weights(trays: int) -> list[list[float]]:
    """Drawn weights, so many of each medium."""
    return np.random.default_rng(1).normal([[250], [258], [240]], 20, (3, trays)).round(1).tolist()


def sixty_trays() -> list[Finding]:
    """Twenty of each medium: the whole analysis against the scipy calls that a careful person would type."""
    groups = weights(20)
    bare = 1e3 * median_of_calls(lambda: bare_scipy(groups), warm_up=1, runs=7)
    findings = []
    for words, blocked in (("60 trays / bare scipy calls", False), ("60 trays in blocks / bare scipy calls", True)):
        scenario = room(groups, blocked)
        evaluation = evaluate(scenario)

        def once(scenario=scenario, evaluation=evaluation) -> None:
            range_critical.cache_clear()
            analyse(scenario, evaluation, "radish", scenario.trials)

        ours = 1e3 * median_of_calls(once, warm_up=1, runs=7)
        findings.append(Finding(words, ours / bare, 3.0, "x", f"{ours:.0f} ms / {bare:.0f} ms"))
    return findings


def bare_scipy(groups: list[list[float]]) -> None:
    """Overall test, spreads, shape, all pairs and against the first, with their intervals."""
    stats.f_oneway(*groups)
    stats.levene(*groups, center="median")
    stats.shapiro(np.concatenate([np.array(group) - np.mean(group) for group in groups]))
    stats.tukey_hsd(*groups).confidence_interval()
    stats.dunnett(*groups[1:], control=groups[0], random_state=1).confidence_interval()


def ten_thousand_trays() -> Finding:
    """From a document as plain data, through its checks, to the answer: 3,333 blocks of three."""
    groups = weights(3_333)
    whole = room(groups, True)
    data = json.loads(whole.model_dump_json(exclude_unset=True))

    def once() -> None:
        range_critical.cache_clear()
        checked = check(data)
        assert checked.scenario is not None
        trials_answer(checked.scenario)

    return Finding("10,000 trays checked and analysed, warm", median_of_calls(once, warm_up=1, runs=3), 2.0, "s")


def comparison_with_blocks() -> Finding:
    """One comparison whose weights are adjusted means."""
    scenario = read_file(BLOCKED).scenario
    return Finding(
        "one comparison on a blocked trial, warm", 1e3 * median_of_calls(lambda: compare(scenario)), 5.0, "ms"
    )


if __name__ == "__main__":
    sys.exit(main())
