"""A trial before it is sown: how many trays can tell, what the blocks at hand can see, and where each tray goes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from mediacost.errors import Fault, InputFaults
from mediacost.formulas.trial_layout import block_layout
from mediacost.formulas.trial_power import residual_df, smallest_difference, trays_needed
from mediacost.results import words
from mediacost.results.trial_trays import used_trials, weighed
from mediacost.results.trial_verdict import MOST_BLOCKS
from mediacost.scenario import Scenario

USUAL_CV_PCT = 12.0
"""Spread between like trays where none was measured, per cent of the mean (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PlannedTray:
    """A tray to be sown: its label, where it stands, and its medium; a guard is grown and not weighed."""

    tray: str
    block: str
    position: int
    medium: str
    guard: bool


@dataclass(frozen=True, slots=True)
class TrialPlan:
    """A planned trial. Per cent are of the mean harvest weight.

    ``trays_needed`` of each medium see ``difference_pct`` four times in five (None beyond a thousand, or where no
    difference was named); ``smallest_seen_pct`` is what ``trays_per_medium`` see.
    """

    crop: str
    media: tuple[str, ...]
    seed: int
    trays_per_medium: int
    cv_pct: float
    cv_from: str
    difference_pct: float | None
    trays_needed: int | None
    smallest_seen_pct: float | None
    said: tuple[str, ...]
    trays: tuple[PlannedTray, ...]

    @property
    def records(self) -> list[dict[str, Any]]:
        """The trays as entries of a trial's ``trays``, to be filled in."""
        return [
            {"tray": each.tray, "medium": each.medium, "block": each.block, "position": each.position}
            | ({"guard": True} if each.guard else {})
            for each in self.trays
        ]


def plan_trial(
    scenario: Scenario,
    crop: str,
    media: Sequence[str],
    blocks: Sequence[str],
    seed: int,
    *,
    difference_pct: float | None = None,
    cv_pct: float | None = None,
    repeats: int = 1,
    guards: int = 1,
) -> TrialPlan:
    """Plan a randomised complete block trial, and say at once where no trial that can be laid settles the question.

    ``difference_pct`` is the difference that would change the purchase. ``cv_pct`` is the spread between like trays
    within a block; left out, that of the crop's used trials, else the usual one. Guards stand at both ends of each
    block, on today's medium where it takes part. Raises :class:`mediacost.errors.InputFaults`, one line for each
    fault.
    """
    faults = list(_faults(scenario, crop, media, blocks, seed, difference_pct, cv_pct, repeats, guards))
    if faults:
        raise InputFaults(faults)
    spread, came_from = _spread(scenario, crop, cv_pct)
    today = scenario.baseline_id
    comparisons = len(media) - 1 if today in media else len(media) * (len(media) - 1) // 2
    count = len(blocks) * repeats
    needed = None
    if difference_pct is not None:
        needed = trays_needed(difference_pct, spread, len(media), blocked=True, comparisons=comparisons)
    seen = _seen(spread, count, len(media), comparisons)
    return TrialPlan(
        crop=crop,
        media=tuple(media),
        seed=seed,
        trays_per_medium=count,
        cv_pct=spread,
        cv_from=came_from,
        difference_pct=difference_pct,
        trays_needed=needed,
        smallest_seen_pct=seen,
        said=tuple(_said(count, spread, came_from, difference_pct, needed, seen)),
        trays=_trays(media, today, blocks, seed, repeats, guards),
    )


def _faults(
    scenario: Scenario,
    crop: str,
    media: Sequence[str],
    blocks: Sequence[str],
    seed: int,
    difference_pct: float | None,
    cv_pct: float | None,
    repeats: int,
    guards: int,
) -> Iterator[Fault]:
    crops, known = [each.id for each in scenario.crops], [each.id for each in scenario.media]
    if crop not in crops:
        yield Fault("", "crop", f"there is no crop {crop}", f"one of {', '.join(crops)}")
    for medium in media:
        if medium not in known:
            yield Fault("", "media", f"there is no medium {medium}", f"some of {', '.join(known)}")
    if len(media) < 2 or len(set(media)) < len(media):
        yield Fault("", "media", "are too few or named twice", "two different media or more")
    if not blocks or len(set(blocks)) < len(blocks) or not all(block.strip() for block in blocks):
        yield Fault("", "blocks", "are none, named twice or without a name", "a name of its own for each block")
    for name, number, least in (("seed", seed, 0), ("repeats", repeats, 1), ("guards", guards, 0)):
        if number < least:
            yield Fault("", name, f"{number} is too small", f"a whole number of {least} or more")
    for name, share in (("difference_pct", difference_pct), ("cv_pct", cv_pct)):
        if share is not None and not 0 < share <= 100:
            yield Fault("", name, f"{share:g} is no difference to look for", "per cent, above 0 and at most 100")


def _spread(scenario: Scenario, crop: str, cv_pct: float | None) -> tuple[float, str]:
    if cv_pct is not None:
        return cv_pct, "as given"
    found = weighed(scenario, used_trials(scenario, crop))
    if len(found.apart) == 1:
        fit = found.fit()
        middle = float(fit.means.mean())
        if fit.residual_df >= 3 and fit.residual_square > 0 and middle > 0:
            return 100 * math.sqrt(fit.mean_square) / middle, "as measured in the trials of this crop"
    return USUAL_CV_PCT, "common practice, no source; measure yours"


def _seen(spread: float, count: int, media: int, comparisons: int) -> float | None:
    if count < 2:
        return None
    return smallest_difference(spread * math.sqrt(2 / count), residual_df(count, media, True), comparisons)


def _said(
    count: int, spread: float, came_from: str, difference_pct: float | None, needed: int | None, seen: float | None
) -> Iterator[str]:
    yield f"Like trays are taken to differ by {words.number(spread, 2)} % within a block ({came_from})."
    if seen is None:
        yield "One tray of each medium tells nothing of chance: lay two blocks or more."
    else:
        trays = words.counted(count, "tray")
        least = f"{words.number(seen, 2)} %"
        yield f"The smallest difference that {trays} of each medium see, four times in five: {least}."
    if difference_pct is None:
        return
    asked = f"{words.number(difference_pct, 2)} %"
    if needed is None or needed > MOST_BLOCKS:
        many = "over a thousand trays" if needed is None else f"about {needed} trays"
        yield (
            f"To see {asked} would take {many} of each medium: no trial in a small room settles this. Decide on "
            "labour, risk and cash."
        )
    elif needed > count:
        yield f"To see {asked} takes {needed} trays of each medium, {needed - count} more than planned."
    else:
        yield f"To see {asked} takes {needed} trays of each medium: this plan has enough."


def _trays(
    media: Sequence[str], today: str, blocks: Sequence[str], seed: int, repeats: int, guards: int
) -> tuple[PlannedTray, ...]:
    on_guard = today if today in media else media[0]
    return tuple(
        PlannedTray(
            str(number),
            place.block,
            place.position,
            on_guard if place.medium is None else media[place.medium],
            place.medium is None,
        )
        for number, place in enumerate(block_layout(len(media), blocks, seed, repeats, guards), start=1)
    )
