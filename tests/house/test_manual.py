"""What README and manual show as printed is what is printed, and their links lead somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mediacost.cli.main import main
from mediacost.results.cautions import cautions_page

ROOT = Path(__file__).parents[2]
PAGES = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").glob("*.md")])
SHOWN = re.compile(r"<!-- printed by: (?P<command>[^>]+?) -->\n```text\n(?P<text>.*?)\n```", re.DOTALL)


def shown_outputs() -> list[tuple[str, str, str]]:
    return [
        (page.name, each["command"], each["text"])
        for page in PAGES
        for each in SHOWN.finditer(page.read_text(encoding="utf-8"))
    ]


@pytest.mark.parametrize(("page", "command", "text"), shown_outputs())
def test_shown_output_is_printed_just_so(page, command, text, capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("COLUMNS", "110")
    assert main(command.split()) == 0
    assert text in capsys.readouterr().out


def test_there_is_output_to_check():
    assert len(shown_outputs()) >= 4


def test_the_page_of_cautions_is_up_to_date():
    assert (ROOT / "docs" / "cautions.md").read_text(encoding="utf-8") == cautions_page()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_to_files(page):
    for target in re.findall(r"\]\((?!https?:|#)([^)#]+)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), target
