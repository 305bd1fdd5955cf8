"""How rules on a scenario are written and run.

A rule is a small generator of `Finding`s about a whole scenario or one of its tables. A rule that meets a
field whose own fault is already reported ends there (see `partial`), the others go on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from mediacost.scenario.partial import Unreadable
from mediacost.scenario.paths_in_words import name_in_words
from mediacost.scenario.records import Scenario

Keys = tuple[str | int, ...]

Rules = tuple[tuple[str, Callable[..., Iterator["Finding"]]], ...]
"""Pairs of what a rule is for and the rule; the scenario, places and items are its arguments."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found: the key path, what is wrong, what was expected; `path` replaces the path in words."""

    keys: Keys
    problem: str
    expected: str = ""
    path: str = ""


def run_rules(scenario: Scenario, rules: Rules) -> list[Finding]:
    """Run each rule on the items it is for."""
    found: list[Finding] = []
    for scope, rule in rules:
        for arguments in read_all(_SCOPES[scope](scenario)):
            found.extend(read_all(rule(scenario, *arguments)))
    return found


def read_all(items: Iterable[Any]) -> Iterator[Any]:
    """Pass items on until one needs a field that cannot be read."""
    try:
        yield from items
    except Unreadable:
        return


def _each(list_name: str) -> Callable[[Scenario], Iterator[tuple[Any, ...]]]:
    def scope(scenario: Scenario) -> Iterator[tuple[Any, ...]]:
        yield from enumerate(getattr(scenario, list_name))

    return scope


def _each_inside(list_name: str, inner_name: str) -> Callable[[Scenario], Iterator[tuple[Any, ...]]]:
    """Go through the items of every item's own list: place, place inside, item."""

    def inside(place: int, item: Any) -> Iterator[tuple[Any, ...]]:
        for number, inner in enumerate(getattr(item, inner_name)):
            yield place, number, inner

    def scope(scenario: Scenario) -> Iterator[tuple[Any, ...]]:
        for place, item in enumerate(getattr(scenario, list_name)):
            yield from read_all(inside(place, item))

    return scope


def _each_medium_and_crop(scenario: Scenario) -> Iterator[tuple[Any, ...]]:
    for medium in scenario.media:
        for crop in scenario.crops:
            yield medium, crop


_SCOPES: dict[str, Callable[[Scenario], Iterator[tuple[Any, ...]]]] = {
    "scenario": lambda scenario: iter(((),)),
    "crop": _each("crops"),
    "medium": _each("media"),
    "wash": _each("washes"),
    "step": _each_inside("washes", "steps"),
    "pair": _each("pairs"),
    "trial": _each("trials"),
    "trial tray": _each_inside("trials", "trays"),
    "medium and crop": _each_medium_and_crop,
}


def known_names(items: Sequence[Any], name: str = "id") -> list[tuple[int, str]]:
    """Return place and id of every item whose id can be read."""
    known = []
    for place, item in enumerate(items):
        try:
            known.append((place, getattr(item, name)))
        except Unreadable:
            continue
    return known


def refers_to(keys: Keys, name: str, items: Sequence[Any], kind: str) -> Iterator[Finding]:
    """Complain if an id names none of the items; keep quiet while some item's own id cannot be read."""
    known = [known_name for _, known_name in known_names(items)]
    if name in known or len(known) < len(items):
        return
    listed = ", ".join(name_in_words(known_name) for known_name in known[:8]) or "one that exists"
    problem = f"there is no {kind} {name_in_words(name)}"
    yield Finding(keys, problem, f"the id of a {kind}: {listed}" if known else f"the id of a {kind} in this file")


def is_given(record: Any, name: str) -> bool:
    """Whether a field has a value of its own; one that cannot be read has been typed, so it counts."""
    try:
        return getattr(record, name) is not None
    except Unreadable:
        return name in record.model_fields_set
