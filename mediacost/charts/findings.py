"""The title of a chart is its finding: a sentence made from the numbers."""

from __future__ import annotations

from mediacost.results import words
from mediacost.results.answers import Comparison, Kind, MediumAnswer, NoAnswer
from mediacost.results.groups import COST_GROUPS

MOST_NAMED = 3
"""With more media than this a title gives the first and counts the others."""

_IF = {
    "per_tray": "the media's own costs alone counted",
    "same_harvest": "the same harvest delivered",
    "sell_extra": "if the extra harvest sells",
}


def cost_parts_finding(comparison: Comparison) -> str:
    """What the cheapest medium's part of a kilogram costs, and what it is mostly made of."""
    costed = [
        (cost, medium) for medium in comparison.media if not isinstance(cost := medium.medium_cost_per_kg, NoAnswer)
    ]
    if not costed:
        return "Nothing saleable is harvested, so nothing costs so much a kilogram"
    cost, best = min(costed, key=lambda each: each[0])
    group = max(COST_GROUPS, key=lambda each: each.of(best.cost_per_tray))
    total = best.cost_per_tray["medium_total"]
    share = f", {words.percent(group.of(best.cost_per_tray) / total)} of it {group.label}" if total > 0 else ""
    shown = words.amount(cost, "money/kg", comparison.currency, 3)
    return f"{best.name} itself costs least in a kilogram: {shown}{share}"


def over_cycles_finding(comparison: Comparison, basis: str) -> str:
    """After how many cycles each reusable has caught up, or that it never does."""
    rivals = [each for each in comparison.media if each.use == "reusable" and each.id != comparison.baseline]
    if not rivals:
        return "No reusable medium is compared with the one in use today"
    today = comparison.medium(comparison.baseline).name
    if len(rivals) <= MOST_NAMED:
        said = [_cycles_words(medium, medium.break_even_cycles[basis], today) for medium in rivals]
        return f"{'; '.join(said)}, {_IF[basis]}"
    answers = {medium.name: medium.break_even_cycles[basis] for medium in rivals}
    caught = sorted(
        (cycles, medium.name)
        for medium in rivals
        if not isinstance(cycles := answers[medium.name], NoAnswer) and cycles <= medium.mean_cycles
    )
    if not caught:
        return f"None of {len(rivals)} reusable media catches up with {today} while a sheet lasts, {_IF[basis]}"
    cycles, name = caught[0]
    said = [f"{name} catches up first, after {words.number(cycles, 3)} cycles"]
    said += [f"{words.counted(len(caught) - 1, 'other')} later"] if len(caught) > 1 else []
    said += [f"{len(rivals) - len(caught)} not while a sheet lasts"] if len(rivals) > len(caught) else []
    return f"{'; '.join(said)}, {_IF[basis]}"


def _cycles_words(medium: MediumAnswer, cycles: float | NoAnswer, today: str) -> str:
    if not isinstance(cycles, NoAnswer) and cycles > medium.mean_cycles:
        served = words.number(medium.mean_cycles, 3)
        return f"{medium.name} would catch up at {words.number(cycles, 3)} cycles, but a sheet serves {served}"
    if not isinstance(cycles, NoAnswer):
        return f"{medium.name} catches up after {words.number(cycles, 3)} cycles"
    if cycles.kind is Kind.NEVER:
        return f"{medium.name} never catches up: a cycle on it costs no less than on {today}"
    return f"{medium.name} cannot be counted so: {cycles.reason}"


def by_month_finding(comparison: Comparison, basis: str) -> str:
    """When each medium's money is back for good, or that it is not within the months looked at."""
    rivals = [each for each in comparison.media if each.id != comparison.baseline]
    if len(rivals) <= MOST_NAMED:
        return f"{'; '.join(_month_words(medium, comparison, basis) for medium in rivals)}, {_IF[basis]}"
    paid = sorted(
        (months, medium.name)
        for medium in rivals
        if not isinstance(months := medium.payback_months[basis].simple, NoAnswer)
    )
    if not paid:
        behind = f"None of {len(rivals)} media is ahead for good after {comparison.horizon_months} months"
        return f"{behind}, {_IF[basis]}"
    months, name = paid[0]
    said = [f"{name} is ahead from the start" if months == 0 else f"{name} pays first, after {words.months(months)}"]
    if len(paid) > 1:
        said.append(f"{words.counted(len(paid) - 1, 'other')} {'as well or later' if months == 0 else 'later'}")
    if len(rivals) > len(paid):
        said.append(f"{len(rivals) - len(paid)} not within {comparison.horizon_months} months")
    return f"{'; '.join(said)}, {_IF[basis]}"


def _month_words(medium: MediumAnswer, comparison: Comparison, basis: str) -> str:
    simple = medium.payback_months[basis].simple
    flow = medium.cash.get(basis)
    if flow is None:
        return f"{medium.name} cannot be counted so: it gives nothing saleable"
    if isinstance(simple, NoAnswer):
        behind = words.amount(-flow.running[-1], "money", comparison.currency, 3)
        return f"{medium.name} is still {behind} behind after {comparison.horizon_months} months"
    if simple == 0:
        return f"{medium.name} is ahead from the start"
    return f"{medium.name} pays after {words.months(simple)}"
