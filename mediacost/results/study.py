"""Runs a scenario through many draws, in blocks, so that memory stays bounded and somebody can stop it."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mediacost.errors import Fault, InputFaults, MediacostError
from mediacost.formulas.sampling import share_blocks
from mediacost.results import words
from mediacost.results.cash_flow import CashBook
from mediacost.results.draws import DrawPlan, plan_draws
from mediacost.results.measures import MEASURES
from mediacost.results.outcomes import (
    Floats,
    MoneyOutcome,
    TrayOutcome,
    evaluate_on,
    first_best,
    money_outcome,
    rank_values,
    tray_outcome,
)
from mediacost.results.reading import Keys
from mediacost.scenario import Scenario

DEFAULT_DRAWS = 8192
DEFAULT_SEED = 1
FEWEST_DRAWS = 256
"""Fewer draws than this tell nothing of the ends of a spread."""

MOST_BYTES = 1_000_000_000
"""More than this is not kept in memory: a small laptop has a few times as much."""

KEPT = 16_384
"""So many draws are kept with the inputs that were drawn, for the value of knowing each."""

BLOCK = 16_384

Progress = Callable[[float], None]
Cancelled = Callable[[], bool]


class StudyCancelledError(MediacostError):
    """Somebody asked for the study to stop."""


@dataclass(frozen=True, slots=True)
class Study:
    """All draws of a scenario. ``figures`` by name: one row for each medium, one column for each draw.

    ``best`` is by measure: the number of the best medium in each draw, -1 where none can be ranked. ``inputs`` are
    the values drawn, one row for each uncertain input, of the first draws only.
    """

    plan: DrawPlan
    draws: int
    seed: int
    baseline: int
    ranked: tuple[bool, ...]
    figures: Mapping[str, Floats]
    best: Mapping[str, NDArray[np.intp]]
    inputs: Floats


def run_study(
    scenario: Scenario,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
    *,
    money: bool = True,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Study:
    """Work every medium out on so many draws of everything that is uncertain.

    ``money`` False leaves payback and present value out, which saves most of the time. ``progress`` is told the share
    that is done, ``cancelled`` is asked before each block. Raises :class:`mediacost.errors.InputFaults` for a number
    of draws that is too small or too large, or where the comparison would; :class:`StudyCancelledError` when stopped.
    """
    _refuse_draws(scenario, draws)
    plan = plan_draws(scenario)
    names = (*TrayOutcome._fields, *(MoneyOutcome._fields if money else ()))
    ranked = tuple(all(each.met != "no" for each in medium.conditions) for medium in scenario.media)
    figures = {name: np.empty((len(scenario.media), draws)) for name in names}
    best = {limit: np.empty(draws, dtype=np.intp) for limit in MEASURES}
    kept = np.empty((len(plan.inputs), min(draws, KEPT)))
    baseline, start = 0, 0
    for shares in share_blocks(draws, len(plan.inputs), seed, BLOCK):
        if cancelled is not None and cancelled():
            raise StudyCancelledError("stopped before all draws were done")
        here = slice(start, start + shares.shape[1])
        replaced = plan.draw(shares)
        for at, each in enumerate(plan.inputs):
            kept[at, here] = replaced[each.keys][: max(0, kept.shape[1] - start)]
        baseline = _block(scenario, replaced, here, ranked, figures, best)
        start = here.stop
        if progress is not None:
            progress(start / draws)
    return Study(plan, draws, seed, baseline, ranked, figures, best, kept)


def _block(
    scenario: Scenario,
    replaced: Mapping[Keys, Floats],
    here: slice,
    ranked: tuple[bool, ...],
    figures: Mapping[str, Floats],
    best: Mapping[str, NDArray[np.intp]],
) -> int:
    """Work one block out, write it where it belongs, and return the number of the baseline."""
    limit, size = scenario.room.limit, here.stop - here.start
    evaluation = evaluate_on(scenario, replaced)
    trays = [tray_outcome(evaluation, at, limit) for at in range(len(ranked))]
    for name in TrayOutcome._fields:
        for at, outcome in enumerate(trays):
            figures[name][at, here] = getattr(outcome, name)
    for each, measure in MEASURES.items():
        values = [rank_values(outcome, measure.name, measure.more_is_better) for outcome in trays]
        open_to = [
            np.broadcast_to(value if may else float("-inf"), size) for value, may in zip(values, ranked, strict=True)
        ]
        best[each][here] = first_best(open_to)
    baseline = evaluation.numbers.baseline
    if "npv" in figures:
        book = CashBook(evaluation)
        for at in range(len(ranked)):
            money = MoneyOutcome(0.0, 0.0) if at == baseline else money_outcome(evaluation, book, at, limit)
            for name in MoneyOutcome._fields:
                figures[name][at, here] = getattr(money, name)
    return baseline


# How many draws -----------------------------------------------------------------------------------


def bytes_for(scenario: Scenario, draws: int) -> int:
    """Memory that so many draws need [bytes]."""
    figures = len(TrayOutcome._fields) + len(MoneyOutcome._fields)
    return draws * 8 * (figures * len(scenario.media) + len(MEASURES) + 4)


def _refuse_draws(scenario: Scenario, draws: int) -> None:
    most = MOST_BYTES // bytes_for(scenario, 1)
    if FEWEST_DRAWS <= draws <= most:
        return
    shown = words.number(draws, 12)
    problem = f"{shown} draws tell nothing"
    if draws > most:
        seconds = draws * _seconds_a_draw(scenario)
        problem = f"{shown} draws would need about {_size(bytes_for(scenario, draws))} and {_duration(seconds)}"
    raise InputFaults(
        [Fault("", "--draws", problem, f"a whole number from {FEWEST_DRAWS} to {words.number(most, 12)}")]
    )


def _seconds_a_draw(scenario: Scenario) -> float:
    """Timed on a block here and now, after a few draws that load what is needed."""
    run_study(scenario, FEWEST_DRAWS)
    begun = time.perf_counter()
    run_study(scenario, BLOCK)
    return (time.perf_counter() - begun) / BLOCK


def _size(bytes: float) -> str:
    return f"{words.number(bytes / 1e9, 2)} GB of memory"


def _duration(seconds: float) -> str:
    if seconds < 120:
        return f"{words.number(seconds, 2)} seconds"
    if seconds < 7200:
        return f"{words.number(seconds / 60, 2)} minutes"
    return f"{words.number(seconds / 3600, 2)} hours"
