"""The bars are as wide as the five groups are dear, and say so in words."""

from __future__ import annotations

import pytest
from matplotlib.legend import Legend

from mediacost.charts.cost_parts import CostPartsChart
from mediacost.results import compare
from mediacost.results.answers import Comparison, NoAnswer
from mediacost.results.groups import COST_GROUPS
from tests.charts.drawing import SIZES, drawn
from tests.results.samples import comparison, odd_scenarios

SAMPLES = pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])


def widths(chart: CostPartsChart) -> list[list[float]]:
    return [[bar.get_width() for bar in bars] for bars in chart.bars]


def expected_widths(shown: Comparison) -> list[list[float]]:
    return [
        [group.of(medium.cost_per_tray) / medium.yield_kg_per_tray for group in COST_GROUPS] for medium in shown.media
    ]


@SAMPLES
def test_a_bar_is_as_wide_as_its_group_is_dear(name: str) -> None:
    shown = comparison(name)
    chart = drawn("cost_parts", shown)
    for found, expected in zip(widths(chart), expected_widths(shown), strict=True):
        assert found == pytest.approx(expected, abs=1e-12)
    for medium, bars, total in zip(shown.media, chart.bars, chart.totals, strict=True):
        assert isinstance(medium.medium_cost_per_kg, float)
        assert bars[-1].get_x() + bars[-1].get_width() == pytest.approx(medium.medium_cost_per_kg)
        assert total.get_text() == f"{medium.medium_cost_per_kg:.2f} {shown.currency}/kg"


@SAMPLES
def test_bars_join_and_begin_at_zero(name: str) -> None:
    chart = drawn("cost_parts", comparison(name))
    for bars in chart.bars:
        assert bars[0].get_x() == 0
        for left, right in zip(bars, bars[1:], strict=False):
            assert right.get_x() == pytest.approx(left.get_x() + left.get_width())
    assert chart.frame.axes.get_xlim()[0] == 0


def test_what_brings_money_goes_to_the_left_of_zero() -> None:
    """Scrap that is paid for can make a group negative; bars to the right then still begin at zero."""
    shown = comparison("small_room", (("media", 1, "scrap_value_per_kg"), 400))
    chart = drawn("cost_parts", shown)
    negative = [bar for bar in chart.bars[1] if bar.get_width() < 0]
    assert negative, "the sample no longer has a group that brings money"
    assert all(bar.get_x() <= 0 for bar in negative)
    low, high = chart.frame.axes.get_xlim()
    assert low < min(bar.get_x() + bar.get_width() for bar in negative)
    assert high > max(bar.get_x() + bar.get_width() for bars in chart.bars for bar in bars)


def test_a_medium_without_harvest_says_so_and_has_no_bar() -> None:
    shown = compare(odd_scenarios()["nothing saleable on steel"])
    chart = drawn("cost_parts", shown)
    assert chart.totals[1].get_text() == "no saleable harvest"
    assert widths(chart)[1] == [0.0] * 5
    everything = compare(odd_scenarios()["nothing saleable at all"])
    assert drawn("cost_parts", everything).frame.finding.startswith("Nothing saleable is harvested")


@SAMPLES
def test_the_title_names_the_cheapest_and_its_largest_group(name: str) -> None:
    shown = comparison(name)
    chart = drawn("cost_parts", shown)
    costs = {each.name: each.medium_cost_per_kg for each in shown.media}
    cheapest = min(costs, key=lambda each: costs[each])
    assert chart.frame.finding.startswith(f"{cheapest} itself costs least in a kilogram:")
    at = [each.name for each in shown.media].index(cheapest)
    largest = max(range(5), key=lambda group: widths(chart)[at][group])
    assert chart.frame.finding.endswith(f"of it {COST_GROUPS[largest].label}")
    assert not isinstance(costs[cheapest], NoAnswer)


@pytest.mark.parametrize("size", SIZES)
def test_every_group_is_named_in_the_key(size: tuple[int, int]) -> None:
    chart = drawn("cost_parts", comparison("small_room"), size)
    (key,) = chart.frame.figure.findobj(Legend)
    assert [text.get_text() for text in key.get_texts()] == [group.label for group in COST_GROUPS]
    hatches = [patch.get_hatch() for patch in key.get_patches()]
    assert hatches == [bar.get_hatch() for bar in chart.bars[0]]
    assert len(set(hatches)) == 5


@pytest.mark.parametrize("size", SIZES)
def test_a_name_in_a_bar_is_inside_it_and_belongs_to_it(size: tuple[int, int]) -> None:
    chart = drawn("cost_parts", comparison("small_room"), size)
    renderer = chart.frame.figure.canvas.get_renderer()
    named = 0
    for bars, texts in zip(chart.bars, chart.inside, strict=True):
        for bar, text, group in zip(bars, texts, COST_GROUPS, strict=True):
            if text.get_text():
                named += 1
                assert text.get_text() == group.label
                outer, inner = bar.get_window_extent(renderer), text.get_window_extent(renderer)
                assert outer.x0 <= inner.x0 and inner.x1 <= outer.x1
                assert outer.y0 <= inner.y0 and inner.y1 <= outer.y1
    assert named >= 5


def test_it_follows_other_numbers_with_the_same_bars() -> None:
    chart = drawn("cost_parts", comparison("small_room"))
    bars = [bar for row in chart.bars for bar in row]
    other = comparison("small_room", (("media", 1, "pack_price"), 400))
    chart.show(other)
    assert [bar for row in chart.bars for bar in row] == bars
    for found, expected in zip(widths(chart), expected_widths(other), strict=True):
        assert found == pytest.approx(expected)


def test_while_a_value_is_dragged_the_axes_stand_still_until_it_does_not_fit() -> None:
    chart = drawn("cost_parts", comparison("small_room"))
    limits = chart.frame.axes.get_xlim()
    near = comparison("small_room", (("media", 1, "pack_price"), 130))
    assert chart.follow(near)
    assert chart.frame.axes.get_xlim() == limits
    for found, expected in zip(widths(chart), expected_widths(near), strict=True):
        assert found == pytest.approx(expected)
    assert not chart.follow(comparison("small_room", (("media", 1, "pack_price"), 4000)))
