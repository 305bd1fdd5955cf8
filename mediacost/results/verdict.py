"""The answer in words: which medium comes out best, on which measure, by how much, and what doubt is left."""

from __future__ import annotations

from typing import NamedTuple

from mediacost.formulas import week
from mediacost.formulas.numeric import DUST
from mediacost.results import words
from mediacost.results.answers import Comparison, Doubt, Kind, MediumAnswer, NoAnswer
from mediacost.results.figures import BASIS_NAMES, FIGURES
from mediacost.results.measures import MEASURES, Measure
from mediacost.units import MINUTES_PER_HOUR

SMALL_SHARE_OF_SALES = 0.05
"""Below this share of a tray's sales a difference is called small: like trays commonly differ by as much in harvest."""

_SHORTEST_STAY_DAYS = 0.05
"""Stays that differ by less on average are said to be alike."""

_SPREAD = "5 to 12 %, common practice, no source"

_MEASURE_WORDS = {
    "market": "the cost of a kilogram of the harvest you sell today",
    "shelf": "the margin of a day on a lit shelf",
    "labour": "the return to an hour of labour",
}

_LIMIT_NAMES = {"market": "the market", "shelf": "shelf space", "labour": "labour"}


class Verdict(NamedTuple):
    """The answer in words, each part a sentence or more, empty where there is nothing to say.

    ``sentence`` names the medium, the measure and the amount; ``doubt`` says how little or how much that settles;
    ``money`` what it takes and when that is back; ``crops`` where single crops differ; ``measure`` why it is ranked
    on this; ``conditions`` what rules a medium out or must still be asked.
    """

    sentence: str
    doubt: str
    money: str
    crops: str
    measure: str
    conditions: tuple[str, ...]

    @property
    def paragraphs(self) -> tuple[str, ...]:
        """All that there is to say, in the order in which it should be read."""
        said = (f"{self.sentence} {self.doubt}", self.money, self.crops, self.measure, *self.conditions)
        return tuple(each for each in said if each)


def verdict(comparison: Comparison) -> Verdict:
    """Put a comparison into words."""
    ranked = _ranked(comparison, MEASURES[comparison.limit])
    return Verdict(
        sentence=_sentence(comparison, ranked),
        doubt=" ".join([*_smallness(comparison, ranked), doubt_words(comparison.doubt)]),
        money=_money(comparison),
        crops=_crops(comparison),
        measure=_measure(comparison),
        conditions=tuple(_conditions(comparison)),
    )


def doubt_words(doubt: Doubt) -> str:
    """What the single answer leaves unworked, in a sentence."""
    ranges = {0: "no input is a range", 1: "1 input is a range"}.get(doubt.ranges, f"{doubt.ranges} inputs are ranges")
    if doubt.trays_weighed:
        trays = f"the harvest weights rest on {words.counted(doubt.trays_weighed, 'weighed tray')} in all"
        if doubt.fewest_trays < doubt.trays_weighed:
            trays += f", as few as {doubt.fewest_trays} for one medium on one crop"
        if doubt.weights_typed_bare:
            bare = words.counted(doubt.weights_typed_bare, "weight")
            trays += f" ({bare} on no count at all)"
    else:
        trays = "no harvest weight says how many trays it rests on"
    return f"How sure this is has not been worked out: {ranges}, and {trays}."


def pays_words(medium: MediumAnswer, basis: str) -> str:
    """When a medium's money is back, in a few words."""
    simple = medium.payback_months[basis].simple
    if isinstance(simple, NoAnswer):
        return simple.reason
    return "from the start" if simple == 0 else f"after {words.months(simple)}"


def _ranked(comparison: Comparison, measure: Measure) -> list[tuple[float, MediumAnswer]]:
    """The media that may be ranked with their measure, best first; equal ones in the order of the file."""
    found = [
        (value, medium)
        for medium in comparison.media
        if not medium.excluded and not isinstance(value := measure.of(medium), NoAnswer)
    ]
    return sorted(found, key=lambda each: each[0], reverse=measure.more_is_better)


def _same(value: float, other: float) -> bool:
    return abs(value - other) <= DUST * max(abs(value), abs(other))


