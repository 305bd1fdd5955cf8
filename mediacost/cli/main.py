"""Arguments, exit codes and errors of the command line.

Exit 0: fine. 2: the input is wrong, one line per fault on stderr. 1: anything else.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from mediacost import __version__
from mediacost.cli import commands
from mediacost.errors import InputFaults, MediacostError


def build_parser() -> argparse.ArgumentParser:
    """The command line's grammar."""
    parser = argparse.ArgumentParser(
        prog="mediacost", description="What a kilogram of greens costs on each growing medium, and what pays."
    )
    parser.add_argument("--version", action="version", version=f"mediacost {__version__}")
    verbs = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    check = _reading(verbs, "check", "look a scenario over and list every fault", commands.check)
    check.set_defaults(file_help=True)
    _reading(verbs, "compare", "cost per kilogram on each medium, break-even, payback, sheets", commands.compare)
    explain = _reading(verbs, "explain", "open one figure down to the inputs", commands.explain)
    explain.add_argument("--medium", required=True, metavar="ID", help="which medium")
    explain.add_argument("--figure", required=True, metavar="NAME", help="which figure, such as cost_per_kg")
    explain.add_argument("--depth", type=_depth, metavar="N", help="show only so many levels of steps")
    return parser


def _depth(text: str) -> int:
    depth = int(text)
    if depth < 0:
        raise argparse.ArgumentTypeError("a whole number of 0 or more is needed")
    return depth


def _reading(verbs, name: str, what: str, run) -> argparse.ArgumentParser:
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
        sys.stdout.flush()
        return 0
    except InputFaults as wrong:
        for fault in wrong.faults:
            print(fault, file=sys.stderr)
        return 2
    except MediacostError as problem:
        print(problem, file=sys.stderr)
        return 1
