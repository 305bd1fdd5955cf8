"""Every formula says what each number is, in which unit, and shows an example."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

import mediacost.formulas

ELEMENTARY = "mediacost.formulas.numeric"
"""Not formulas but their building stones (floor, where, maximum): they work in any unit."""

UNIT = re.compile(r"\[[^\]\s][^\]]*\]")


def public_formulas() -> Iterator[Callable[..., Any]]:
    for module_info in pkgutil.iter_modules(mediacost.formulas.__path__, "mediacost.formulas."):
        if module_info.name == ELEMENTARY:
            continue
        module = importlib.import_module(module_info.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not name.startswith("_"):
                yield function


def sections(docstring: str) -> dict[str, list[str]]:
    """The lines under each underlined heading of a docstring; what stands before the first is under ''."""
    lines = inspect.cleandoc(docstring).splitlines()
    found: dict[str, list[str]] = {"": []}
    heading = ""
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        if re.fullmatch(r"-{3,}", following):
            heading = line
            found[heading] = []
        elif not re.fullmatch(r"-{3,}", line):
            found[heading].append(line)
    return found


def entries(lines: list[str]) -> list[tuple[list[str], str]]:
    """The names of each entry of a section, and what is said about them."""
    found: list[tuple[list[str], str]] = []
    for line in lines:
        if line and not line.startswith(" "):
            names = [name.strip().lstrip("*") for name in line.partition(" :")[0].split(",")]
            found.append((names, ""))
        elif found:
            names, said = found[-1]
            found[-1] = (names, f"{said} {line.strip()}".strip())
    return found


def faults(function: Callable[..., Any]) -> list[str]:
    """What is missing in the docstring of a formula."""
    parts = sections(function.__doc__ or "")
    wrong = [] if "".join(parts[""]).strip() else ["no summary"]
    described = entries(parts.get("Parameters", []))
    expected = list(inspect.signature(function).parameters)
    names = [name for group, _ in described for name in group]
    if names != expected:
        wrong.append(f"Parameters are {names}, the signature has {expected}")
    wrong += [f"no unit in brackets for {', '.join(group)}" for group, said in described if not UNIT.search(said)]
    returned = entries(parts.get("Returns", []))
    if not returned:
        wrong.append("no Returns")
    wrong += [f"no unit in brackets for {', '.join(group)}" for group, said in returned if not UNIT.search(said)]
    if not any(line.lstrip().startswith(">>>") for line in parts.get("Examples", [])):
        wrong.append("no Examples with >>>")
    return wrong


FORMULAS = list(public_formulas())


def test_there_are_formulas_to_read() -> None:
    assert len(FORMULAS) > 20


@pytest.mark.parametrize("function", FORMULAS, ids=lambda each: f"{each.__module__.rpartition('.')[2]}.{each.__name__}")
def test_a_formula_describes_its_numbers(function: Callable[..., Any]) -> None:
    assert faults(function) == []


def test_a_poor_docstring_is_found_out() -> None:
    def poor(price: float, mass: float) -> float:
        """Price of a mass.

        Parameters
        ----------
        mass : number
            How much [kg]
        price : number
            What it costs

        Returns
        -------
        number
            Money
        """
        return price * mass

    assert faults(poor) == [
        "Parameters are ['mass', 'price'], the signature has ['price', 'mass']",
        "no unit in brackets for price",
        "no unit in brackets for number",
        "no Examples with >>>",
    ]
