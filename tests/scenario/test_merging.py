"""Comments, order and layout survive a save, whatever is changed, added, removed or moved."""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mediacost.scenario import insert_item, merging, move_item, remove_value, rename_id, set_value
from mediacost.scenario.merging import fresh_text, matches, merged_text, same
from mediacost.scenario.sections import split_sections
from tests.scenario.sample import SAMPLE_TEXT, sample_data
from tests.strategies import scenario_data

QUICK = settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
COMMENTS = [line[line.index("#") :] for line in SAMPLE_TEXT.splitlines() if "#" in line]


def merged(data: Any, text: str = SAMPLE_TEXT) -> str:
    new = merged_text(text, data)
    assert same(tomllib.loads(new), data)
    return new


def changes(new: str, old: str = SAMPLE_TEXT) -> list[str]:
    """Return the changed lines, each with + or -."""
    lines = difflib.unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=0)
    return [line for line in lines if line[:2] not in ("--", "++", "@@")]


@pytest.fixture(autouse=True)
def nothing_is_written_afresh(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The last resort, writing afresh, is never needed here; it has a test of its own."""
    if "afresh" in request.node.name:
        return

    def refuse(*args: object, **kwargs: object) -> str:
        raise AssertionError("a section was written afresh")

    monkeypatch.setattr(merging, "_afresh", refuse)
    monkeypatch.setattr(merging, "_body_afresh", refuse)


def test_unchanged_data_leave_the_text_alone() -> None:
    odd = SAMPLE_TEXT.replace("labour_rate = 21.0", "labour_rate   =   2_1.0 # odd")
    assert merged(sample_data(), odd) == odd


def test_a_changed_number_changes_its_line_only_and_keeps_the_comment() -> None:
    new = merged(set_value(sample_data(), ("media", 1, "pack_price"), 99.5))
    assert changes(new) == [
        "-pack_price = 120.0   # quote of spring",
        "+pack_price = 99.5   # quote of spring",
    ]


def test_a_number_becomes_a_range_and_back() -> None:
    triple = {"low": 100, "likely": 120, "high": 150.5}
    ranged = merged(set_value(sample_data(), ("media", 1, "pack_price"), triple))
    assert changes(ranged) == [
        "-pack_price = 120.0   # quote of spring",
        "+pack_price = {low = 100, likely = 120, high = 150.5}   # quote of spring",
    ]
    assert merged(sample_data(), ranged) == SAMPLE_TEXT


def test_one_end_of_a_range_changes_inside_its_braces() -> None:
    new = merged(set_value(sample_data(), ("room", "energy_price", "high"), 0.5))
    assert changes(new)[1] == '+energy_price = { low = 0.22, likely = 0.27, high = 0.5, source = "last bill" }'


def test_a_new_key_goes_into_its_table() -> None:
    new = merged(set_value(sample_data(), ("room", "inlet_temperature_c"), 9))
    assert changes(new) == ["+inlet_temperature_c = 9"]
    assert new.index("inlet_temperature_c") < new.index("[tray]") and "# measured inside" in new


def test_a_new_key_at_the_top_stays_at_the_top() -> None:
    new = merged(set_value(sample_data(), ("note",), "first\nsecond"))
    assert new.index('note = """first\nsecond"""') < new.index("[room]")


def test_a_removed_key_takes_only_its_own_line() -> None:
    assert changes(merged(remove_value(sample_data(), ("media", 1, "dry_days")))) == ["-dry_days = 1"]


def test_a_removed_medium_takes_the_comment_above_it_and_no_other() -> None:
    new = merged(remove_value(sample_data(), ("media", 1)))
    gone = [comment for comment in COMMENTS if comment not in new]
    assert gone == ["# the mesh on offer", "# quote of spring", "# ask in May"]


def test_a_removed_crop_keeps_the_comment_above_the_next_one() -> None:
    new = merged(remove_value(sample_data(), ("crops", 0)))
    assert '# peas are sown once a week\n[[crops]]\nid = "pea"' in new
    assert [comment for comment in COMMENTS if comment not in new] == []


def test_a_comment_right_under_a_key_stays_with_its_table() -> None:
    text = SAMPLE_TEXT.replace("failed_share = 0.02\n", "failed_share = 0.02\n# two of a hundred\n")
    new = merged(remove_value(sample_data(), ("media", 1)), text)
    assert "failed_share = 0.02\n# two of a hundred\n" in new
    assert "# the mesh on offer" not in new


def test_items_without_an_empty_line_between_them_are_parted_when_moved() -> None:
    text = 'x = 1\n[[media]]\nid = "a"\n[[media]]\nid = "b"\n'
    new = merged({"x": 1, "media": [{"id": "b"}, {"id": "a"}]}, text)
    assert new == 'x = 1\n\n[[media]]\nid = "b"\n[[media]]\nid = "a"\n'


def test_a_moved_medium_takes_its_comments_along() -> None:
    new = merged(move_item(sample_data(), ("media",), 1, 0))
    assert '# the mesh on offer\n[[media]]\nid = "steel"' in new
    assert new.index('id = "steel"') < new.index('id = "paper"\nname')
    assert [comment for comment in COMMENTS if new.count(comment) != 1] == []
    assert merged(sample_data(), new).count("# the mesh on offer") == 1


def test_an_added_medium_stands_after_the_others_and_before_the_washes() -> None:
    felt = {**sample_data()["media"][0], "id": "felt", "conditions": [{"what": "a", "met": "no"}]}
    new = merged(insert_item(sample_data(), ("media",), None, felt))
    assert new.index('id = "steel"') < new.index('id = "felt"') < new.index("[[washes]]")
    assert '\n\n[[media]]\nid = "felt"\n' in new
    assert all(line.startswith("+") for line in changes(new))


def test_a_medium_put_in_the_middle_stands_in_the_middle() -> None:
    felt = {**sample_data()["media"][0], "id": "felt"}
    new = merged(insert_item(sample_data(), ("media",), 1, felt))
    assert new.index('id = "paper"\nname') < new.index('id = "felt"') < new.index("# the mesh on offer")


def test_steps_of_a_wash_are_added_moved_and_removed_under_their_wash() -> None:
    step = {"name": "Rinse", "litres_per_sheet": 1}
    added = insert_item(sample_data(), ("washes", 0, "steps"), 1, step)
    new = merged(added)
    assert new.index("Scrape and brush") < new.index('[[washes.steps]]\nname = "Rinse"') < new.index("Sanitise")
    moved = merged(move_item(added, ("washes", 0, "steps"), 2, 0), new)
    assert moved.index('name = "Sanitise"') < moved.index("[washes.steps.sanitiser]") < moved.index("# scraping first")
    assert merged(remove_value(sample_data(), ("washes", 0, "steps", 1))).count("[washes.steps.sanitiser]") == 0


def test_a_table_inside_an_item_can_be_removed_and_added() -> None:
    without = remove_value(sample_data(), ("washes", 0, "steps", 1, "sanitiser"))
    new = merged(without)
    assert "sanitiser]" not in new
    assert "sanitiser = {product = " in merged(sample_data(), new)


def test_rows_of_a_trial_keep_their_lines() -> None:
    data = set_value(sample_data(), ("trials", 0, "trays", 1, "harvest_g"), 250.0)
    data = remove_value(data, ("trials", 0, "trays", 4))
    row = {"tray": "7", "medium": "steel", "harvest_g": 240}
    new = merged(insert_item(data, ("trials", 0, "trays"), None, row))
    assert changes(new) == [
        '-    { tray = "2", medium = "steel", block = "top", position = 2, harvest_g = 255.0, tare_g = '
        "12, cycle = 3 },",
        '+    { tray = "2", medium = "steel", block = "top", position = 2, harvest_g = 250.0, tare_g = '
        "12, cycle = 3 },",
        '-    { tray = "5", medium = "paper", guard = true },',
        '+    {tray = "7", medium = "steel", harvest_g = 240},',
    ]
    assert "# top shelf first" in new


def test_a_renamed_id_keeps_the_comments_of_its_table() -> None:
    new = merged(rename_id(sample_data(), "media", 1, "mesh"))
    assert '# the mesh on offer\n[[media]]\nid = "mesh"' in new
    assert [comment for comment in COMMENTS if comment not in new] == []


def test_lists_that_are_emptied_and_filled_again() -> None:
    emptied = merged(set_value(sample_data(), ("pairs",), []))
    assert "[[pairs]]" not in emptied
    assert merged(sample_data(), emptied).count("[[pairs]]") == 3


def test_a_removed_table_keeps_the_end_of_the_file() -> None:
    new = merged(remove_value(sample_data(), ("factors",)))
    assert new.endswith("# end of the file\n")
    assert "[factors]" not in new


def test_a_kind_is_kept_apart_from_an_equal_value() -> None:
    assert same(1, 1.0) is same(1, True) is same([1], [1.0]) is same({"a": 1}, {"b": 1}) is False
    assert same(float("nan"), float("nan")) and same((1,), [1])
    assert changes(merged(set_value(sample_data(), ("media", 1, "dry_days"), 1.0)))[1] == "+dry_days = 1.0"


ODD_TEXTS = {
    "dotted keys": "a.b = 1 # one\na.c = 2\n\n[x]\ny.z = 3\n",
    "quoted headings": '["a b"]\n"c.d" = 1\n# two\n\n[["e"]]\nf = 1\n',
    "strings with headings in them": 'a = """\n[x]\n# no comment\n"""\n'
    "b = '''\n[[y]]'''''\n\n"
    '[c]\nd = "[e] # f"\n',
    "lists over lines": "a = [\n  [1, 2], # [x]\n  { b = 1 },\n]\n[c]\n",
    "a table after its child": "[a.b]\nc = 1\n\n# later\n[a]\nd = 2\n",
    "lists in turns": "[[a]]\nx = 1\n[[b]]\ny = 1\n# second\n\n# of a\n[[a]]\nx = 2\n",
    "indented": "  a = 1\n\n  # b\n  [c]\n    d = 1\n",
    "no line feed at the end": "a = 1\n[b]\nc = 2",
    "comments only": "# nothing\n\n# here\n",
    "empty": "",
    "escapes": 'a = "\\"[x]\\\\" # b\nc = """\\"""" \n[d]\n',
}


