"""The answer in a sentence: which medium comes out best, on which measure, by how much, and what doubt is left."""

from __future__ import annotations

from dataclasses import dataclass

from mediacost.results import words
from mediacost.results.answers import Comparison, Doubt, MediumAnswer, NoAnswer
from mediacost.results.figures import FIGURES
from mediacost.results.measures import MEASURES

_MEASURE_WORDS = {
    "market": "the cost of a kilogram of the harvest you sell today",
    "shelf": "the margin of a day on a lit shelf",
    "labour": "the return to an hour of labour",
}

_WHY_THIS_MEASURE = {
    "market": "because the market is what stops you selling more",
    "shelf": "because shelf space is what stops you selling more",
    "labour": "because labour is what stops you selling more",
}


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer in words: the sentence, the reason for the measure, the doubt, and what must still be asked."""

    sentence: str
    measure: str
    doubt: str
    conditions: tuple[str, ...]


def verdict(comparison: Comparison) -> Verdict:
    """Put a comparison into words."""
    return Verdict(
        sentence=_sentence(comparison),
        measure=_WHY_THIS_MEASURE[comparison.limit],
        doubt=doubt_words(comparison.doubt),
        conditions=tuple(_conditions(comparison)),
    )


def _sentence(comparison: Comparison) -> str:
    measure = MEASURES[comparison.limit]
    on = _MEASURE_WORDS[comparison.limit]
    if comparison.best is None:
        return f"No medium can be ranked on {on}: each is ruled out by a condition or has no figure."
    best = comparison.medium(comparison.best)
    value = measure.of(best)
    assert not isinstance(value, NoAnswer)
    unit = FIGURES[measure.name].unit
    shown = words.amount(value, unit, comparison.currency, 3)
    if best.id == comparison.baseline:
        return f"{best.name}, your medium today, comes out best on {on}: {shown}{_next_best(comparison, value)}."
    base = comparison.medium(comparison.baseline)
    base_value = measure.of(base)
    if isinstance(base_value, NoAnswer):
        return f"{best.name} comes out best on {on}: {shown}; {base.name}, your medium today, has no such figure."
    return (
        f"{best.name} comes out best on {on}: {shown}, "
        f"{_difference(value, base_value, unit, comparison)} than {base.name}, your medium today."
    )


def _next_best(comparison: Comparison, value: float) -> str:
    """What the next medium would give, where the one in use today is best."""
    measure = MEASURES[comparison.limit]
    others = [
        (other, medium)
        for medium in comparison.media
        if medium.id != comparison.best and not medium.excluded
        and not isinstance(other := measure.of(medium), NoAnswer)
    ]
    if not others:
        return ""
    pick = max if measure.more_is_better else min
    other, medium = pick(others, key=lambda each: each[0])
    unit = FIGURES[measure.name].unit
    return f"; {medium.name}, the next, gives {_difference(other, value, unit, comparison)}"


def _difference(value: float, against: float, unit: str, comparison: Comparison) -> str:
    gap = value - against
    if gap == 0:
        return "no more and no less"
    size = words.amount(abs(gap), unit, comparison.currency, 3)
    share = f" ({words.percent(abs(gap / against))})" if against else ""
    return f"{size}{share} {'more' if gap > 0 else 'less'}"


def doubt_words(doubt: Doubt) -> str:
    """What the single answer leaves unworked, in a sentence."""
    ranges = {0: "no input is a range", 1: "1 input is a range"}.get(doubt.ranges, f"{doubt.ranges} inputs are ranges")
    if doubt.trays_weighed:
        trays = f"the harvest weights rest on {_count(doubt.trays_weighed, 'weighed tray')}"
        if doubt.weights_typed_bare:
            trays += f", and {_count(doubt.weights_typed_bare, 'weight')} on no count at all"
    else:
        trays = "no harvest weight says how many trays it rests on"
    return f"How sure this is has not been worked out: {ranges}, and {trays}."


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _conditions(comparison: Comparison) -> list[str]:
    """Conditions not met or not known, said beside the verdict."""
    said = []
    for medium in comparison.media:
        for condition in medium.conditions:
            if condition.met == "no":
                said.append(f"{medium.name} is not ranked: '{condition.what}' is answered no.")
            elif condition.met == "unknown":
                said.append(f"{medium.name}: '{condition.what}' is not known yet. Find out before you buy.")
    return said


def pays_words(medium: MediumAnswer, basis: str) -> str:
    """When a medium's money is back, in a few words."""
    simple = medium.payback_months[basis].simple
    if isinstance(simple, NoAnswer):
        return simple.reason
    return "from the start" if simple == 0 else f"after {words.months(simple)}"
