"""An explanation as indented text."""

from __future__ import annotations

from mediacost.cli.comparison_text import sentence, wrapped
from mediacost.results import words
from mediacost.results.explanation import Explanation, Step


def explanation_lines(explanation: Explanation, heading: str, width: int, depth: int | None = None) -> list[str]:
    """The heading, the reason where there is no number, and the steps down to the inputs."""
    lines = wrapped(heading, width) + [""]
    if explanation.reason:
        lines += [*wrapped(sentence(explanation.reason), width), ""]
        if explanation.step is not None:
            lines += ["What shows it:", ""]
    if explanation.step is not None:
        for level, step in explanation.step.walk():
            if depth is None or level <= depth:
                lines += _step_lines(step, "  " * level)
    return lines


def _step_lines(step: Step, indent: str) -> list[str]:
    value = f"{words.number(step.value, 5)} {step.unit}".rstrip()
    if step.seen:
        return [f"{indent}{step.label} = {value} (opened above)"]
    if not step.formula:
        place = f"   [{step.where}]" if step.where else ""
        lines = [f"{indent}{step.label} = {value}{place}"]
        if step.note:
            lines.append(f"{indent}    {step.note}")
        return lines + [f"{indent}    {line}" for line in step.lines]
    filled = [f"{indent}    = {step.numbers}"] if step.numbers else []
    return [f"{indent}{step.label}", f"{indent}    = {step.formula}", *filled, f"{indent}    = {value}"]
