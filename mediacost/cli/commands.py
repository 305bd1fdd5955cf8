"""What each command does: read the file, work out the answer, print it."""

from __future__ import annotations

import json
import shutil
import sys
from argparse import Namespace
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from mediacost.errors import InputFaults, MediacostError
from mediacost.scenario import ScenarioFile, read_file

_MANY_DRAWS = 200_000
"""From so many draws on they take long enough to say how far it is."""


def open_window(options: Namespace) -> None:
    """The window is not the command line's to open: whoever starts the program does that before it gets here."""
    raise MediacostError("the window is opened by the program itself: mediacost open FILE")


def check(options: Namespace) -> None:
    """Look a scenario over; faults are raised, warnings printed."""
    from mediacost.results import words
    from mediacost.results.evaluation import evaluate

    file = _read(options.file)
    _with_place(options.file, lambda: evaluate(file.scenario))
    if options.json:
        _print_json({"file": options.file, "faults": [], "warnings": [str(each) for each in file.warnings]})
        return
    _print(str(each) for each in file.warnings)
    scenario = file.scenario
    crops, trials = words.counted(len(scenario.crops), "crop"), words.counted(len(scenario.trials), "trial")
    counts = f"{len(scenario.media)} media, {crops}, {trials}"
    found = "no faults" if not file.warnings else f"no faults, {len(file.warnings)} to look at"
    print(f"{options.file}: {found} ({counts})")


def compare(options: Namespace) -> None:
    """Compare the media of a scenario."""
    from mediacost.results import compare as work_out
    from mediacost.results.as_json import comparison_json

    file = _read(options.file)
    comparison = _with_place(options.file, lambda: work_out(file.scenario))
    if options.json:
        _print_json(comparison_json(comparison))
        return
    from mediacost.cli.comparison_text import comparison_lines
    from mediacost.results.cautions import cautions_for

    _print_warnings(file)
    _print(comparison_lines(comparison, cautions_for(file.scenario), _width()))


def explain(options: Namespace) -> None:
    """Open one figure of one medium."""
    from mediacost.cli.explanation_text import explanation_lines
    from mediacost.cli.prose import caution_lines
    from mediacost.results.cautions import cautions_for_medium
    from mediacost.results.explanation import explain as open_up
    from mediacost.results.explanation import explanation_heading, explanation_json

    file = _read(options.file)
    explanation = _with_place(options.file, lambda: open_up(file.scenario, options.medium, options.figure))
    if options.json:
        _print_json(explanation_json(explanation))
        return
    medium = next(each for each in file.scenario.media if each.id == options.medium)
    heading = explanation_heading(explanation, file.scenario)
    _print(explanation_lines(explanation, heading, _width(), options.depth))
    _print(caution_lines(cautions_for_medium(file.scenario, medium), _width()))


def trial(options: Namespace) -> None:
    """Say what the trials of a scenario show."""
    from mediacost.results.trial_json import trials_json
    from mediacost.results.trials import trials_answer

    file = _read(options.file)
    answer = _with_place(options.file, lambda: trials_answer(file.scenario))
    if options.json:
        _print_json(trials_json(answer))
        return
    from mediacost.cli.trial_text import trial_lines

    _print_warnings(file)
    _print(trial_lines(answer, _width()))
    _print_cautions(file)


def confidence(options: Namespace) -> None:
    """Work out how sure the answer of a scenario is."""
    from mediacost.results.confidence import how_sure
    from mediacost.results.confidence_json import confidence_json
    from mediacost.results.study import DEFAULT_DRAWS, DEFAULT_SEED

    file = _read(options.file)
    draws = DEFAULT_DRAWS if options.draws is None else options.draws
    seed = DEFAULT_SEED if options.seed is None else options.seed
    progress = _say_share if sys.stderr is not None and sys.stderr.isatty() and draws >= _MANY_DRAWS else None
    answer = _with_place(options.file, lambda: how_sure(file.scenario, draws, seed, progress=progress))
    if options.json:
        _print_json(confidence_json(answer))
        return
    from mediacost.cli.confidence_text import confidence_lines

    _print_warnings(file)
    _print(confidence_lines(answer, _width()))
    _print_cautions(file)


def _print_cautions(file: ScenarioFile) -> None:
    from mediacost.cli.prose import caution_lines
    from mediacost.results.cautions import cautions_for

    _print(caution_lines(cautions_for(file.scenario), _width()))


def _say_share(done: float) -> None:
    """Tell somebody who waits at a terminal how far it is."""
    print(f"\r{done:.0%} of the draws done", end="" if done < 1 else "\n", file=sys.stderr, flush=True)


def _read(path: str) -> ScenarioFile:
    return read_file(path)


def _with_place(path: str, work: Any) -> Any:
    """Run some work; faults that it finds are said to be of this file."""
    try:
        return work()
    except InputFaults as wrong:
        raise InputFaults(replace(fault, where=fault.where or path) for fault in wrong.faults) from None


def _print_warnings(file: ScenarioFile) -> None:
    for warning in file.warnings:
        print(warning, file=sys.stderr)


def _print(lines: Iterable[str]) -> None:
    for line in lines:
        print(line)


def _print_json(data: Any) -> None:
    print(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False))


def _width() -> int:
    return max(60, shutil.get_terminal_size((110, 40)).columns)
