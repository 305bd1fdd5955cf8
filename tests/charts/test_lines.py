"""Lines, crossings and paybacks are where the comparison says, and 'never' is said with its reason."""

from __future__ import annotations

import numpy as np
import pytest

from mediacost.charts.line_chart import LineChart
from mediacost.results import compare
from mediacost.results.answers import Comparison, NoAnswer
from tests.charts.drawing import drawn
from tests.results.samples import comparison, odd_scenarios

SAMPLES = pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])
LINE_CHARTS = pytest.mark.parametrize("chart", ["over_cycles", "by_month"])


def mark_of(chart: LineChart, place: int) -> tuple[float, float] | None:
    x, y = chart.marks[place].get_data()
    return (float(x[0]), float(y[0])) if len(x) else None


def height_at(chart: LineChart, place: int, x: float) -> float:
    return float(np.interp(x, *chart.lines[place].get_data()))


def baseline_place(shown: Comparison) -> int:
    return [each.id for each in shown.media].index(shown.baseline)


@SAMPLES
def test_a_crossing_is_marked_at_the_break_even_and_on_both_lines(name: str) -> None:
    shown = comparison(name)
    chart = drawn("over_cycles", shown)
    today = baseline_place(shown)
    marked = 0
    for place, medium in enumerate(shown.media):
        cycles, mark = medium.break_even_cycles[shown.basis], mark_of(chart, place)
        if isinstance(cycles, NoAnswer):
            assert mark is None
            assert chart.notes[place].get_text() == ""
        elif mark is not None:
            marked += 1
            assert mark[0] == pytest.approx(cycles)
            assert mark[1] == pytest.approx(height_at(chart, place, cycles))
            assert mark[1] == pytest.approx(height_at(chart, today, cycles))
            assert chart.notes[place].get_text().startswith(f"{medium.name}: ")
            assert chart.notes[place].get_text().endswith(" cycles")
        else:
            assert cycles > chart.frame.axes.get_xlim()[1]
    assert marked == {"small_room": 2, "two_crop_room": 1, "owned_silicone": marked}[name]


@SAMPLES
def test_a_payback_is_marked_where_the_line_crosses_zero_for_good(name: str) -> None:
    shown = comparison(name)
    chart = drawn("by_month", shown)
    for place, medium in enumerate(shown.media):
        simple, mark = medium.payback_months[shown.basis].simple, mark_of(chart, place)
        if isinstance(simple, NoAnswer) or simple == 0:
            assert mark is None
            continue
        assert mark == (pytest.approx(simple), 0)
        assert height_at(chart, place, simple) == pytest.approx(0, abs=1e-6 * abs(chart.frame.axes.get_ylim()[1]))
        later = [y for x, y in zip(*chart.lines[place].get_data(), strict=True) if x > simple]
        assert all(y >= -1e-9 for y in later)


@SAMPLES
def test_the_line_of_months_is_the_running_total(name: str) -> None:
    shown = comparison(name)
    chart = drawn("by_month", shown)
    for place, medium in enumerate(shown.media):
        x, y = chart.lines[place].get_data()
        assert list(x) == list(range(shown.horizon_months + 1))
        expected = [0.0] * len(x) if medium.id == shown.baseline else medium.cash[shown.basis].running
        assert list(y) == pytest.approx(list(expected))


def test_never_is_said_with_its_reason() -> None:
    shown = comparison("two_crop_room")
    assert "Silicone never catches up: a cycle on it costs no less than on Loose coir" in (
        drawn("over_cycles", shown).frame.finding
    )
    assert "Silicone is still" in drawn("by_month", shown).frame.finding
    assert "behind after 48 months" in drawn("by_month", shown).frame.finding


@pytest.mark.parametrize("odd", list(odd_scenarios()))
@LINE_CHARTS
def test_a_chart_can_be_drawn_whatever_is_missing(chart: str, odd: str) -> None:
    shown = compare(odd_scenarios()[odd])
    made = drawn(chart, shown)
    assert made.frame.finding
    for place, medium in enumerate(shown.media):
        answers = medium.break_even_cycles if chart == "over_cycles" else {}
        if isinstance(answers.get(shown.basis), NoAnswer):
            assert mark_of(made, place) is None


