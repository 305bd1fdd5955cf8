"""The package hands out its names on first use, and says the same names everywhere."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path

import pytest

import mediacost.scenario as package


def test_the_names_for_readers_for_tools_and_at_run_time_agree() -> None:
    tree = ast.parse(Path(package.__file__).read_text(encoding="utf-8"))
    typed = {
        alias.name: (node.module or "").rsplit(".", 1)[-1]
        for block in tree.body
        if isinstance(block, ast.If)
        for node in block.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert typed == package._HOME_OF
    assert sorted(package.__all__) == sorted(typed)


@pytest.mark.parametrize("name", package.__all__)
def test_every_name_is_that_of_its_module(name: str) -> None:
    module = importlib.import_module(f"mediacost.scenario.{package._HOME_OF[name]}")
    assert getattr(package, name) is getattr(module, name)
    assert name in dir(package)


def test_no_name_is_hidden_by_a_module_of_the_same_name() -> None:
    modules = {path.stem for path in Path(package.__file__).parent.glob("*.py")}
    assert modules & set(package.__all__) == set()


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = package.nothing
