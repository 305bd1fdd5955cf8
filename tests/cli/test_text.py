"""What is printed for reading: the table holds together at any width, and the text says what the answer says."""

from __future__ import annotations

import re

import pytest
import tomlkit

from mediacost.cli.comparison_text import comparison_lines, table_rows
from mediacost.cli.prose import folded
from mediacost.cli.table import Row, lay_out
from mediacost.results import NoAnswer
from mediacost.results.answers import walk
from mediacost.results.comparison import COST_TOTALS
from mediacost.results.figures import FIGURES
from mediacost.results.overview import is_shown
from tests.cli.running import SMALL_ROOM, run
from tests.results.samples import comparison, odd_scenarios, scenario

LONG = "Steel mesh of the second grade, woven extraordinarilyfinelyplaitedwithoutabreak, number"


def many_media(count: int):
    """The small room with many media whose names are long."""
    document = scenario("small_room").model_dump(exclude_unset=True)
    media, pairs = [], []
    for at in range(count):
        media.append({**document["media"][at % 3], "id": f"m{at}", "name": f"{LONG} {at}"})
        pairs.append({**document["pairs"][at % 3], "medium": f"m{at}"})
    return comparison("small_room", (("baseline",), "m0"), (("media",), media), (("pairs",), pairs))


@pytest.mark.parametrize("width", [80, 110, 200])
def test_no_line_of_the_comparison_is_wider_than_the_terminal(width):
    for line in comparison_lines(many_media(8), (), width):
        assert len(line) <= width, line


def test_all_media_have_their_column_in_some_block():
    shown = "".join(comparison_lines(many_media(8), (), 110)[-400:])
    flat = re.sub(r"\s+", " ", shown)
    for at in range(8):
        assert f"number {at}" in flat


def test_columns_line_up():
    lines = lay_out(
        ["A", "Quite long name"], [Row("Head"), Row("  one", ("1.00", "22.00")), Row("  two", ("", "x"))], 60
    )
    ends = {len(line) for line in lines if line.startswith("  ")}
    assert len(ends) == 1


def test_cost_lines_stand_in_their_order_with_equal_decimals():
    rows = table_rows(comparison("small_room"))
    labels = [row.label.strip() for row in rows]
    start = labels.index("What a tray costs, EUR/tray") + 1
    costs = rows[start : start + len(COST_TOTALS)]
    assert [row.label.strip() for row in costs] == [FIGURES[f"cost_per_tray.{name}"].label for name in COST_TOTALS]
    assert {len(cell.split(".")[1]) for row in costs for cell in row.cells} == {3}


@pytest.mark.parametrize(("factor", "decimals"), [(160, 0), (11500, 0), (0.03, 4)])
def test_decimals_follow_the_size_of_the_money(factor, decimals):
    document = scenario("small_room").model_dump(exclude_unset=True)
    changes = [(("crops", 0, "other_cost_per_tray"), 7.4 * factor)]
    for name in ("labour_rate", "water_price", "energy_price", "heat_price", "landfill_fee", "compost_fee"):
        changes.append((("room", name), 0))
    for name in ("seed_price_per_kg", "sell_price_per_kg", "pack_cost_per_kg"):
        changes.append((("crops", 0, name), 0))
    for at in range(len(document["media"])):
        changes.append((("media", at, "pack_price"), 0))
        changes.append((("media", at, "delivery_per_pack"), 0))
    changes += [(("washes", 0, "equipment_price"), 0), (("media", 1, "scrap_value_per_kg"), 0)]
    rows = table_rows(comparison("small_room", *changes))
    total = next(row for row in rows if row.label.strip() == FIGURES["cost_per_tray.total"].label)
    cell = total.cells[0]
    assert len(cell.partition(".")[2]) == decimals


def test_single_crops_come_before_the_mix():
    headings = [row.label for row in table_rows(comparison("two_crop_room")) if not row.cells]
    assert headings[0].startswith("On Broccoli alone")
    assert headings[1].startswith("On Pea shoots alone")
    assert headings[2] == "What a kilogram costs, all crops together"


def test_one_crop_shows_its_cost_per_kilogram_once():
    labels = [row.label for row in table_rows(comparison("small_room"))]
    assert not any(FIGURES["cost_per_kg_same_harvest"].label in label for label in labels)
    labels = [row.label for row in table_rows(comparison("two_crop_room"))]
    assert any(FIGURES["cost_per_kg_same_harvest"].label in label for label in labels)


@pytest.mark.parametrize("name", sorted(odd_scenarios()))
def test_every_never_and_none_has_its_reason_in_the_text(name):
    from mediacost.results import compare

    answer = compare(odd_scenarios()[name])
    text = re.sub(r"\s+", " ", " ".join(comparison_lines(answer, (), 110))).lower()
    for medium in answer.media:
        for path, figure in walk(medium):
            if isinstance(figure, NoAnswer) and figure.kind not in ("baseline", "single use"):
                assert not is_shown(path, answer) or figure.reason.lower() in text, path


def test_reasons_name_only_figures_that_stand_in_the_table():
    text = "\n".join(comparison_lines(comparison("small_room"), (), 110))
    assert "first payback" not in text


def test_what_is_left_out_is_said():
    text = re.sub(r"\s+", " ", " ".join(comparison_lines(comparison("small_room"), (), 110)))
    assert "over 48 months" in text
    assert "Sheets left at the end count as worth nothing" in text
    assert "Rent, tax" in text


def test_explain_prints_heading_steps_and_cautions(capsys):
    ran = run(capsys, "explain", SMALL_ROOM, "--medium", "steel", "--figure", "break-even")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Steel mesh, break-even cycles: ")
    assert "[media[steel].pack_price]" in ran.out
    assert ran.out.count("Caution: sanitisers") == 1
    assert ran.out.count("note on room: ") == 1


def test_depth_cuts_the_steps(capsys):
    arguments = ("explain", SMALL_ROOM, "--medium", "steel", "--figure", "cost_per_kg", "--depth")
    none, one = (run(capsys, *arguments, depth).out for depth in (0, 1))
    assert "the crop: seed, growing, light\n" not in none.split("Caution")[0]
    assert len(one.splitlines()) > len(none.splitlines())
    assert "--depth" not in one


def test_explain_where_there_is_no_number(capsys):
    ran = run(capsys, "explain", SMALL_ROOM, "--medium", "pad", "--figure", "npv")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines()[-1] == "This is the baseline, the medium in use today."


def test_cautions_stand_under_a_comparison_with_a_sanitiser(capsys, tmp_path):
    assert "Never mix chlorine with acid" in run(capsys, "compare", SMALL_ROOM).out
    document = tomlkit.parse(SMALL_ROOM.read_text(encoding="utf-8")).unwrap()
    document["media"] = [document["media"][0], {**document["media"][0], "id": "other"}]
    document["pairs"] = [document["pairs"][0], {**document["pairs"][0], "medium": "other"}]
    del document["washes"]
    path = tmp_path / "pads.toml"
    path.write_text(tomlkit.dumps(document), encoding="utf-8")
    assert "Caution" not in run(capsys, "compare", path).out


@pytest.mark.parametrize("text", ["takes 1 190 EUR at the start", "0.76 % of what", "12 345 678 IDR"])
def test_numbers_are_not_torn(text):
    whole = re.search(r"\d[\d .]*\d|\d", text)
    assert whole is not None
    for width in range(12, 30):
        assert any(whole.group() in line for line in folded(text, width, "", ""))
