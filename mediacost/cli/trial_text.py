"""What trials show, as lines of text: for each trial its media in a table, the verdicts, and what to look at."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mediacost.cli.prose import wrapped
from mediacost.cli.table import Row, lay_out
from mediacost.results import words
from mediacost.results.trial_answers import Analysis, CropTrials, MediumResult, PairResult, TrialReport, TrialsAnswer

_NONE = "-"
_MANY = 12


def trial_lines(answer: TrialsAnswer, width: int) -> list[str]:
    """All trials of a document, crop by crop."""
    lines = [answer.title]
    if not answer.crops:
        return [*lines, "", "No trial is recorded in this file."]
    for crop in answer.crops:
        lines += _crop(crop, answer, width)
    return lines


def _crop(crop: CropTrials, answer: TrialsAnswer, width: int) -> list[str]:
    lines: list[str] = []
    for trial in crop.trials:
        lines += ["", _heading(crop, trial), *_analysis(trial.analysis, answer, width)]
    if crop.pooled is not None:
        trials = words.listed(list(crop.pooled.trials))
        lines += ["", f"{crop.name}: trials {trials} together", *_analysis(crop.pooled, answer, width)]
    if crop.harvest_g:
        names = {medium.id: medium.name for trial in crop.trials for medium in trial.analysis.media}
        used = [f"{names[medium]} {words.number(grams)} g" for medium, grams in crop.harvest_g.items()]
        said = f"The comparison uses these harvest weights on {crop.name}, and on no other crop: {words.listed(used)}."
        lines += ["", *wrapped(said, width)]
    return lines


def _heading(crop: CropTrials, trial: TrialReport) -> str:
    dates = [f"{what} {day.isoformat()}" for what, day in (("sown", trial.sown), ("harvested", trial.harvested)) if day]
    unused = [] if trial.used else ["kept on record, not used"]
    return ", ".join([f"{crop.name}: trial {trial.id}", *dates, *unused])


def _analysis(found: Analysis, answer: TrialsAnswer, width: int) -> list[str]:
    lines = []
    if found.media:
        lines += ["", *lay_out([medium.name for medium in found.media], _rows(found, answer), width), ""]
    for each in _sentences(found, answer):
        lines += wrapped(each, width)
    for heading, items in _lists(found):
        if items:
            lines += ["", heading]
            for item in items:
                lines += wrapped(item, width, "- ", "  ")
    return lines


def _rows(found: Analysis, answer: TrialsAnswer) -> list[Row]:
    def row(label: str, cells: list[str]) -> Row:
        return Row(label, tuple(cells))

    media = found.media
    rows = [
        row("trays that count", [str(medium.trays) for medium in media]),
        row("mean, g", [words.fixed(medium.mean_g, 1) for medium in media]),
    ]
    if found.blocked:
        rows.append(row("blocks allowed for, g", [_fixed(medium.adjusted_mean_g) for medium in media]))
    rows += [
        row("95 % interval, g", [_span(medium) for medium in media]),
        row("spread (sd), g", [_fixed(medium.sd_g) for medium in media]),
        row("spread, % of mean", [_fixed(medium.cv_pct) for medium in media]),
        row("greens per g of seed, g", [_fixed(medium.harvest_per_seed, 2) for medium in media]),
        row("greens per m², kg", [_fixed(medium.harvest_kg_per_m2, 2) for medium in media]),
    ]
    money = {each.medium: each for each in found.money}
    if money:
        decimals = words.money_decimals([each.margin_difference_per_tray for each in found.money])
        label = f"margin against today, {answer.currency}"
        cells, spans = [], []
        for medium in media:
            each = money.get(medium.id)
            cells.append("today" if each is None else _signed(each.margin_difference_per_tray, decimals))
            spans.append(
                ""
                if each is None
                else f"{_signed(each.interval.low, decimals)} to {_signed(each.interval.high, decimals)}"
            )
        rows += [row(label, cells), row("  its 95 % interval", spans)]
    return rows


def _fixed(value: float | None, decimals: int = 1) -> str:
    return _NONE if value is None else words.fixed(value, decimals)


def _signed(value: float, decimals: int) -> str:
    text = words.fixed(value, decimals)
    return f"+{text}" if value > 0 and text.strip("0.") else text


def _span(medium: MediumResult) -> str:
    if medium.interval_g is None:
        return _NONE
    return f"{words.fixed(medium.interval_g.low, 1)} to {words.fixed(medium.interval_g.high, 1)}"


def _sentences(found: Analysis, answer: TrialsAnswer) -> Iterator[str]:
    if not found.usable:
        yield f"Trial not usable: {found.why_not_usable}."
        return
    yield from (each.verdict.words for each in _headline(found, answer))
    yield _seen(found)
    yield _tests(found)


def _headline(found: Analysis, answer: TrialsAnswer) -> list[PairResult]:
    """Everything against the medium in use today, then the others among themselves."""
    against = list(found.against_baseline)
    return against + [each for each in found.pairs if not against or answer.baseline not in (each.medium, each.other)]


def _seen(found: Analysis) -> str:
    compared = found.against_baseline or found.pairs
    least = max(each.smallest_seen_g for each in compared)
    middle = sum(medium.adjusted_mean_g or medium.mean_g for medium in found.media) / len(found.media)
    share = f" ({words.percent(least / middle)})" if middle > 0 else ""
    amount = f"{words.number(least, 3)} g{share}"
    which = "this trial" if len(found.trials) == 1 else "these trials together"
    return f"The smallest difference that {which} could have seen, four times in five: {amount}."


def _tests(found: Analysis) -> str:
    methods = found.pairs_method
    if found.against_baseline and found.baseline_method != found.pairs_method:
        methods = f"{found.baseline_method} against today's medium, {found.pairs_method} among all"
    spread = f"Like trays differ by {words.number(found.residual_cv_pct or 0, 2)} % (standard deviation)"
    where = " within a block" if found.blocked else ""
    test = found.overall
    overall = ""
    if test is not None and math.isfinite(test.p):
        below = words.number(test.below_df, 3)
        chance = "p below 0.001" if test.p < 0.001 else f"p {test.p:.3f}"
        ratio = f"F {words.number(test.f, 3)} on {words.number(test.above_df)} and {below}"
        overall = f" Any difference at all: {ratio} degrees of freedom, {chance} ({found.method})."
    return f"{spread}{where}.{overall} Intervals of differences hold all at once, 95 %: {methods}."


def _lists(found: Analysis) -> Iterator[tuple[str, list[str]]]:
    yield "Look at the record", [each.words for each in found.suspects]
    yield "Be wary", list(found.warnings)
    yield "Failed trays", [each.words for each in found.failed if each.failed or not each.fits]
    yield "Cycles served", [each.words for each in found.cycles]
    yield "What the analysis takes for granted", list(found.assumptions)
    reasons: dict[str, list[str]] = {}
    for each in found.left_out:
        reasons.setdefault(each.reason, []).append(f"{each.tray} ({each.medium})")
    left_out = [f"{_some(trays)}: {reason}" for reason, trays in reasons.items()]
    yield "Left out of the weights", left_out


def _some(trays: list[str]) -> str:
    """Trays by label, the first few where they are many."""
    shown = trays[:_MANY] if len(trays) <= _MANY else [*trays[:_MANY], f"{len(trays) - _MANY} more"]
    return f"{'tray' if len(trays) == 1 else 'trays'} {words.listed(shown)}"
