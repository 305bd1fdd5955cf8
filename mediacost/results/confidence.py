"""How sure the answer is: the spread of every figure, the chance of being best, and what would flip it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from mediacost.results.answers import Answer, Kind, NoAnswer
from mediacost.results.comparison import compare
from mediacost.results.confidence_answers import Confidence, MediumConfidence, MediumTies, Spread
from mediacost.results.measures import LEAD_BASIS, MEASURES
from mediacost.results.outcomes import Floats
from mediacost.results.study import DEFAULT_DRAWS, DEFAULT_SEED, Cancelled, Progress, Study, run_study
from mediacost.results.sureness import sureness
from mediacost.results.swings import find_swings
from mediacost.results.ties import find_ties
from mediacost.results.value_of_knowing import find_value
from mediacost.scenario import Scenario

SHARES = (0.05, 0.50, 0.95)
"""Shares of the draws at which a spread is given."""

_BASELINE = NoAnswer(Kind.BASELINE, "this is the baseline, the medium in use today")
_NO_HARVEST = NoAnswer(Kind.NO_HARVEST, "nothing saleable is harvested in so many of the draws")
_NO_LABOUR = NoAnswer(Kind.NO_LABOUR, "no minutes of labour are given")
_NO_DIFFERENCE = NoAnswer(Kind.NO_HARVEST, "one of the two has no such figure in some of the draws")


def how_sure(
    scenario: Scenario,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
    *,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Confidence:
    """Work out how sure the answer of a checked document is. The same seed gives the same figures.

    Raises as :func:`mediacost.results.study.run_study` does.
    """
    study = run_study(scenario, draws, seed, progress=progress, cancelled=cancelled)
    return confidence_of(scenario, study)


def confidence_of(scenario: Scenario, study: Study, ties: tuple[MediumTies, ...] | None = None) -> Confidence:
    """Sum a study up, and search for what would flip its answer unless the ties are known already.

    Ties do not depend on the draws, so a quick look and the full run can share them.
    """
    limit = scenario.room.limit
    single = compare(scenario)
    media = tuple(_medium(scenario, study, at) for at in range(len(scenario.media)))
    ties = find_ties(scenario) if ties is None else ties
    value = find_value(scenario, study)
    return Confidence(
        title=scenario.title,
        currency=scenario.currency,
        baseline=scenario.baseline_id,
        limit=limit,
        basis=LEAD_BASIS[limit],
        measure=MEASURES[limit].name,
        best=single.best,
        draws=study.draws,
        seed=study.seed,
        horizon_months=scenario.room.horizon_months,
        inputs=study.plan.inputs,
        notes=study.plan.notes,
        media=media,
        swings=find_swings(scenario, study.plan, ties),
        value=value,
        ties=ties,
        sureness=sureness(media, scenario.baseline_id, single.best, study.plan, value, scenario.currency),
    )


def _medium(scenario: Scenario, study: Study, at: int) -> MediumConfidence:
    document, figures, baseline = scenario.media[at], study.figures, at == study.baseline
    measure = MEASURES[scenario.room.limit]
    months = scenario.room.horizon_months
    never = NoAnswer(Kind.NEVER, f"never: the money is not back at the end of the {months} months looked at")

    def spread(name: str, missing: NoAnswer = _NO_HARVEST) -> Spread:
        return spread_of(figures[name][at], missing)

    def less_baseline(name: str) -> Spread:
        if baseline:
            return Spread(_BASELINE, _BASELINE, _BASELINE)
        with np.errstate(invalid="ignore"):
            return spread_of(figures[name][at] - figures[name][study.baseline], _NO_DIFFERENCE)

    def against(work_out: Callable[[], float]) -> Answer:
        return _BASELINE if baseline else work_out()

    nothing = Spread(_BASELINE, _BASELINE, _BASELINE)
    chances = {each.name: float((study.best[limit] == at).mean()) for limit, each in MEASURES.items()}
    return MediumConfidence(
        id=document.id,
        name=document.name,
        ranked=study.ranked[at],
        cost_per_kg=spread("cost_per_kg"),
        cost_per_kg_same_harvest=spread("cost_per_kg_same_harvest"),
        margin_per_tray=spread("margin_per_tray"),
        margin_per_shelf_day=spread("margin_per_shelf_day"),
        return_to_labour_per_hour=spread("return_to_labour_per_hour", _NO_LABOUR),
        payback_months=nothing if baseline else spread("payback_months", never),
        npv=nothing if baseline else spread("npv"),
        chance_best=chances[measure.name],
        chance_best_on=chances,
        chance_pays=against(lambda: float(np.isfinite(figures["payback_months"][at]).mean())),
        chance_beats_baseline=against(lambda: _chance_better(study, at, measure.name, measure.more_is_better)),
        difference=less_baseline(measure.name),
        saving_per_year=less_baseline("worth_per_year"),
    )


def _chance_better(study: Study, at: int, name: str, more_is_better: bool) -> float:
    ours, theirs = study.figures[name][at], study.figures[name][study.baseline]
    with np.errstate(invalid="ignore"):
        return float((ours > theirs if more_is_better else ours < theirs).mean())


def spread_of(values: Floats, missing: NoAnswer) -> Spread:
    """The values that 5, 50 and 95 % of the draws do not exceed, each a draw itself; the reason where it is none."""
    if np.isnan(values).any():
        return Spread(missing, missing, missing)
    places = [max(0, int(np.ceil(share * len(values))) - 1) for share in SHARES]
    found = np.partition(values, places)[places]
    return Spread(*(float(value) if np.isfinite(value) else missing for value in found))
