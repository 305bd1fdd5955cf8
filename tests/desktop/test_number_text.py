"""Numbers as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mediacost.desktop.number_text import number_text, read_number


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("", None),
        ("   ", None),
        ("12", 12),
        ("+3", 3),
        ("-3", -3),
        ("12.5", 12.5),
        ("12,5", 12.5),
        (",5", 0.5),
        (".5", 0.5),
        ("5,", 5.0),
        ("5.", 5.0),
        ("1 190", 1190),
        ("1\u00a0190", 1190),
        ("1\u202f190,25", 1190.25),
        ("1'190", 1190),
        ("1\u2019190.5", 1190.5),
        ("1,234,567", 1234567),
        ("1,234,567.5", 1234567.5),
        ("1.234.567", 1234567),
        ("1.234,5", 1234.5),
        ("1,234.5", 1234.5),
        ("1.234.567,89", 1234567.89),
        ("0,006", 0.006),
        ("1234,567", 1234.567),
        ("a few", "a few"),
        ("12,5,5", "12,5,5"),
        ("1.2.3", "1.2.3"),
        ("1 19", "1 19"),
        ("12 kg", "12 kg"),
        ("nan", "nan"),
        ("inf", "inf"),
        ("1e5", "1e5"),
        ("--1", "--1"),
        ("9" * 5000, "9" * 5000),
        ("-", "-"),
        (",", ","),
    ],
)
def test_what_is_typed_is_read_so(typed: str, value: object) -> None:
    read = read_number(typed).value
    assert (read, type(read)) == (value, type(value))


@pytest.mark.parametrize(
    ("typed", "echo"),
    [
        ("1,234", "read as 1.234; for a thousand and more type 1234"),
        ("12,500", "read as 12.500; for a thousand and more type 12500"),
        ("-1,234", "read as -1.234; for a thousand and more type -1234"),
        # Nobody sets thousands apart after a nought: this is one number only.
        ("0,125", ""),
        ("1234", ""),
        ("12,5", ""),
        ("1,234.5", ""),
        ("1.234", ""),
    ],
)
def test_what_could_be_two_numbers_is_read_back(typed: str, echo: str) -> None:
    assert read_number(typed).echo == echo


@given(st.one_of(st.integers(-(10**14), 10**14), st.floats(-1e14, 1e14).map(lambda value: float(f"{value:.10g}"))))
def test_a_number_written_and_read_is_the_same(value: float) -> None:
    read = read_number(number_text(value)).value
    assert read == (value if isinstance(value, int) else float(f"{value:.12g}"))


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_any_number_is_written_in_a_way_that_is_a_number(value: float) -> None:
    assert isinstance(read_number(number_text(value)).value, (int, float))


@given(st.text(max_size=30))
def test_nothing_that_is_typed_breaks_it(typed: str) -> None:
    value = read_number(typed).value
    assert value is None or isinstance(value, (int, float)) or value == typed.strip()
    assert number_text(value).strip() == number_text(value)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, ""),
        (0.0, "0"),
        (-0.0, "0"),
        (12.0, "12"),
        (12, "12"),
        (0.1 + 0.2, "0.3"),
        (1e-7, "0.0000001"),
        (123456789.25, "123456789.25"),
        (True, "True"),
        ("a few", "a few"),
    ],
)
def test_a_value_in_a_field(value: object, text: str) -> None:
    assert number_text(value) == text
