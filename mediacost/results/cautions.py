"""The cautions: one catalogue, shown wherever a sanitiser, a hot wash or reuse shows.

They remind; they clear nothing as safe and set no dose. The product's label, local codes and a licensed person
decide. Grounds: the usual cautions of public health bodies on chlorine and its mixtures (second hand), and common
practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from mediacost.scenario import Medium, Range, Scenario, Wash, WashStep

HOT_FROM_C = 43.0
"""Water at or above this is called hot here: skin starts to scald with time (common practice, no source)."""


class Caution(NamedTuple):
    """A group of cautions and what brings it up."""

    id: str
    heading: str
    lines: tuple[str, ...]


SANITISER = Caution(
    "sanitiser",
    "Sanitisers",
    (
        "Follow the product's label: it decides strength, contact time, rinsing and what the product may touch.",
        "Never mix chlorine with acid (vinegar and lime remover are acids), ammonia, peroxide or peracetic acid: "
        "poisonous gas. Rinse well between one product and another.",
        "Wear gloves and eye protection, keep the air moving, add the product to the water, label every container, "
        "and keep children, visitors and food away.",
        "Nothing into storm drains or streams; ask the sewer works, or whoever looks after the septic tank, first.",
        "Chlorine left on steel pits it: no longer than the label says, then drain or rinse.",
    ),
)

HOT_WATER = Caution(
    "hot water",
    "Hot water",
    (
        "Hot water scalds: know the temperature at the tap, wear gloves that keep water out, and keep others away "
        "from the tub.",
        "Heat does not replace cleaning, and no temperature shown here says that a sheet is sanitised.",
    ),
)

REUSE = Caution(
    "reuse",
    "Reusing sheets",
    (
        "Clean first, then sanitise: a sanitiser fails on dirt. Air-dry, store dry and covered.",
        "Look at each sheet before it is laid again; throw out what is torn, rusty, pitted or smells. Edges and loose "
        "wires of mesh cut: gloves.",
        "Whether reuse is right for your crops is for your food-safety plan, your certifier and local codes to say. "
        "This program prices the work; it clears nothing as safe.",
    ),
)


def cautions_for(scenario: Scenario) -> tuple[Caution, ...]:
    """The cautions that a document brings up, in a fixed order."""
    reusable = [medium for medium in scenario.media if medium.use == "reusable"]
    return _brought_up(_routines(scenario, reusable), bool(reusable))


def cautions_for_medium(scenario: Scenario, medium: Medium) -> tuple[Caution, ...]:
    """The cautions that one medium brings up."""
    reusable = medium.use == "reusable"
    return _brought_up(_routines(scenario, [medium] if reusable else []), reusable)


def cautions_for_wash(wash: Wash) -> tuple[Caution, ...]:
    """The cautions of one wash routine."""
    return _brought_up([wash], True)


def _routines(scenario: Scenario, media: Iterable[Medium]) -> list[Wash]:
    used = {medium.wash for medium in media}
    return [wash for wash in scenario.washes if wash.id in used]


def _brought_up(washes: Iterable[Wash], reuse: bool) -> tuple[Caution, ...]:
    steps = [step for wash in washes for step in wash.steps]
    found = []
    if any(step.sanitiser is not None for step in steps):
        found.append(SANITISER)
    if any(_is_hot(step) for step in steps):
        found.append(HOT_WATER)
    if reuse:
        found.append(REUSE)
    return tuple(found)


def _is_hot(step: WashStep) -> bool:
    temperature = step.temperature_c
    if temperature is None:
        return False
    return (temperature.high if isinstance(temperature, Range) else temperature) >= HOT_FROM_C


def cautions_page() -> str:
    """The manual's page of cautions as Markdown."""
    parts = [
        "# Cautions\n",
        "<!-- Written by `python packaging/tasks.py pages`; change the catalogue, not this page. -->\n",
        "They are shown wherever a sanitiser, a hot wash or reuse shows. They remind; they clear nothing as safe and "
        "set no dose. The product's label, local codes and a licensed person decide.",
    ]
    for caution in (SANITISER, HOT_WATER, REUSE):
        parts += [f"\n## {caution.heading}\n", *(f"- {line}" for line in caution.lines)]
    return "\n".join(parts) + "\n"
