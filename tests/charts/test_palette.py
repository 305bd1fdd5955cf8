"""The colours stay apart: under the three common colour deficiencies, in grey, and as text on paper.

Deficiencies are simulated at full strength after Machado, Oliveira and Fernandes (2009), as the library coloraide
publishes it; distances are CIEDE2000 (CIE 142-2001), in its units. A distance near 2.3 is called just noticeable
(second hand). The floors are what the palettes reached when they were searched for, rounded down.
"""

from __future__ import annotations

from itertools import combinations

import matplotlib
import pytest
from coloraide import Color
from matplotlib.colors import to_hex

from mediacost.charts.palette import (
    DASHES,
    DAY,
    GROUP_HATCHES,
    GROUP_SHADES,
    NIGHT,
    Theme,
    contrast,
    dash,
    mixed,
    readable_on,
)
from mediacost.desktop.theme import ACCENT, BLOCK, FAULT, FIELD

THEMES = pytest.mark.parametrize("theme", [DAY, NIGHT], ids=["day", "night"])

FLOORS = {"usual": 17.0, "protan": 12.5, "deutan": 12.5, "tritan": 13.5, "grey": 4.9}
FIRST_FOUR = {"usual": 17.0, "protan": 12.5, "deutan": 12.5, "tritan": 13.5, "grey": 9.5}
"""Most rooms compare no more than four media: these are further apart in grey."""

TEXT_CONTRAST = 7.0
LINE_CONTRAST = 3.0
"""Least contrast of graphics that carry meaning (W3C, WCAG 2.1, 1.4.11, published)."""


def seen_as(colour: str, how: str) -> Color:
    if how == "usual":
        return Color(colour)
    if how == "grey":
        lightness = Color(colour).convert("lab-d65")["lightness"]
        return Color("lab-d65", [lightness, 0, 0])
    return Color(colour).filter(how, 1, method="machado").clip("srgb")


def apart(one: str, other: str, how: str) -> float:
    return seen_as(one, how).delta_e(seen_as(other, how), method="2000")


@THEMES
@pytest.mark.parametrize("how", FLOORS)
def test_every_pair_of_media_stays_apart(theme: Theme, how: str) -> None:
    nearest = min((apart(one, other, how), one, other) for one, other in combinations(theme.media, 2))
    assert nearest[0] >= FLOORS[how], nearest


@THEMES
@pytest.mark.parametrize("how", FIRST_FOUR)
def test_the_first_four_are_further_apart_in_grey(theme: Theme, how: str) -> None:
    nearest = min((apart(one, other, how), one, other) for one, other in combinations(theme.media[:4], 2))
    assert nearest[0] >= FIRST_FOUR[how], nearest


def test_the_simulation_sees_a_confusion_that_is_known() -> None:
    """A red and a green of one lightness are far apart for most eyes and near for deutan ones (common knowledge)."""
    red, green = "#b5534c", "#6f7a2b"
    assert apart(red, green, "usual") > 35
    assert apart(red, green, "deutan") < 8
    assert apart("#000000", "#ffffff", "grey") == pytest.approx(100, abs=0.1)


@THEMES
def test_lines_and_bars_stand_out_from_the_paper(theme: Theme) -> None:
    assert [colour for colour in theme.media if contrast(colour, theme.paper) < LINE_CONTRAST] == []


@pytest.mark.parametrize(("theme", "when"), [(DAY, "day"), (NIGHT, "night")])
@pytest.mark.parametrize("ground", ["paper", "block", "field"])
def test_words_can_be_read_on_whatever_they_stand(theme: Theme, when: str, ground: str) -> None:
    on = {"paper": theme.paper, "block": BLOCK[when], "field": FIELD[when]}[ground]
    words = {"ink": theme.ink, "faint": theme.faint, "accent": ACCENT[when], "fault": FAULT[when]}
    assert {name: contrast(colour, on) for name, colour in words.items() if contrast(colour, on) < TEXT_CONTRAST} == {}


@THEMES
def test_the_name_of_a_group_can_be_read_in_its_bar(theme: Theme) -> None:
    """4.5 is the least for text of this size (W3C, WCAG 2.1, 1.4.3, published); the groups are in the key as well."""
    for colour in theme.media:
        for shade in GROUP_SHADES:
            bar = mixed(colour, theme.paper, shade)
            channels = tuple(int(bar[at : at + 2], 16) / 255 for at in (1, 3, 5))
            assert contrast(readable_on(channels), bar) >= 4.5


def test_a_second_sign_goes_with_every_colour() -> None:
    assert len(set(DASHES)) == len(DAY.media) == len(NIGHT.media) == len(DASHES)
    assert len(set(GROUP_HATCHES)) == len(GROUP_HATCHES) == len(GROUP_SHADES)
    assert list(GROUP_SHADES) == sorted(GROUP_SHADES, reverse=True)


def test_a_medium_beyond_the_palette_begins_again() -> None:
    assert DAY.medium(len(DAY.media)) == DAY.medium(0)
    assert dash(len(DASHES)) == dash(0)


def test_no_colour_is_a_drawing_librarys_own() -> None:
    own = {to_hex(each["color"]) for each in matplotlib.rcParamsDefault["axes.prop_cycle"]}
    assert len(own) == 10
    assert own.isdisjoint([*DAY.media, *NIGHT.media])
