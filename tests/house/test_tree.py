"""What stands where, what it may be called, and that the same thing is said in one way everywhere."""

from __future__ import annotations

import ast
import importlib.metadata
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import mediacost
from tests.house.places import PACKAGE, ROOT, run_python

TOP_LEVEL = {
    *("README.md", "DEVELOPERS.md", "pyproject.toml"),
    *("mediacost", "tests", "sample_scenarios", "docs", "packaging"),
}
MADE_BY_TOOLS = {"build", "dist"}
TEXT = {".py", ".md", ".toml", ".sh", ".txt", ".csv", ".json", ""}

OF_ONE_MACHINE = re.compile(r"(?<![\w.:-])/(home|root|Users|tmp/\w)\b")
TICKET = re.compile(r"\b(issue|ticket|pull request)s? #?\d", re.IGNORECASE)
PAGE = re.compile(r"[\w.-]+\.md\b")


def text_files() -> Iterator[Path]:
    yield from (path for path in [ROOT / ".ci" / "run", ROOT / ".gitignore"] if path.exists())
    for name in sorted(TOP_LEVEL):
        top = ROOT / name
        for path in [top] if top.is_file() else sorted(top.rglob("*")):
            if path.is_file() and path.suffix in TEXT and "__pycache__" not in path.parts:
                yield path


def lines_with(pattern: re.Pattern[str]) -> list[tuple[str, int, str]]:
    """Place and text of every hit of a pattern, this file left out."""
    return [
        (str(path.relative_to(ROOT)), number, hit.group())
        for path in text_files()
        if path != Path(__file__)
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        for hit in pattern.finditer(line)
    ]


def test_the_top_level_stays_as_it_is() -> None:
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")} - MADE_BY_TOOLS
    assert found - TOP_LEVEL == set()


def test_the_packaging_folder_does_not_hide_the_library_of_that_name() -> None:
    assert not (ROOT / "packaging" / "__init__.py").exists()
    done = run_python("import packaging.version; print(packaging.version.Version('1.2').minor)")
    assert done.stdout == "2\n", done.stderr


def test_nothing_points_to_one_machine() -> None:
    assert lines_with(OF_ONE_MACHINE) == []


def test_nothing_hangs_on_a_ticket() -> None:
    assert lines_with(TICKET) == []


def test_every_page_that_is_named_is_here() -> None:
    here = {path.name for path in text_files()} | TOP_LEVEL
    assert [hit for hit in lines_with(PAGE) if hit[2] not in here] == []


@pytest.mark.parametrize("planted", ["see /root/plan", "in /home/me/x", "'/tmp/x/a'"])
def test_a_path_of_one_machine_would_be_seen(planted: str) -> None:
    assert OF_ONE_MACHINE.search(planted)


@pytest.mark.parametrize("innocent", ["https://example.org/home/x", "home/root split", "packaging/run.sh", "a/root"])
def test_an_ordinary_path_is_left_alone(innocent: str) -> None:
    assert not OF_ONE_MACHINE.search(innocent)


def test_the_package_root_holds_the_version_and_nothing_else() -> None:
    docstring, version = ast.parse((PACKAGE / "__init__.py").read_text(encoding="utf-8")).body
    assert isinstance(docstring, ast.Expr)
    assert isinstance(version, ast.Assign)
    assert ast.unparse(version) == f"__version__ = {mediacost.__version__!r}"


def test_the_command_line_says_the_version() -> None:
    done = run_python("import sys; from mediacost.__main__ import main; sys.exit(main(['--version']))")
    assert done.stdout == f"mediacost {mediacost.__version__}\n"


def test_the_installed_version_agrees() -> None:
    try:
        installed = importlib.metadata.version("mediacost")
    except importlib.metadata.PackageNotFoundError:
        pytest.skip("mediacost is on the path here but not installed")
    assert installed == mediacost.__version__


# What is installed


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def locked() -> list[str]:
    lines = (ROOT / "packaging" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if not line.startswith("#")]


def name_of(requirement: str) -> str:
    match = re.match(r"[\w.-]+", requirement)
    assert match is not None
    return match.group().lower().replace("_", "-")


def test_every_dependency_is_locked_to_one_version() -> None:
    asked = {name_of(each) for each in project()["dependencies"] + project()["optional-dependencies"]["dev"]}
    assert asked - {name_of(line) for line in locked()} == set()
    assert [line for line in locked() if not re.match(r"[\w.-]+==[\w.]+( ; .+)?$", line)] == []


def test_the_window_library_that_crashes_is_kept_out() -> None:
    """PySide6-Essentials 6.12.0 ends a long session on Python 3.11."""
    from packaging.requirements import Requirement

    for text in project()["dependencies"]:
        requirement = Requirement(text)
        if requirement.name == "PySide6-Essentials":
            assert "6.12.0" not in requirement.specifier
    assert [line for line in locked() if line.startswith("pyside6") and "==6.12.0" in line] == []
