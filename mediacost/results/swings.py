"""What each uncertain input does to the answer, from its low to its high, all others at their likely values."""

from __future__ import annotations

import numpy as np

from mediacost.results.confidence_answers import MediumTies, Swing
from mediacost.results.draws import DrawPlan
from mediacost.results.measures import MEASURES
from mediacost.results.scan import WAYS, Points
from mediacost.scenario import Scenario


def find_swings(scenario: Scenario, plan: DrawPlan, ties: tuple[MediumTies, ...]) -> dict[str, tuple[Swing, ...]]:
    """By medium, the baseline left out: the swing of its difference to the baseline, longest first.

    The difference is the measure of the room's limit less that of the baseline; inputs that move it by nothing are
    left out.
    """
    if not plan.inputs:
        return {each.medium: () for each in ties}
    points = Points(scenario, plan.values, [each.keys for each in plan.inputs])
    places = np.repeat(np.arange(len(plan.inputs)), 2)
    ends = np.array([end for each in plan.inputs for end in (each.low, each.high)])
    leads = points.leads(places, ends)
    turn = 1.0 if MEASURES[scenario.room.limit].more_is_better else -1.0
    order = {medium.id: at for at, medium in enumerate(scenario.media)}
    found: dict[str, tuple[Swing, ...]] = {}
    for tie in ties:
        difference = turn * leads[order[tie.medium]].difference[WAYS.index("measure")]
        flips = {each.path: each.ways["measure"] for each in tie.inputs}
        swings = [
            Swing(
                each.path,
                each.label,
                each.unit,
                each.low,
                each.likely,
                each.high,
                float(difference[2 * at]),
                float(difference[2 * at + 1]),
                flips.get(each.path, ()),
            )
            for at, each in enumerate(plan.inputs)
        ]
        found[tie.medium] = tuple(_longest_first(swings))
    return found


def _longest_first(swings: list[Swing]) -> list[Swing]:
    told = [each for each in swings if np.isfinite(each.length) and each.length > 0]
    dust = 1e-12 * max((max(abs(each.at_low), abs(each.at_high)) for each in told), default=0.0)
    return sorted((each for each in told if each.length > dust), key=lambda each: -each.length)
