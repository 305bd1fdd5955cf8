"""Chores of whoever works on mediacost. Standard library only:

    python packaging/tasks.py check|lock|pages|pictures|bench

The tools come from the Python that runs this, if it has them, else from .venv, which ``sh packaging/test.sh`` makes.
"""

from __future__ import annotations

import argparse
import importlib.util
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CONSTRAINTS = Path("packaging/constraints.txt")
DOCS = ROOT / "docs"
VENV_PYTHON = ROOT / ".venv" / "bin" / "python"

IMPORT_CONTRACTS = (
    "from importlinter.cli import lint_imports; raise SystemExit(lint_imports(no_cache=True, no_logo=True))"
)
WRITTEN_PAGES = {
    "scenario.schema.json": (
        "import json; from mediacost.scenario.json_schema import json_schema; "
        "print(json.dumps(json_schema(), indent=2, ensure_ascii=False))"
    ),
    "scenario-file.md": "from mediacost.scenario.file_page import file_page; print(file_page(), end='')",
    "cautions.md": "from mediacost.results.cautions import cautions_page; print(cautions_page(), end='')",
}
"""Pages of docs/ that the program itself writes, each with the line of Python that prints it."""


def check() -> int:
    """Lint, format, types and import contracts; all of them run, whatever fails."""
    codes = [
        run("ruff", "check", "."),
        run("ruff", "format", "--check", "."),
        run("mypy"),
        run_code(IMPORT_CONTRACTS),
    ]
    return max(codes)


def lock() -> int:
    """Write the newest versions that fit together into packaging/constraints.txt, for Python 3.11 and newer."""
    return run(
        *("uv", "pip", "compile", "pyproject.toml", "--extra", "dev", "--universal", "--python-version", "3.11"),
        *("--upgrade", "--quiet", "--no-annotate", "--no-emit-index-url", "--no-emit-find-links"),
        *("--custom-compile-command", "python packaging/tasks.py lock", "--output-file", str(CONSTRAINTS)),
    )


def pages() -> int:
    """Write the pages of docs/ that come from the program: scenario file, its JSON schema, cautions."""
    DOCS.mkdir(exist_ok=True)
    for name, code in WRITTEN_PAGES.items():
        done = subprocess.run([python(), "-c", code], cwd=ROOT, stdout=subprocess.PIPE, encoding="utf-8")
        if done.returncode != 0:
            return done.returncode
        (DOCS / name).write_text(done.stdout, encoding="utf-8")
        print(f"docs/{name}")
    return 0


def pictures() -> int:
    """Write the manual's pictures of the window into docs/pictures."""
    return run("tests.pictures")


def bench() -> int:
    """Run every tests/benchmarks/bench_*.py; each prints its table and fails beyond its limits."""
    names = sorted(path.stem for path in (ROOT / "tests" / "benchmarks").glob("bench_*.py"))
    return max((run(f"tests.benchmarks.{name}") for name in names), default=0)


def run(module: str, *arguments: str) -> int:
    """Run a module as a program at the top of the checkout."""
    return _finish([python(), "-m", module, *arguments])


def run_code(code: str) -> int:
    """Run a line of Python at the top of the checkout."""
    return _finish([python(), "-c", code])


def _finish(command: Sequence[str]) -> int:
    print("$", *command[1:], flush=True)
    return subprocess.run(command, cwd=ROOT).returncode


def python() -> str:
    """The interpreter that has the tools."""
    if importlib.util.find_spec("ruff") is not None:
        return sys.executable
    if VENV_PYTHON.exists():
        return str(VENV_PYTHON)
    raise SystemExit("The tools are not installed yet: run  sh packaging/test.sh  once.")


CHORES = {chore.__name__: chore for chore in (check, lock, pages, pictures, bench)}


def main() -> int:
    """Run one chore and return its exit code."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    chores = parser.add_subparsers(dest="chore", required=True)
    for name, chore in CHORES.items():
        chores.add_parser(name, help=chore.__doc__)
    return CHORES[parser.parse_args().chore]()


if __name__ == "__main__":
    sys.exit(main())
