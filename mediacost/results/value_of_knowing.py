"""What it would be worth to know for sure, in money a year: everything, each uncertain input, and some together."""

from __future__ import annotations

import numpy as np

from mediacost.formulas.knowing import value_of_knowing_all, value_of_knowing_some
from mediacost.results.confidence_answers import Knowing, ValueOfKnowing
from mediacost.results.finding_out import WayToKnow, ways_one_by_one, ways_together
from mediacost.results.study import Study
from mediacost.scenario import Scenario

LUCK = 1e-3
"""Values below this share of knowing everything are within the luck of the draws and count as nothing."""


def find_value(scenario: Scenario, study: Study) -> ValueOfKnowing:
    """The expected value of perfect information per year: all inputs, one by one, and what is found out together.

    The choice is between the media that may be ranked and that can always deliver; what one is worth is the year's
    margin, or less the year's cost of the baseline's harvest where the market limits. No part is worth more than the
    whole.
    """
    worth = study.figures["worth_per_year"]
    open_to = [at for at, may in enumerate(study.ranked) if may and np.isfinite(worth[at]).all()]
    inputs = study.plan.inputs
    if len(open_to) < 2 or not inputs:
        return ValueOfKnowing(0.0, (), ())
    everything = value_of_knowing_all(worth[open_to])
    ways = [*ways_one_by_one(inputs), *ways_together(scenario, inputs)]
    few = study.inputs.shape[1]
    linked = [link.inputs for link in study.plan.links]
    found = value_of_knowing_some(worth[open_to, :few], study.inputs, [way.inputs for way in ways], linked)
    labour_rate = study.plan.values["room", "labour_rate"]

    def knowing(way: WayToKnow, value: float) -> Knowing:
        paths = tuple(inputs[at].path for at in way.inputs)
        told = min(value, everything) if value >= LUCK * everything else 0.0
        return Knowing(paths, way.label, told, way.what, way.hours * labour_rate)

    known = [knowing(way, float(value)) for way, value in zip(ways, found, strict=True) if not np.isnan(value)]
    dearest_first = sorted(known, key=lambda each: -each.per_year)
    return ValueOfKnowing(
        everything,
        tuple(each for each in dearest_first if len(each.paths) == 1),
        tuple(each for each in dearest_first if len(each.paths) > 1),
    )
