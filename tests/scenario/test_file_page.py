"""What the manual says of the scenario file is what the records say."""

from __future__ import annotations

import json
from pathlib import Path

from mediacost.scenario.fields import UNIT_WORDS
from mediacost.scenario.file_page import file_page
from mediacost.scenario.json_schema import json_schema
from mediacost.scenario.walk import walk_fields

DOCS = Path(__file__).parents[2] / "docs"


def test_the_page_in_the_manual_is_up_to_date():
    assert (DOCS / "scenario-file.md").read_text(encoding="utf-8") == file_page()


def test_the_schema_in_the_manual_is_up_to_date():
    assert json.loads((DOCS / "scenario.schema.json").read_text(encoding="utf-8")) == json_schema()


def test_the_page_has_a_row_for_every_value():
    page = file_page()
    for row in walk_fields():
        name, kind = row.path[-1], row.description.kind
        if name not in ("note", "source") and kind not in ("table", "tables", "factors"):
            assert f"| `{name}` | {row.description.label}. " in page, row.path
            assert row.description.unit in UNIT_WORDS