class _Amounts:
    """Writes the amounts of one measure, all with the same decimals."""

    def __init__(self, comparison: Comparison, value: float) -> None:
        self._unit = words.unit(FIGURES[MEASURES[comparison.limit].name].unit, comparison.currency)
        self._decimals = words.money_decimals([value])

    def amount(self, value: float) -> str:
        return f"{words.fixed(value, self._decimals)} {self._unit}"

    def difference(self, value: float, against: float) -> str:
        """How much more or less a value is than another, with the share where that says something."""
        gap = value - against
        if _same(value, against):
            return "no more and no less"
        size = self.amount(abs(gap))
        if abs(gap) < 0.5 * 10**-self._decimals:
            size = f"under {self.amount(10**-self._decimals)}"
        share = f" ({words.percent(abs(gap) / against)})" if against > 0 and value > 0 else ""
        return f"{size}{share} {'more' if gap > 0 else 'less'}"


def _sentence(comparison: Comparison, ranked: list[tuple[float, MediumAnswer]]) -> str:
    measure, on = MEASURES[comparison.limit], _measure_words(comparison)
    if comparison.best is None:
        return f"No medium can be ranked on {on}: each is ruled out by a condition or has no figure."
    best, base = comparison.medium(comparison.best), comparison.medium(comparison.baseline)
    value, base_value = measure.of(best), measure.of(base)
    assert not isinstance(value, NoAnswer)
    amounts = _Amounts(comparison, value)
    level = [medium for other, medium in ranked if _same(other, value)]
    head = f"{_called(best, comparison)} comes out best on {on}: {amounts.amount(value)}"
    if len(level) > 1:
        names = words.listed([_called(medium, comparison) for medium in level])
        head = f"{names} come out level on {on}: {amounts.amount(value)}"
    if base in level:
        return f"{head}{_next(comparison, ranked, value, amounts, semicolon=True)}."
    if isinstance(base_value, NoAnswer):
        return f"{head}; {base.name}, your medium today, has no such figure."
    against = f"{amounts.difference(value, base_value)} than {base.name}, your medium today"
    following = _next(comparison, ranked, value, amounts, semicolon=False)
    return f"{head}, {against}{following}."


def _measure_words(comparison: Comparison) -> str:
    """The measure in words; with one crop the cost of today's harvest is plainly the cost per kilogram."""
    if comparison.limit == "market" and len(comparison.crop_names) == 1:
        return "cost per kilogram"
    return _MEASURE_WORDS[comparison.limit]


def _called(medium: MediumAnswer, comparison: Comparison) -> str:
    return f"{medium.name}, your medium today," if medium.id == comparison.baseline else medium.name


def _next(
    comparison: Comparison,
    ranked: list[tuple[float, MediumAnswer]],
    value: float,
    amounts: _Amounts,
    semicolon: bool,
) -> str:
    """The medium that comes next, where it is not the one that is named anyway."""
    behind = [each for each in ranked if not _same(each[0], value)]
    if not behind or behind[0][1].id == comparison.baseline:
        return ""
    other, medium = behind[0]
    verb = "gives" if MEASURES[comparison.limit].more_is_better else "costs"
    text = f"{medium.name}, the next, {verb} {amounts.difference(other, value)}"
    return f"; {text}" if semicolon else f". {text}"


def _smallness(comparison: Comparison, ranked: list[tuple[float, MediumAnswer]]) -> list[str]:
    """That the best and the next hardly differ, where they hardly do: in money per tray, beside a tray's sales."""
    if len(ranked) < 2:
        return []
    (value, best), (other, _) = ranked[:2]
    if _same(value, other):
        return ["Nothing that was given tells them apart."]
    a_tray = (
        abs(value - other)
        * {
            "market": best.yield_kg_per_tray,
            "shelf": best.shelf_days,
            "labour": best.labour_minutes_per_tray / MINUTES_PER_HOUR,
        }[comparison.limit]
    )
    sales = best.margin_per_tray + best.cost_per_tray["total"]
    if sales <= 0 or a_tray >= SMALL_SHARE_OF_SALES * sales:
        return []
    shown = _money_amount(a_tray, comparison, 2)
    return [
        f"Between the first two that is a small difference: {shown} a tray, {words.percent(a_tray / sales)} of what a "
        f"tray sells for. Like trays commonly differ by more in harvest alone ({_SPREAD}), so it settles nothing yet."
    ]


def _money(comparison: Comparison) -> str:
    """What the best medium takes and brings in money; said where it is not the one in use today."""
    if comparison.best is None:
        return ""
    best = comparison.medium(comparison.best)
    loss = ""
    if best.margin_per_tray < 0:
        short = _money_amount(-best.margin_per_tray, comparison)
        loss = f"Even so it loses money: a tray costs {short} more than it sells for."
    if best.id == comparison.baseline:
        return loss
    return " ".join(each for each in (_outlay(best, comparison), _behind(best, comparison), loss) if each)