def test_more_media_than_a_title_can_name_are_counted(big_room: Comparison) -> None:
    said = drawn("over_cycles", big_room).frame.finding
    rivals = [each for each in big_room.media if each.use == "reusable" and each.id != big_room.baseline]
    assert len(rivals) > 3
    caught = [each.break_even_cycles[big_room.basis] for each in rivals]
    crossing = [
        (cycles, each.name)
        for cycles, each in zip(caught, rivals, strict=True)
        if not isinstance(cycles, NoAnswer) and cycles <= each.mean_cycles
    ]
    if crossing:
        first = min(crossing)[1]
        assert said.startswith(f"{first} catches up first, after ")
    else:
        assert said.startswith(f"None of {len(rivals)} reusable media catches up")
    assert drawn("by_month", big_room).frame.finding


def test_a_break_even_beyond_the_life_of_a_sheet_is_not_called_catching_up() -> None:
    shown = comparison("small_room")
    silicone = shown.medium("silicone")
    assert silicone.break_even_cycles[shown.basis] > silicone.mean_cycles
    said = drawn("over_cycles", shown).frame.finding
    assert "Silicone would catch up at 66.8 cycles, but a sheet serves 47.8" in said
    assert "Steel mesh catches up after 42.3 cycles" in said


@LINE_CHARTS
def test_every_line_has_its_name_at_its_end(chart: str) -> None:
    shown = comparison("two_crop_room")
    made = drawn(chart, shown)
    renderer = made.frame.figure.canvas.get_renderer()
    for medium, line, name in zip(shown.media, made.lines, made.names, strict=True):
        assert name.get_text().startswith(medium.name)
        assert name.get_text().endswith(", today") is (medium.id == shown.baseline)
        end = made.frame.axes.transData.transform((line.get_xdata()[-1], line.get_ydata()[-1]))
        box = name.get_window_extent(renderer)
        assert box.x0 > end[0]
        assert abs((box.y0 + box.y1) / 2 - end[1]) < 40
    ends = [float(line.get_ydata()[-1]) for line in made.lines]
    heights = [name.get_window_extent(renderer).y0 for name in made.names]
    order = sorted(range(len(ends)), key=lambda at: ends[at])
    assert sorted(range(len(ends)), key=lambda at: heights[at]) == order


@LINE_CHARTS
def test_it_follows_other_numbers_with_the_same_lines(chart: str) -> None:
    made = drawn(chart, comparison("small_room"))
    lines, before = list(made.lines), [mark_of(made, place) for place in range(3)]
    other = comparison("small_room", (("media", 1, "pack_price"), 200))
    made.show(other)
    assert list(made.lines) == lines
    assert mark_of(made, 1) != before[1]
    assert mark_of(made, 2) == before[2]


@LINE_CHARTS
def test_while_a_value_is_dragged_the_axes_stand_still_until_it_does_not_fit(chart: str) -> None:
    made = drawn(chart, comparison("small_room"))
    limits = (made.frame.axes.get_xlim(), made.frame.axes.get_ylim())
    assert made.follow(comparison("small_room", (("media", 1, "pack_price"), 118)))
    assert (made.frame.axes.get_xlim(), made.frame.axes.get_ylim()) == limits
    assert "Steel mesh" in made.notes[1].get_text() or mark_of(made, 1) is None
    assert not made.follow(comparison("small_room", (("media", 1, "pack_price"), 9000)))


@LINE_CHARTS
def test_a_point_on_a_line_belongs_to_its_medium(chart: str) -> None:
    made = drawn(chart, comparison("two_crop_room"), (1180, 520))
    for place in range(4):
        x, y = made.lines[place].get_data()
        spot = made.frame.axes.transData.transform((float(x[-1]), float(y[-1])))
        assert made.place_at(*spot) == place
        box = made.box_of(place)
        assert made.place_at((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2) == place
    assert made.place_at(2, 2) is None
