"""What the answer says of each medium, in words that can be asked why: shared by the panel and the strip."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from mediacost.charts.unbroken import unbroken
from mediacost.desktop.session import Answered, Session
from mediacost.desktop.was_before import WasBefore
from mediacost.errors import Fault
from mediacost.results import words
from mediacost.results.answers import Comparison, MediumAnswer, NoAnswer
from mediacost.results.cautions import cautions_for
from mediacost.scenario import describe_path

ALL_FIGURES_LINK = "all-figures"
HOW_SURE_ELSEWHERE = "In a terminal, 'mediacost confidence' works it out."
"""Where to turn for the doubt that the window does not work out."""

CAUTIONS_LINK = "cautions"


def stale_words(session: Session, answered: Answered) -> str:
    """That the answer shown is an earlier one, and the fault that stands; '' while it is current."""
    if answered.current:
        return ""
    return f"The last good answer, from before this fault: {first_fault(session)}"


def first_fault(session: Session) -> str:
    """The first fault in words, and how many more there are."""
    more = f" (and {len(session.faults) - 1} more)" if len(session.faults) > 1 else ""
    return f"{place_words(session, session.faults[0])}: {fault_words(session.faults[0])}{more}."


def place_words(session: Session, fault: Fault) -> str:
    """Where a fault is, as the pages call it: the field, and the medium, crop or wash it belongs to."""
    owner = session.value(fault.keys[:2]) if len(fault.keys) > 2 else None
    try:
        label = describe_path(fault.keys).label
    except KeyError:
        return fault.path or "the file"
    name = owner.get("name") if isinstance(owner, Mapping) else None
    return f"{label} of {name}" if name else label


def fault_words(fault: Fault) -> str:
    """What is wrong and what was expected; a field in the window takes a number, never a range."""
    expected = fault.expected.partition(", or a range")[0]
    return f"{fault.problem}; expected {expected}" if expected else fault.problem


def cautions_words(answered: Answered) -> str:
    """Which cautions a document brings up; '' if none."""
    headings = [caution.heading.lower() for caution in cautions_for(answered.scenario)]
    return f"Caution: {words.listed(headings)}." if headings else ""


def cost_words(medium: MediumAnswer, comparison: Comparison) -> str:
    """What a kilogram costs, or why there is no such figure."""
    if isinstance(medium.cost_per_kg, NoAnswer):
        return medium.cost_per_kg.reason
    return f"{words.fixed(medium.cost_per_kg)} {comparison.currency}/kg"


def medium_lines(medium: MediumAnswer, comparison: Comparison, was: WasBefore) -> list[str]:
    """Cost of a kilogram, payback, break-even and sheets of a medium, as HTML with a link on each figure."""
    basis = comparison.basis
    lines = [f"a kilogram costs {_figure(medium, 'cost_per_kg', cost_words(medium, comparison), was)}"]
    if medium.id != comparison.baseline:
        lines.append(_pays_html(medium, basis, was))
    if medium.use == "reusable":
        cycles = medium.break_even_cycles[basis]
        if not isinstance(cycles, NoAnswer):
            shown = f"{words.number(cycles, 3)} cycles"
            served = f" (a sheet serves {words.number(medium.mean_cycles, 3)} on average)"
            lines.append(f"breaks even at {_figure(medium, f'break_even_cycles.{basis}', shown, was)}{served}")
        sheets = f"{words.number(medium.sheets_needed)} sheets"
        lines.append(f"{_figure(medium, 'sheets_needed', sheets, was)} to own")
    return lines


def medium_in_short(medium: MediumAnswer, comparison: Comparison, was: WasBefore) -> str:
    """Name, cost of a kilogram and payback of a medium, as HTML with a link on each figure."""
    cost = medium.cost_per_kg
    shown = "no harvest" if isinstance(cost, NoAnswer) else cost_words(medium, comparison)
    text = f"{escape(medium.name)} {_figure(medium, 'cost_per_kg', shown, was)}"
    if medium.use == "reusable" and medium.id != comparison.baseline:
        simple = medium.payback_months[comparison.basis].simple
        pays = "never" if isinstance(simple, NoAnswer) else f"{words.number(simple, 3)} months"
        pays = "from the start" if simple == 0 else pays
        text += f", pays: {_figure(medium, f'payback_months.{comparison.basis}.simple', pays, was)}"
    return text


def asked_by(link: str) -> tuple[str, str]:
    """The medium and the figure that a link asks about."""
    medium, _, figure = link.rpartition("/")
    return medium, figure


def _pays_html(medium: MediumAnswer, basis: str, was: WasBefore) -> str:
    simple = medium.payback_months[basis].simple
    figure = f"payback_months.{basis}.simple"
    if isinstance(simple, NoAnswer):
        shown = f"does not pay: {simple.reason.removeprefix('never: ')}"
        return _figure(medium, figure, shown, was)
    if simple == 0:
        return f"pays {_figure(medium, figure, 'from the start', was)}"
    return f"pays after {_figure(medium, figure, words.months(simple), was)}"


def _figure(medium: MediumAnswer, figure: str, text: str, was: WasBefore) -> str:
    before = unbroken(was.note(f"{medium.id}/{figure}", text))
    said = f" <i>was {escape(before)}</i>" if before else ""
    return f'<a href="{escape(medium.id)}/{figure}" title="why?">{escape(unbroken(text))}</a>{said}'