def _outlay(best: MediumAnswer, comparison: Comparison) -> str:
    simple = best.payback_months[comparison.basis].simple
    if best.outlay <= 0:
        return ""
    back = f"is back {pays_words(best, comparison.basis)}"
    if isinstance(simple, NoAnswer):
        if simple.kind is not Kind.NEVER:
            return ""
        back = f"is not back at the end of the {comparison.horizon_months} months looked at"
    taken = _money_amount(best.outlay, comparison)
    return f"{best.name} takes {taken} at the start; counted {BASIS_NAMES[comparison.basis]}, the money {back}."


def _behind(best: MediumAnswer, comparison: Comparison) -> str:
    """That the medium which leads on the measure costs money against the one in use today, where it does."""
    saving = best.saving_per_tray[comparison.basis]
    if isinstance(saving, NoAnswer) or saving >= 0:
        return ""
    base = comparison.medium(comparison.baseline).name
    less = _money_amount(-saving, comparison, 2)
    return (
        f"In money {best.name} falls behind: counted {BASIS_NAMES[comparison.basis]}, a tray leaves {less} less than "
        f"on {base}."
    )


def _money_amount(value: float, comparison: Comparison, digits: int = 3) -> str:
    return words.amount(value, "money", comparison.currency, digits)


def _crops(comparison: Comparison) -> str:
    """Who leads on single crops, where that is not the same medium on all of them and in the mix."""
    leads: dict[str, list[str]] = {}
    for crop, best in comparison.best_by_crop.items():
        leads.setdefault(comparison.medium(best).name if best else "no medium", []).append(comparison.crop_names[crop])
    if len(leads) < 2 and comparison.best in comparison.best_by_crop.values():
        return ""
    if len(comparison.best_by_crop) < 2:
        return ""
    said = "; ".join(f"{name} on {words.listed(crops)}" for name, crops in leads.items())
    return f"Crop by crop it is not the same. First comes: {said}."


def _measure(comparison: Comparison) -> str:
    """Why it is ranked on this, and who would come out best if something else were short."""
    said = f"This measure is used because {_LIMIT_NAMES[comparison.limit]} is what stops you selling more."
    if comparison.best is None:
        return said
    others: dict[str, list[str]] = {}
    for limit, measure in MEASURES.items():
        ranked = _ranked(comparison, measure)
        if limit == comparison.limit or not ranked:
            continue
        first = next(medium for value, medium in ranked if _same(value, ranked[0][0]))
        if first.id != comparison.best:
            others.setdefault(first.name, []).append(_LIMIT_NAMES[limit])
    for name, limits in others.items():
        said += f" If it were {' or '.join(limits)}, {name} would come out best."
    return said


def _conditions(comparison: Comparison) -> list[str]:
    """Conditions not met or not known, said beside the verdict; those of the best medium first."""
    said = []
    for medium in sorted(comparison.media, key=lambda each: each.id != comparison.best):
        for condition in medium.conditions:
            if condition.met == "no":
                said.append(f"{medium.name} is not ranked: '{condition.what}' is answered no.")
            elif condition.met == "unknown":
                today = medium.id == comparison.baseline
                when = "Find out: it is what you use today." if today else "Find out before you buy."
                said.append(f"{medium.name}: '{condition.what}' is not known yet. {when}")
    return [*said, *_shelf_room(comparison), *_longer_stays(comparison)]


def _shelf_room(comparison: Comparison) -> list[str]:
    """Media on which the trays sown would need more places under lights than there are, even on average."""
    if comparison.shelf_trays is None:
        return []
    said = []
    for medium in comparison.media:
        places = week.places_in_use(comparison.trays_per_week, medium.shelf_days)
        if places > comparison.shelf_trays:
            said.append(
                f"{medium.name} keeps about {words.number(places, 2)} places under lights in use in a usual week, and "
                f"there are {comparison.shelf_trays}."
            )
    return said


def _longer_stays(comparison: Comparison) -> list[str]:
    """Where shelf space is short, a longer stay costs trays that the saving per tray does not see."""
    if comparison.limit != "shelf":
        return []
    today = comparison.medium(comparison.baseline)
    said = []
    for medium in comparison.media:
        days = medium.shelf_days - today.shelf_days
        if abs(days) >= _SHORTEST_STAY_DAYS:
            more, holds = ("longer", "fewer") if days > 0 else ("shorter", "more")
            said.append(
                f"Trays on {medium.name} stand {words.number(abs(days), 2)} days {more} than on {today.name}: a full "
                f"shelf holds {holds} of them. Margin per shelf-day counts that; saving and payback, which keep the "
                f"number of trays, do not."
            )
    return said
