"""The verdict on how sure the answer is, in words, and what would settle it most cheaply."""

from __future__ import annotations

from collections.abc import Iterator

from mediacost.results import words
from mediacost.results.confidence_answers import Knowing, MediumConfidence, Sureness, ValueOfKnowing
from mediacost.results.draws import DrawPlan

CLEAR, PROBABLE, CANNOT_TELL = "clear", "probable", "cannot tell yet"

CLEAR_FROM, PROBABLE_FROM = 0.90, 0.75
"""From these chances of being best on, the verdict is called so."""


def sureness(
    media: tuple[MediumConfidence, ...],
    baseline: str,
    best: str | None,
    plan: DrawPlan,
    value: ValueOfKnowing,
    currency: str,
) -> Sureness:
    """The word for the medium that most draws find best; the single answer's where draws are even."""
    ranked = [each for each in media if each.ranked]
    leading = max(ranked, key=lambda each: (each.chance_best, each.id == best), default=None)
    if leading is None or leading.chance_best == 0:
        return Sureness(CANNOT_TELL, None, 0.0, "no medium can be ranked", None, ("No medium can be ranked.",))
    if len(ranked) == 1:
        alone = f"{leading.name} is the only medium that may be ranked, so nothing has to be settled."
        return Sureness(CLEAR, leading.id, leading.chance_best, "", None, (alone,))
    word, why = _word(leading.chance_best, plan)
    settle = _settles(value) if word != CLEAR else None
    lead = " ".join([_lead_words(word, why, leading, baseline), *_others(leading, ranked, best)])
    said = (lead, *_settle_words(word, settle, value, plan, currency))
    return Sureness(word, leading.id, leading.chance_best, why, settle, said)


def _word(chance: float, plan: DrawPlan) -> tuple[str, str]:
    """The word that a chance earns, and what keeps it from a better one."""
    if not plan.inputs:
        return CANNOT_TELL, "nothing was drawn: no input is given as uncertain"
    if chance >= CLEAR_FROM:
        if plan.rough:
            return PROBABLE, "harvest weights rest on too few trays to know their spread"
        return CLEAR, ""
    return (PROBABLE if chance >= PROBABLE_FROM else CANNOT_TELL), ""


def chance_words(chance: float) -> str:
    """A chance as so many in a hundred; never all or none unless it is.

    >>> chance_words(0.634), chance_words(0.9991), chance_words(1.0), chance_words(0.0004)
    ('63 of 100', 'over 99 of 100', 'all', 'under 1 of 100')
    """
    if chance >= 1:
        return "all"
    if chance <= 0:
        return "none"
    if chance > 0.99:
        return "over 99 of 100"
    return "under 1 of 100" if chance < 0.01 else f"{100 * chance:.0f} of 100"


def _lead_words(word: str, why: str, leading: MediumConfidence, baseline: str) -> str:
    name = f"{leading.name}, your medium today," if leading.id == baseline else leading.name
    heading = {CLEAR: "Clear", PROBABLE: "Probable", CANNOT_TELL: "Cannot tell yet"}[word]
    held = f" It is not called better than that because {why}." if why else ""
    return f"{heading}: {name} comes out best in {chance_words(leading.chance_best)} draws.{held}"


def _others(leading: MediumConfidence, ranked: list[MediumConfidence], best: str | None) -> Iterator[str]:
    others = sorted((each for each in ranked if each.id != leading.id), key=lambda each: -each.chance_best)
    shown = [f"{each.name} in {chance_words(each.chance_best)}" for each in others]
    if shown:
        yield f"{words.listed(shown)}."
    if best is not None and best != leading.id:
        name = next(each.name for each in ranked if each.id == best)
        yield (
            f"With every input at its likely value {name} comes first, but the ranges are lopsided: over all draws "
            f"{leading.name} does so more often."
        )


def _settles(value: ValueOfKnowing) -> Knowing | None:
    """What leaves most in its first year when it is found out; None where nothing leaves anything."""
    best = max((*value.inputs, *value.together), key=lambda each: each.gain, default=None)
    return best if best is not None and best.gain > 0 else None


def _settle_words(
    word: str, settle: Knowing | None, value: ValueOfKnowing, plan: DrawPlan, currency: str
) -> Iterator[str]:
    if not plan.inputs:
        return
    everything = words.amount(value.per_year, "money", currency, 2)
    if settle is not None:
        yield (
            f"To settle it, find out first: {settle.label}. Knowing it for sure would be worth about "
            f"{words.amount(settle.per_year, 'money', currency, 2)} a year; finding out ({settle.how}) costs about "
            f"{words.amount(settle.cost, 'money', currency, 2)} of work. Knowing everything would be worth "
            f"{everything} a year."
        )
    elif word == CLEAR:
        yield f"Knowing everything for sure would be worth {everything} a year at most."
    else:
        yield (
            f"Knowing everything for sure would be worth {everything} a year, but no single input, trial or timing "
            f"would bring in its own cost within a year: other reasons may decide."
        )
