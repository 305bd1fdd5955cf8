"""Arguments, exit codes and errors of the command line.

Exit 0: fine. 2: the input is wrong, one line per fault on stderr. 1: anything else. 130: interrupted.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence

from mediacost import __version__
from mediacost.cli import commands
from mediacost.errors import InputFaults, MediacostError

FINE, FAILED, WRONG_INPUT, INTERRUPTED = 0, 1, 2, 130


def build_parser() -> argparse.ArgumentParser:
    """The command line's grammar."""
    parser = argparse.ArgumentParser(
        prog="mediacost", description="What a kilogram of greens costs on each growing medium, and what pays."
    )
    parser.add_argument("--version", action="version", version=f"mediacost {__version__}")
    verbs = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    window = verbs.add_parser("open", help="open the window, on a scenario or on the sample")
    window.add_argument("file", metavar="FILE", nargs="?", help="a scenario file (.toml or .mediacost)")
    window.set_defaults(run=commands.open_window)
    _reading(verbs, "check", "look a scenario over and list every fault", commands.check)
    _reading(verbs, "compare", "cost per kilogram on each medium, break-even, payback, sheets", commands.compare)
    explain = _reading(verbs, "explain", "open one figure down to the inputs", commands.explain)
    explain.add_argument("--medium", required=True, metavar="ID", help="which medium")
    explain.add_argument("--figure", required=True, metavar="NAME", help="which figure, such as cost_per_kg")
    explain.add_argument("--depth", type=_whole_number, metavar="N", help="show only so many levels of steps")
    _reading(verbs, "trial", "what the tray trials show, and what they cannot tell yet", commands.trial)
    sure = _reading(verbs, "confidence", "how sure the answer is, and what would flip it", commands.confidence)
    sure.add_argument("--draws", type=_whole_number, metavar="N", help="how many draws; 8192 where left out")
    sure.add_argument("--seed", type=_whole_number, metavar="N", help="the same seed gives the same figures; 1")
    return parser


def _whole_number(text: str) -> int:
    if not text.isdecimal():
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number of 0 or more")
    return int(text)


def _reading(
    verbs: argparse._SubParsersAction[argparse.ArgumentParser],
    name: str,
    what: str,
    run: Callable[[argparse.Namespace], None],
) -> argparse.ArgumentParser:
    verb = verbs.add_parser(name, help=what, description=what[0].upper() + what[1:] + ".")
    verb.add_argument("file", metavar="FILE", help="a scenario file (.toml or .mediacost)")
    verb.add_argument("--json", action="store_true", help="print JSON instead of a table")
    verb.set_defaults(run=run)
    return verb


def main(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code."""
    options = build_parser().parse_args(arguments)
    try:
        options.run(options)
        if sys.stdout is not None:
            sys.stdout.flush()
    except InputFaults as wrong:
        for fault in wrong.faults:
            _complain(fault)
        return WRONG_INPUT
    except MediacostError as problem:
        _complain(problem)
        return FAILED
    except BrokenPipeError:
        _leave_the_pipe()
        return FAILED
    except OSError as problem:
        _leave_the_pipe()
        _complain(f"the output cannot be written: {problem.strerror or problem}")
        return WRONG_INPUT
    except KeyboardInterrupt:
        return INTERRUPTED
    return FINE


def _complain(problem: object) -> None:
    print(problem, file=sys.stderr)


def _leave_the_pipe() -> None:
    """Nobody reads on: what is left in the buffer goes nowhere, so that the exit does not fail over it."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        pass
