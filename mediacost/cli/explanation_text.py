"""An explanation as indented text."""

from __future__ import annotations

from mediacost.cli.prose import folded, sentence, wrapped
from mediacost.results import words
from mediacost.results.explanation import Explanation
from mediacost.results.explanation_steps import Step

_MANY_STEPS = 40


def explanation_lines(explanation: Explanation, heading: str, width: int, depth: int | None = None) -> list[str]:
    """The heading, the reason where there is no number, and the steps down to the inputs."""
    lines = wrapped(heading, width)
    if explanation.reason:
        lines += wrapped(sentence(explanation.reason), width)
    if explanation.step is None:
        return lines
    steps = list(explanation.step.walk())
    if depth is None and len(steps) > _MANY_STEPS:
        lines += wrapped("All steps follow, down to your numbers; --depth 1 shows only the first.", width)
    lines += ["", "What shows it:", ""] if explanation.reason else [""]
    for level, step in steps:
        if depth is None or level <= depth:
            lines += _step_lines(step, "  " * level, width)
    return lines


def _step_lines(step: Step, indent: str, width: int) -> list[str]:
    value = f"{words.number(step.value, 5)} {step.unit}".rstrip()
    if step.seen:
        return [f"{indent}{step.label} = {value} (opened above)"]
    inner = f"{indent}    "
    if not step.formula:
        place = f"   [{step.where}]" if step.where else ""
        lines = [f"{indent}{step.label} = {value}{place}"]
        for each in (*step.note.splitlines(), *step.lines):
            lines += _wrapped(each, inner, inner, width)
        return lines
    numbers = "" if step.numbers == words.number(step.value) else step.numbers
    worked_out = [each for each in (step.formula, numbers, value) if each]
    in_one_line = f"{indent}{' = '.join([step.label, *worked_out])}"
    if len(in_one_line) <= width:
        return [in_one_line]
    lines = [f"{indent}{step.label}"]
    for each in worked_out:
        lines += _wrapped(f"= {each}", inner, f"{inner}  ", width)
    return lines


def _wrapped(text: str, first: str, later: str, width: int) -> list[str]:
    """Text in lines; deep indents leave it room to go on, past the width if need be."""
    return folded(text, max(width, len(later) + 50), first, later)
