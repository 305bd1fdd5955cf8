"""What else a trial's record tells: slips, assumptions, failed trays, cycles served, and what to be wary of."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, covariate_slope
from mediacost.formulas.trial_checks import LEAST_FOR_SPREADS, bell_shape, like_spreads, media_and_blocks_add_up
from mediacost.formulas.trial_distributions import share_interval
from mediacost.formulas.trial_means import interval
from mediacost.formulas.trial_suspects import ALARM, largest_residual, swapped_pairs
from mediacost.formulas.trial_variance import FTest, f_test
from mediacost.results import words
from mediacost.results.trial_answers import CycleSlope, FailedTrays, Interval, Suspect
from mediacost.results.trial_trays import Weighed, weighed
from mediacost.results.trial_verdict import span_words
from mediacost.scenario import Scenario, Trial, likely

FEW_TRAYS = 4
"""Trays per medium below which a warning is given: trials of 4 to 6 are usual (common practice, no source)."""


def suspects(found: Weighed, fit: AdditiveFit, names: dict[str, str]) -> tuple[Suspect, ...]:
    """Neighbours that look swapped, else the tray that stands out."""
    swaps = swapped_pairs(fit, found.grams, found.medium, found.cell, _neighbours(found))
    if swaps:
        return tuple(_swap(found, swap.first, swap.second, names) for swap in swaps)
    alone = largest_residual(fit, found.medium, found.cell)
    if alone is None or alone.p >= ALARM:
        return ()
    trial, tray = found.trays[alone.place]
    side = "more" if alone.residual > 0 else "less"
    text = (
        f"{_tray_words(found, alone.place, names)} weighs {words.number(abs(alone.residual), 3)} g {side} than its "
        f"medium and block would have it. Look at the record before you trust or discard it: nothing was changed."
    )
    return (Suspect("stands out", ((trial.id, tray.tray),), text),)


def _swap(found: Weighed, first: int, second: int, names: dict[str, str]) -> Suspect:
    trays = tuple((trial.id, tray.tray) for trial, tray in (found.trays[first], found.trays[second]))
    text = (
        f"{_tray_words(found, first, names)} and {_tray_words(found, second, names)} look as if their weights were "
        f"swapped. Look at the record sheet: nothing was changed."
    )
    return Suspect("swapped", trays, text)


def _tray_words(found: Weighed, place: int, names: dict[str, str]) -> str:
    tray = found.trays[place][1]
    where = f", {tray.block}" if tray.block else ""
    return f"Tray {tray.tray} ({names[tray.medium]}{where})"


def _neighbours(found: Weighed) -> list[tuple[int, int]]:
    """Trays of one cell that stood side by side; where positions are not recorded, in the order of the record."""
    order = np.argsort(found.cell, kind="stable")
    ends = np.flatnonzero(np.diff(found.cell[order])) + 1
    return [pair for places in np.split(order, ends) for pair in _side_by_side(found, places.tolist())]


def _side_by_side(found: Weighed, places: Sequence[int]) -> list[tuple[int, int]]:
    positions = [(found.trays[place][1].position, place) for place in places]
    row = sorted((position, place) for position, place in positions if position is not None)
    if len(row) < len(places):
        return list(zip(places, places[1:], strict=False))
    return [(a, b) for (here, a), (there, b) in zip(row, row[1:], strict=False) if there - here == 1]


def assumptions(found: Weighed, fit: AdditiveFit, names: dict[str, str]) -> tuple[str, ...]:
    """Whether what the analysis takes for granted holds, in words."""
    said = []
    groups = [fit.residuals[found.medium == at] for at in range(len(found.media))]
    _, spread = like_spreads(groups)
    if math.isnan(spread):
        said.append(f"Spreads were not compared: that takes {LEAST_FOR_SPREADS} trays of every medium.")
    elif spread < ALARM:
        widest = max(range(len(groups)), key=lambda at: float(groups[at].std()))
        said.append(f"The media spread differently ({_chance(spread)}), {names[found.media[widest]]} the most.")
    else:
        said.append(f"The media spread alike, as far as can be seen ({_chance(spread)}).")
    _, shape = bell_shape(fit.residuals)
    if not math.isnan(shape):
        fits = "does not look" if shape < ALARM else "looks"
        said.append(f"What is left of the weights {fits} like plain chance on a bell curve ({_chance(shape)}).")
    bend = media_and_blocks_add_up(fit, found.grams, found.medium, found.cell)
    if not math.isnan(bend):
        fits = (
            "grow or shrink with"
            if bend < ALARM
            else "are as large in rich blocks as in poor ones, as far as can be seen"
        )
        end = " how rich the block is" if bend < ALARM else ""
        said.append(f"Differences between media {fits}{end} ({_chance(bend)}).")
    if len(found.grams) < 12:
        said.append("With so few trays these looks can hardly find a fault.")
    return tuple(said)


def agreement_between_trials(scenario: Scenario, trials: Sequence[Trial], pooled: AdditiveFit) -> FTest | None:
    """Whether the media differ alike in every trial: media times trials against the residual within trials."""
    square, df = 0.0, 0
    for trial in trials:
        found = weighed(scenario, [trial])
        if len(found.apart) != 1:
            return None
        own = found.fit()
        square, df = square + own.residual_square, df + own.residual_df
    test = f_test(pooled.residual_square - square, pooled.residual_df - df, square, df)
    return None if math.isnan(test.p) else test


def _chance(p: float) -> str:
    return "p below 0.001" if p < 0.001 else f"p {p:.3f}"


def cycle_slopes(found: Weighed, names: dict[str, str], reusable: set[str]) -> tuple[CycleSlope, ...]:
    """How the weight of each reusable medium changes with the cycles that its sheet had served."""
    slopes = (_cycle_slope(found, at, names) for at, medium in enumerate(found.media) if medium in reusable)
    return tuple(slope for slope in slopes if slope is not None)


def _cycle_slope(found: Weighed, at: int, names: dict[str, str]) -> CycleSlope | None:
    cycles = [tray.cycle for _, tray in found.trays]
    kept = np.array([code != at or cycle is not None for code, cycle in zip(found.medium, cycles, strict=True)])
    own = np.array(
        [cycle for code, cycle in zip(found.medium, cycles, strict=True) if code == at and cycle is not None]
    )
    if len(own) < 3 or own.min() == own.max():
        return None
    covariate = np.zeros(len(found.grams))
    covariate[(found.medium == at) & kept] = own - own.mean()
    _, medium = np.unique(found.medium[kept], return_inverse=True)
    _, cell = np.unique(found.cell[kept], return_inverse=True)
    try:
        slope, error, df = covariate_slope(found.grams[kept], covariate[kept], medium, cell)
    except ValueError:
        return None
    if df < 1:
        return None
    low, high = interval(slope, error, df)
    name = names[found.media[at]]
    change = f"{words.number(abs(slope), 2)} g {'more' if slope > 0 else 'less'} for each cycle served"
    text = f"{name}: {change} ({span_words(low, high)})"
    verdict = "; whether it changes with age cannot be told yet." if low <= 0 <= high else "."
    return CycleSlope(
        found.media[at], len(own), int(own.min()), int(own.max()), slope, Interval(low, high), text + verdict
    )


def failed_trays(
    scenario: Scenario, crop: str, trials: Sequence[Trial], names: dict[str, str]
) -> tuple[FailedTrays, ...]:
    """Failed trays of each medium beside the share that the document uses."""
    results = []
    for medium in scenario.media:
        failed = weighed_too = 0
        for trial in trials:
            for tray in trial.trays:
                if tray.medium == medium.id and not (tray.guard or tray.discard):
                    failed += tray.failed
                    weighed_too += tray.is_measured
        tries = failed + weighed_too
        if not tries:
            continue
        pair = scenario.pair(medium.id, crop)
        own = None if pair is None else pair.failed_share
        share = likely(medium.failed_share if own is None else own)
        low, high = share_interval(failed, tries)
        text = (
            f"{names[medium.id]}: {failed} of {words.counted(tries, 'tray')} failed, which fits a share of "
            f"{words.percent(low)} to {words.percent(high)}; the answer uses {words.percent(share)}"
        )
        fits = low <= share <= high
        text += "." if fits else ", which does not fit."
        results.append(FailedTrays(medium.id, failed, tries, Interval(low, high), share, fits, text))
    return tuple(results)


def warnings(scenario: Scenario, trials: Sequence[Trial], found: Weighed, names: dict[str, str]) -> Iterator[str]:
    """What to be wary of in the record."""
    for trial in trials:
        yield from _of_one_trial(trial, found, names)
    yield from _few(found, names)
    yield from _states(found)
    reusable = [medium.id for medium in scenario.media if medium.use == "reusable" and medium.id in found.media]
    for medium in reusable:
        yield from _only_new(found, medium, names)


def _of_one_trial(trial: Trial, found: Weighed, names: dict[str, str]) -> Iterator[str]:
    kept = [tray for tray in trial.trays if tray.is_measured]
    blocks = {tray.block for tray in kept}
    if blocks == {""} and len(kept) > 1:
        yield f"{trial.id}: no blocks are recorded, so better and worse places stay in the spread between trays."
        return
    if "" in blocks and len(blocks) > 1:
        bare = [tray.tray for tray in kept if not tray.block]
        shown = words.listed(bare[:5]) + (f" and {len(bare) - 5} more" if len(bare) > 5 else "")
        yield f"{trial.id}: the block is missing on tray {shown}; trays without one are taken as a block of their own."
    here = [medium for medium in found.media if any(tray.medium == medium for tray in kept)]
    for medium in here:
        missing = sorted(blocks - {tray.block for tray in kept if tray.medium == medium} - {""})
        if missing:
            shown = words.listed(missing[:5]) + (f" and {len(missing) - 5} more" if len(missing) > 5 else "")
            yield f"{trial.id}: {names[medium]} has no tray that counts in {shown}; the adjusted means allow for it."


def _few(found: Weighed, names: dict[str, str]) -> Iterator[str]:
    few = [names[medium] for at, medium in enumerate(found.media) if (found.medium == at).sum() < FEW_TRAYS]
    if few:
        yield f"Fewer than {FEW_TRAYS} trays count on {words.listed(few)}."


def _states(found: Weighed) -> Iterator[str]:
    states = list(dict.fromkeys(tray.state for _, tray in found.trays))
    if len(states) > 1:
        yield f"Trays were weighed {words.listed(list(states))}: clinging water counts as harvest, so weigh all alike."
    wet = {tray.drained_minutes for _, tray in found.trays if tray.state != "dry"}
    if len(wet) > 1:
        yield "Wet trays drained for different times before weighing."


def _only_new(found: Weighed, medium: str, names: dict[str, str]) -> Iterator[str]:
    cycles = [tray.cycle for _, tray in found.trays if tray.medium == medium]
    known = [cycle for cycle in cycles if cycle is not None]
    if not known:
        said = "the cycles served are not recorded, so it is not known whether new or used sheets were tried"
        yield f"{names[medium]}: {said}."
    elif max(known) == 0:
        yield f"{names[medium]} was tried only new; clogging and smell come later, so try used sheets too."
