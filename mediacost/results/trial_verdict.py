"""The verdict on two media, in words: better, worse, the same for practical purposes, or cannot tell yet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mediacost.formulas.trial_pairs import Difference
from mediacost.formulas.trial_power import smallest_difference, trays_needed
from mediacost.results import words
from mediacost.results.trial_answers import Interval, Outcome, PairResult, Verdict

MOST_BLOCKS = 60
"""More further blocks than this are called out of reach of a small room (our own bound)."""

_OTHERWISE = "Decide on labour, risk and cash."

_TRAYS = ("more tray of each medium", "more trays of each medium")


@dataclass(frozen=True, slots=True)
class Design:
    """What a verdict needs to know of the trial: media, names, practical band, whether blocks are allowed for.

    ``whole_blocks`` says that a block holds one tray of each medium, so that trays can be counted as blocks.
    """

    media: int
    blocked: bool
    whole_blocks: bool
    names: dict[str, str]
    band_pct: float | None


def judged(
    first: str, second: str, found: Difference, sd: float, second_mean: float, comparisons: int, design: Design
) -> PairResult:
    """A difference with its verdict; ``sd`` is the spread between like trays, ``comparisons`` the intervals at once."""
    band = None if design.band_pct is None else abs(second_mean) * design.band_pct / 100
    share = found.difference / second_mean if second_mean > 0 else None
    return PairResult(
        medium=first,
        other=second,
        difference_g=found.difference,
        difference_pct=None if share is None else 100 * share,
        interval_g=Interval(found.low, found.high),
        p=found.p,
        smallest_seen_g=smallest_difference(found.standard_error, max(found.df, 1.0), comparisons),
        verdict=_verdict(first, second, found, sd, band, share, comparisons, design),
    )


def _verdict(
    first: str,
    second: str,
    found: Difference,
    sd: float,
    band: float | None,
    share: float | None,
    comparisons: int,
    design: Design,
) -> Verdict:
    one, other = design.names[first], design.names[second]
    span = f"{span_words(found.low, found.high)} a tray"
    if band is not None and -band <= found.low and found.high <= band:
        within = f"within the {words.number(design.band_pct or 0)} % that you count as no difference"
        return Verdict(Outcome.SAME, f"{one} and {other} are the same for practical purposes: {span}, {within}.", None)
    if found.low > 0 or found.high < 0:
        outcome = Outcome.BETTER if found.low > 0 else Outcome.WORSE
        by = f"{words.number(abs(found.difference), 3)} g a tray"
        part = "" if share is None else f" ({words.percent(abs(share))})"
        than = f"{one} is {outcome.value} than {other} by {by}{part}; it may be {span}."
        return Verdict(outcome, than, None)
    more = _more(found, sd, band, comparisons, design)
    what = f"{one} against {other}: cannot tell yet. The difference may be {span}, so either can be ahead."
    if found.low == 0 or found.high == 0:
        what = f"{one} against {other}: cannot tell yet. The difference may be {span}, so it may be none."
    return Verdict(Outcome.CANNOT_TELL, f"{what} {_more_words(more, found, band, design)}", more)


def _more(found: Difference, sd: float, band: float | None, comparisons: int, design: Design) -> int | None:
    """Further trays of each medium that see the difference four times in five; None beyond a thousand.

    Planned for the difference as seen, but for none smaller than the practical band. The trays there are now are
    those of a balanced trial with this standard error.
    """
    worth = max(abs(found.difference), band or 0.0)
    now = 2 * (sd / found.standard_error) ** 2
    needed = trays_needed(worth, sd, design.media, design.blocked, comparisons)
    return None if needed is None else max(1, math.ceil(needed - now - 1e-9))


def _more_words(more: int | None, found: Difference, band: float | None, design: Design) -> str:
    unit, several = ("more block", "more blocks") if design.whole_blocks else _TRAYS
    if found.difference == 0 and not band:
        return "Say with practical_band_pct which difference would matter; then it can be said how many trays tell."
    seen = band is None or abs(found.difference) > band
    matters = f"a difference of the {words.number(design.band_pct or 0)} % that would matter"
    if more is None or more > MOST_BLOCKS:
        count = "over a thousand" if more is None else f"about {words.number(more, 2)}"
        aim = "if the true difference is as large as the one seen" if seen else f"to see {matters}"
        return f"It would take {count} {several} {aim}: no trial in a small room settles this. {_OTHERWISE}"
    count = f"About {more} {unit if more == 1 else several}"
    if seen:
        return f"{count} would tell, if the true difference is as large as the one seen."
    return f"{count} would show {matters}."


def span_words(low: float, high: float) -> str:
    """An interval of grams in words, each end with its sign.

    >>> span_words(-13.31, 9.77), span_words(0.04, 0.613)
    ('-13.3 to +9.8 g', '+0.04 to +0.61 g')
    """
    decimals = 1 if max(abs(low), abs(high)) >= 1 else 2
    ends = (f"+{words.fixed(end, decimals)}" if end > 0 else words.fixed(end, decimals) for end in (low, high))
    return " to ".join(ends) + " g"
