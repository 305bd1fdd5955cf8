"""How sure the answer is, as text: the verdict in words, the chances, the spreads, what would flip it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mediacost.cli.prose import wrapped
from mediacost.cli.table import Row, lay_out
from mediacost.results import words
from mediacost.results.answers import Answer, Kind, NoAnswer
from mediacost.results.confidence_answers import (
    Confidence,
    HarvestToLose,
    Knowing,
    MediumConfidence,
    Spread,
    Swing,
    Tie,
)
from mediacost.results.figures import BASIS_NAMES, FIGURES

MOST_SWINGS = 8
MOST_KNOWN = 6

_SHORT = {Kind.BASELINE: "-", Kind.NEVER: "never"}
_SPREADS = (
    "cost_per_kg_same_harvest",
    "cost_per_kg",
    "margin_per_tray",
    "margin_per_shelf_day",
    "return_to_labour_per_hour",
    "payback_months",
    "npv",
)
_ENDS = (("p5", "  5 of 100 draws below"), ("p50", "  half of them below"), ("p95", "  95 of 100 below"))


def confidence_lines(confidence: Confidence, width: int) -> list[str]:
    """Everything ``confidence`` prints but the cautions."""
    lines = [*wrapped(confidence.title, width), ""]
    for paragraph in confidence.sureness.words:
        lines += wrapped(paragraph, width)
    for note in confidence.notes:
        lines += ["", *wrapped(f"Note: {note}", width, "", "  ")]
    columns = [each.name + (" (today)" if each.id == confidence.baseline else "") for each in confidence.media]
    lines += ["", *lay_out(columns, list(_rows(confidence)), width)]
    lines += _swings(confidence, width)
    lines += _to_lose(confidence, width)
    lines += _knowing(confidence, width)
    return lines + _how_counted(confidence, width)


def _rows(confidence: Confidence) -> Iterator[Row]:
    media = confidence.media
    yield Row("How often each comes out best, of all draws")
    for name in sorted(media[0].chance_best_on, key=lambda each: each != confidence.measure):
        label = FIGURES[name].label + (" (the measure used)" if name == confidence.measure else "")
        yield Row(f"  on {label}", tuple(_chance_best(each, name) for each in media))
    yield Row("How often it")
    yield _chances("  beats today's medium", media, lambda each: each.chance_beats_baseline)
    yield _chances(f"  pays within {confidence.horizon_months} months", media, lambda each: each.chance_pays)
    shown: list[Row] = []
    for name in _SPREADS:
        heading = FIGURES[name].label
        if name in ("payback_months", "npv"):
            heading += f", counted {BASIS_NAMES[confidence.basis]}"
        rows = list(_spread_rows(heading, FIGURES[name].unit, [getattr(each, name) for each in media], confidence))
        if rows[1:] != shown[1:]:  # with one crop the two costs per kilogram are the same
            yield from rows
        shown = rows
    saved = [each.saving_per_year for each in media]
    yield from _spread_rows("saved in a year against today's medium", "money", saved, confidence)


def _chance_best(medium: MediumConfidence, name: str) -> str:
    return _percent(medium.chance_best_on[name]) if medium.ranked else "not ranked"


def _chances(label: str, media: tuple[MediumConfidence, ...], chance: Callable[[MediumConfidence], Answer]) -> Row:
    found = [chance(each) for each in media]
    return Row(label, tuple("-" if isinstance(each, NoAnswer) else _percent(each) for each in found))


def _percent(chance: float) -> str:
    return "0 %" if chance <= 0 else "under 1 %" if chance < 0.01 else f"{int(100 * chance + 0.5)} %"


def _spread_rows(heading: str, unit: str, spreads: list[Spread], confidence: Confidence) -> Iterator[Row]:
    shown = words.unit(unit, confidence.currency)
    yield Row(f"{heading[0].upper()}{heading[1:]}, {shown}")
    answers = [getattr(spread, end) for spread in spreads for end, _ in _ENDS]
    numbers = [each for each in answers if not isinstance(each, NoAnswer)]
    decimals = words.money_decimals(numbers) if unit.startswith("money") else 1
    for end, label in _ENDS:
        yield Row(label, tuple(_cell(getattr(spread, end), unit, decimals) for spread in spreads))


def _cell(value: Answer, unit: str, decimals: int) -> str:
    if isinstance(value, NoAnswer):
        return _SHORT.get(value.kind, "none")
    if unit == "months" and value <= 0:
        return "at once"
    return words.fixed(value, decimals)


# What moves it ------------------------------------------------------------------------------------


def _swings(confidence: Confidence, width: int) -> list[str]:
    ours = confidence.rival
    swings = confidence.swings.get(ours.id, ()) if ours else ()
    if ours is None or not swings:
        return []
    today = confidence.medium(confidence.baseline).name
    figure = FIGURES[confidence.measure]
    unit = words.unit(figure.unit, confidence.currency)
    lines = ["", f"What moves it most: {ours.name} against {today}, {figure.label}, {unit}"]
    for swing in swings[:MOST_SWINGS]:
        lines += wrapped(_swing_words(swing, confidence.currency), width, "- ", "  ")
    left = len(swings) - MOST_SWINGS
    if left > 0:
        lines.append(f"  and {words.counted(left, 'input')} that move it less (--json has all)")
    return lines


def _swing_words(swing: Swing, currency: str) -> str:
    unit = words.unit(swing.unit, currency)
    low, high = (_input_value(each, swing.unit) for each in (swing.low, swing.high))

    def said(value: float) -> str:
        return f"{words.number(abs(value), 3)} {'more' if value > 0 else 'less'}" if value else "level"

    ends = f"{said(swing.at_low)} at {low}, {said(swing.at_high)} at {high}{' ' + unit if unit else ''}"
    inside = [_tie_words(tie, swing.unit) for tie in swing.flips_inside]
    outside = [_tie_words(tie, swing.unit) for tie in swing.flips if tie not in swing.flips_inside]
    flips = f"level {words.listed(inside)}" if inside else "no tie in between"
    if outside and not inside:
        flips += f", only {words.listed(outside)}"
    return f"{swing.label}: {ends}; {flips}"


def _input_value(value: float, unit: str) -> str:
    return words.percent(value, 3) if unit == "share" else words.number(value, 4)


def _tie_words(tie: Tie, unit: str) -> str:
    if tie.value is not None:
        return f"at {_input_value(tie.value, unit)}"
    return f"at a step between {_input_value(tie.below, unit)} and {_input_value(tie.above, unit)}"


def _to_lose(confidence: Confidence, width: int) -> list[str]:
    today = confidence.medium(confidence.baseline).name
    lines = ["", f"Harvest that each may lose and still tie with {today}, all else at its likely value"]
    for ties in confidence.ties:
        said = _lose_words(ties.harvest_to_lose)
        lines += wrapped(f"{confidence.medium(ties.medium).name}: {said}", width, "- ", "  ")
    return lines


def _lose_words(found: HarvestToLose) -> str:
    if found.grams is None or found.percent is None:
        return "no harvest ties the two"
    size = f"{words.number(abs(found.grams), 3)} g a tray ({words.number(abs(found.percent), 2)} %)"
    return size if found.grams >= 0 else f"nothing: it would have to gain {size}"


def _knowing(confidence: Confidence, width: int) -> list[str]:
    value, currency = confidence.value, confidence.currency
    if not value.per_year:
        return []
    lines = ["", "What it would be worth to know for sure, at most, in a year"]
    lines.append(f"- everything: {words.amount(value.per_year, 'money', currency, 3)}")
    known = sorted((*value.together, *value.inputs), key=lambda each: -each.per_year)
    for each in [each for each in known if each.per_year > 0][:MOST_KNOWN]:
        lines += wrapped(_knowing_words(each, currency), width, "- ", "  ")
    if not value.inputs:
        lines += wrapped("Too few draws to tell what each input is worth.", width, "  ")
    return lines


def _knowing_words(each: Knowing, currency: str) -> str:
    worth, cost = (words.amount(money, "money", currency, 2) for money in (each.per_year, each.cost))
    return f"{each.label}: {worth}; {each.how}, about {cost}"


def _how_counted(confidence: Confidence, width: int) -> list[str]:
    draws, seed = words.number(confidence.draws, 12), words.number(confidence.seed, 24)
    inputs = words.counted(len(confidence.inputs), "input")
    said = (
        f"{draws} draws of {inputs}, seed {seed}: the same seed gives the same figures. Ranges are drawn from the "
        "triangle on low, likely and high, whose average is not the likely value where the range is lopsided; harvest "
        "weights from the doubt of their mean. All media are worked out on the same draws.",
        "Clear: best in 90 of 100 draws or more. Probable: in 75 or more. Even 100 of 100 would mean only that the "
        "doubts you typed never overturn it: what nobody doubted was not drawn.",
        "Worth of knowing: what better choices would bring in on average if it were known beforehand; real trials and "
        "timings leave some doubt, so it is the most they can bring. Costs of finding out are a rule of thumb: hours "
        "at your labour rate.",
    )
    lines = ["", "How it is counted"]
    for each in said:
        lines += wrapped(each, width, "- ", "  ")
    return lines
