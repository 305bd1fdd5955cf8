"""The import contracts hold, and each of them can fail."""

from __future__ import annotations

import ast
import re
import shutil
import tomllib
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.house.places import PACKAGE, ROOT, run_python

CHECK = "from importlinter.cli import lint_imports; raise SystemExit(lint_imports(no_cache=True, no_logo=True))"

LAYERS = "Imports run downwards only, and every part has its floor"
NO_SCREENS = "Document, formulas and answers know no window, chart or spreadsheet"
NO_TABLES = "Document and formulas know no tables"
NO_WINDOW = "Only the desktop knows the window"
NO_CYCLES = "No cycles"


class Plant(NamedTuple):
    """A line added to a file (made if need be), and the contract that it must break."""

    file: str
    line: str
    broken: str


PLANTS = [
    Plant("formulas/sheet.py", "import PySide6", NO_SCREENS),
    Plant("formulas/week.py", "def late():\n    import matplotlib", NO_SCREENS),
    Plant("results/words.py", "import openpyxl", NO_SCREENS),
    Plant("formulas/washing.py", "import pandas", NO_TABLES),
    Plant("scenario/rules.py", "import pandas", NO_TABLES),
    Plant("formulas/cash.py", "import mediacost.scenario", LAYERS),
    Plant("scenario/rules.py", "import mediacost.formulas.sheet", LAYERS),
    Plant("results/words.py", "import mediacost.cli.table", LAYERS),
    Plant("cli/table.py", "import mediacost.desktop", LAYERS),
    Plant("units.py", "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import mediacost.results", LAYERS),
    Plant("attic/__init__.py", "", LAYERS),
    Plant("cli/table.py", "import PySide6", NO_WINDOW),
    Plant("charts/planted.py", "import PySide6", NO_WINDOW),
    Plant("errors.py", "import mediacost.units\nimport mediacost.results.words", NO_CYCLES),
]


def test_the_contracts_hold() -> None:
    done = run_python(CHECK)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 broken" in done.stdout


@pytest.mark.parametrize("plant", PLANTS, ids=lambda plant: f"{plant.file}: {plant.line.splitlines()[-1:]}")
def test_a_planted_fault_is_found(plant: Plant, tmp_path: Path) -> None:
    shutil.copytree(PACKAGE, tmp_path / "mediacost", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    file = tmp_path / "mediacost" / plant.file
    for folder in [file.parent, *file.parent.parents]:
        if folder == tmp_path / "mediacost":
            break
        folder.mkdir(exist_ok=True)
        (folder / "__init__.py").touch()
    before = file.read_text(encoding="utf-8") if file.exists() else ""
    file.write_text(f"{before}\n{plant.line}\n", encoding="utf-8")

    done = run_python(CHECK, cwd=tmp_path)

    assert done.returncode != 0
    assert f"{plant.broken} BROKEN" in " ".join(done.stdout.split()), done.stdout + done.stderr


def test_every_part_without_a_window_is_named_in_the_contract() -> None:
    """A contract cannot name a part before it exists, so this asks for it once it does."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    named = next(each for each in settings["contracts"] if each["name"] == NO_WINDOW)["source_modules"]
    parts = [name for name in ("charts", "workbook", "memo", "cli") if (PACKAGE / name / "__init__.py").exists()]
    assert sorted(named) == sorted(f"mediacost.{name}" for name in parts)


def test_nothing_uses_the_network() -> None:
    network = {"socket", "ssl", "http", "ftplib", "smtplib", "urllib.request", "requests", "PySide6.QtNetwork"}
    found = {(str(path.relative_to(ROOT)), name) for path in PACKAGE.rglob("*.py") for name in imported_names(path)}
    assert {pair for pair in found if any(f"{pair[1]}.".startswith(f"{name}.") for name in network)} == set()


def test_nothing_is_drawn_through_pyplot() -> None:
    """The linter sees an import; a late one by name would slip past it, so names in texts are looked at too."""
    hits = {(str(path.relative_to(ROOT)), name) for path in PACKAGE.rglob("*.py") for name in named_modules(path)}
    assert {hit for hit in hits if {"pyplot", "pylab"} & set(hit[1].split("."))} == set()


def imported_names(path: Path) -> set[str]:
    """Every module a file imports, `from` imports with and without their last name."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names |= {node.module or ""} | {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def named_modules(path: Path) -> set[str]:
    """Every module a file imports, and every text in it that could be the name of one."""
    texts = {
        node.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and re.fullmatch(r"\w+(\.\w+)*", node.value)
    }
    return imported_names(path) | texts