@pytest.mark.parametrize("name", ODD_TEXTS)
def test_splitting_and_joining_gives_back_the_text(name: str) -> None:
    root, tail = split_sections(ODD_TEXTS[name])
    if name == "a table after its child":
        assert sorted(root.text().splitlines()) == sorted(ODD_TEXTS[name].splitlines())
    else:
        assert root.text() + tail == ODD_TEXTS[name]


def test_the_sections_of_the_sample_are_found() -> None:
    root, tail = split_sections(SAMPLE_TEXT)
    assert root.text() + tail == SAMPLE_TEXT
    assert tail == "\n# end of the file\n"
    names = [".".join(section.keys) for section in root.children]
    assert names == [
        "room",
        "tray",
        "crops",
        "crops",
        "media",
        "media",
        "washes",
        "pairs",
        "pairs",
        "pairs",
        "trials",
        "factors",
    ]
    assert [".".join(child.keys) for child in root.children[6].children] == ["steps", "steps"]
    assert root.children[1].lead == "\n# measured inside, not the nominal size\n"


@pytest.mark.parametrize("name", ODD_TEXTS)
def test_odd_texts_can_be_changed(name: str) -> None:
    data = {**tomllib.loads(ODD_TEXTS[name]), "added": 1, "more": {"x": [1, 2]}, "rows": [{"y": 1}, {"y": 2}]}
    new = merged_text(ODD_TEXTS[name], data)
    assert same(tomllib.loads(new), data)
    assert all(word in new for word in ODD_TEXTS[name].split() if word.startswith("#"))


