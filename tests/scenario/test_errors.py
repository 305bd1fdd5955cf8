"""A fault is one line: where, what, and what was expected."""

from __future__ import annotations

import pytest

from mediacost.errors import CannotSave, ChangedOnDisk, Fault, InputFaults, MediacostError


@pytest.mark.parametrize(
    ("fault", "line"),
    [
        (Fault("F", "a.b", "is missing", "a number"), "F: a.b: is missing; expected a number"),
        (Fault("F", "", "is a folder"), "F: is a folder"),
        (Fault("", "a", "is missing", "x"), "a: is missing; expected x"),
        (Fault("F", "", "is wrong", "x", line=3), "F: line 3: is wrong; expected x"),
        (Fault("F", "a", "is wrong", "x", line=3, column=7), "F: line 3, column 7: a: is wrong; expected x"),
    ],
)
def test_a_fault_is_one_line(fault: Fault, line: str) -> None:
    assert str(fault) == line


def test_input_faults_carry_all_faults_and_read_as_their_lines() -> None:
    faults = [Fault("F", "a", "is missing", "x"), Fault("F", "b", "is missing", "y")]
    error = InputFaults(iter(faults))
    assert error.faults == tuple(faults)
    assert str(error) == "F: a: is missing; expected x\nF: b: is missing; expected y"


@pytest.mark.parametrize("kind", [InputFaults, ChangedOnDisk, CannotSave])
def test_all_failures_have_one_root(kind: type[Exception]) -> None:
    assert issubclass(kind, MediacostError)
