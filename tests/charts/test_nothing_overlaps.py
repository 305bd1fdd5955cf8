"""No words on a chart cover one another or are cut, at the sizes at which charts are shown; nothing leaves the axes."""

from __future__ import annotations

import itertools

import pytest
from matplotlib.figure import Figure

from mediacost.charts.catalogue import CHARTS
from mediacost.charts.names import CHART_WORDS
from mediacost.charts.palette import DAY, NIGHT, Theme
from mediacost.charts.placing import spread
from mediacost.results import compare
from mediacost.results.answers import Comparison
from tests.charts.drawing import SIZES, beyond_the_edge, colours_in, drawn, overlapping
from tests.results.samples import comparison, odd_scenarios

ALL_CHARTS = pytest.mark.parametrize("chart", list(CHARTS))
ALL_SIZES = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
LONG = "Woven stainless mesh with a folded rim, the finer of the two kinds"


def rooms() -> dict[str, Comparison]:
    found = {name: comparison(name) for name in ("small_room", "two_crop_room", "owned_silicone")}
    found["long names"] = comparison("two_crop_room", (("media", 2, "name"), LONG), (("media", 0, "name"), LONG))
    found["large money"] = comparison("small_room", *[(("media", at, "pack_price"), 8e7) for at in range(3)])
    return found | {name: compare(scenario) for name, scenario in odd_scenarios().items()}


ROOMS = rooms()


def check_words(figure: Figure) -> None:
    assert overlapping(figure) == []
    assert beyond_the_edge(figure) == []


@pytest.mark.parametrize("room", list(ROOMS))
@ALL_CHARTS
def test_no_words_cover_one_another_or_are_cut(chart: str, room: str) -> None:
    check_words(drawn(chart, ROOMS[room]).frame.figure)


@pytest.mark.parametrize("room", ["small_room", "two_crop_room", "long names", "large money"])
@ALL_CHARTS
def test_so_it_is_on_a_large_figure(chart: str, room: str) -> None:
    check_words(drawn(chart, ROOMS[room], SIZES[1]).frame.figure)


@ALL_CHARTS
@ALL_SIZES
def test_eight_media_have_room_too(chart: str, big_room: Comparison, size: tuple[int, int]) -> None:
    check_words(drawn(chart, big_room, size).frame.figure)


@ALL_CHARTS
def test_what_follows_a_drag_covers_nothing_either(chart: str) -> None:
    made = drawn(chart, comparison("small_room"))
    for price in (118, 124, 130):
        if made.follow(comparison("small_room", (("media", 1, "pack_price"), price))):
            made.frame.figure.canvas.draw()
            assert overlapping(made.frame.figure) == []


@pytest.mark.parametrize("room", list(ROOMS))
def test_nothing_is_drawn_off_the_axes(room: str) -> None:
    for name in CHARTS:
        made = drawn(name, ROOMS[room], paint=False)
        low, high = sorted(made.frame.axes.get_xlim())
        bottom, top = sorted(made.frame.axes.get_ylim())
        for x, y in made.drawn_points():
            assert low - 1e-9 <= x <= high + 1e-9
            assert bottom - 1e-9 <= y <= top + 1e-9
        box = made.frame.axes.get_position()
        assert 0 <= box.x0 < box.x1 <= 1 and 0 <= box.y0 < box.y1 <= 1


@ALL_CHARTS
@pytest.mark.parametrize("theme", [DAY, NIGHT], ids=["day", "night"])
def test_every_medium_has_its_own_colour_on_the_chart(chart: str, theme: Theme) -> None:
    made = drawn(chart, comparison("two_crop_room"), (1180, 520), theme)
    seen = colours_in(made.frame.figure, made.frame.axes.bbox)
    for place in range(4):
        wanted = tuple(int(theme.medium(place)[at : at + 2], 16) for at in (1, 3, 5))
        assert wanted in seen


@ALL_CHARTS
def test_a_figure_of_any_size_can_be_drawn(chart: str) -> None:
    for size in ((320, 200), (200, 120), (3000, 1600), (640, 90)):
        assert isinstance(drawn(chart, comparison("small_room"), size).frame.figure, Figure)


def test_every_chart_has_words_to_choose_it_by() -> None:
    assert list(CHART_WORDS) == list(CHARTS)


@pytest.mark.parametrize("wanted", list(itertools.product([0.0, 0.1, 0.5, 3.0], repeat=3)))
def test_names_are_spread_in_order_and_within_the_axes(wanted: tuple[float, ...]) -> None:
    placed = spread(list(wanted), 0.4, 0.0, 3.0)
    assert all(-1e-9 <= each <= 3.0 + 1e-9 for each in placed)
    ordered = sorted(placed)
    assert all(right - left >= 0.4 - 1e-9 for left, right in itertools.pairwise(ordered))
    for one, other in itertools.combinations(range(3), 2):
        if wanted[one] < wanted[other]:
            assert placed[one] < placed[other]


def test_names_too_many_for_their_room_stand_closer() -> None:
    placed = spread([1.0] * 5, 1.0, 0.0, 2.0)
    assert sorted(placed) == pytest.approx([0.0, 0.5, 1.0, 1.5, 2.0])
