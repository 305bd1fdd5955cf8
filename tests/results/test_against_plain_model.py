"""Two readings of the same method, written apart, agree on every figure: the samples, and scenarios drawn at random."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from hypothesis import assume, given, settings

from mediacost.errors import InputFaults
from mediacost.results import compare
from mediacost.results.as_json import comparison_json
from mediacost.scenario import check
from tests.reference.compare_answers import compare_answers
from tests.reference.plain_model import plain_answer
from tests.reference.plain_sheets import TooMuchToCountError
from tests.reference.plain_trials import with_typed_weights
from tests.strategies import scenario_data

SAMPLES = sorted((Path(__file__).parents[2] / "sample_scenarios").glob("*.toml"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples(path):
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert compare_answers(plain_answer(with_typed_weights(data)), _answer(data)) == []


@settings(max_examples=60, deadline=None)
@given(scenario_data())
def test_random_scenarios(data):
    try:
        answer = _answer(data)
    except InputFaults:
        assume(False)
    try:
        expected = plain_answer(with_typed_weights(data))
    except TooMuchToCountError:
        assume(False)
    assert compare_answers(expected, answer, rel=1e-8) == []


def _answer(data):
    checked = check(data)
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    answer = comparison_json(compare(checked.scenario))
    return json.loads(json.dumps(answer, allow_nan=False))