def test_what_cannot_be_merged_is_written_afresh_with_its_comments(monkeypatch: pytest.MonkeyPatch) -> None:
    def spoil(*args: object) -> None:
        raise KeyError("planted")

    monkeypatch.setattr(merging, "_merge_table", spoil)
    data = set_value(sample_data(), ("room", "labour_rate"), 1)
    new = merged(data)
    whole_lines = [line for line in SAMPLE_TEXT.splitlines() if line.startswith("#")]
    assert [line for line in whole_lines if line not in new] == []


def test_a_wrong_merge_is_noticed_and_written_afresh(monkeypatch: pytest.MonkeyPatch) -> None:
    real = merging._merged

    def spoiled(text: str, data: Any) -> str:
        return "format = 9\n" if text else real(text, data)

    monkeypatch.setattr(merging, "_merged", spoiled)
    new = merged(set_value(sample_data(), ("room", "labour_rate"), 1))
    assert new.startswith("# An invented tray room")


def test_items_are_recognised_by_name_then_by_content_then_by_place() -> None:
    a, b, c = {"id": "a"}, {"id": "b"}, {"id": "c"}
    assert matches("media", [a, b, c], [c, a]) == [2, 0]
    assert matches("media", [a, b], [a, {"id": "x"}]) == [0, 1]
    assert matches("media", [a, b, c], [b, c, {"id": "d"}]) == [1, 2, None]
    assert matches("conditions", [{"what": 1}, {"what": 2}], [{"what": 2}, {"what": 3}]) == [1, None]
    assert matches(
        "pairs", [{"medium": "m", "crop": "x"}], [{"medium": "m", "crop": "y"}, {"medium": "m", "crop": "x"}]
    ) == [
        None,
        0,
    ]


@QUICK
@given(scenario_data())
def test_new_text_reads_back_as_the_data(data: dict[str, Any]) -> None:
    assert same(tomllib.loads(fresh_text(data)), data)


@QUICK
@given(scenario_data(), scenario_data())
def test_any_scenario_can_become_any_other(one: dict[str, Any], other: dict[str, Any]) -> None:
    assert same(tomllib.loads(merged_text(fresh_text(one), other)), other)


@QUICK
@given(scenario_data())
def test_the_sample_can_become_any_scenario_and_keeps_what_has_no_table(data: dict[str, Any]) -> None:
    new = merged_text(SAMPLE_TEXT, data)
    assert same(tomllib.loads(new), data)
    for comment in (
        "# An invented tray room",
        "# What an hour and",
        "# measured inside",
        "# end of the file",
    ):
        assert comment in new


VALUES = st.recursive(
    st.booleans()
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats()
    | st.text(max_size=8).filter(str.isprintable)
    | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(min_size=1, max_size=4), inner, max_size=3),
    max_leaves=8,
)
TABLES = st.dictionaries(st.sampled_from(["a", "b", "crops", "x y", "a.b", ""]), VALUES, max_size=5)


@settings(max_examples=150, deadline=None)
@given(TABLES, TABLES)
def test_any_data_at_all_can_be_merged_or_written_afresh(one: dict[str, Any], other: dict[str, Any]) -> None:
    assert same(tomllib.loads(merged_text(fresh_text(one), other)), other)
