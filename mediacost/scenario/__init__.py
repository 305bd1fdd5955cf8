"""The document: what a scenario file holds, how it is checked, read, changed and saved.

This package knows neither formulas nor screens. Names are loaded on first use, so that reading a file
does not pay for saving one.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mediacost.scenario.checking import Checked, check
    from mediacost.scenario.edits import (
        get_value,
        insert_item,
        move_item,
        remove_value,
        rename_id,
        set_value,
    )
    from mediacost.scenario.fields import UNIT_WORDS, FieldDescription, describe
    from mediacost.scenario.history import History
    from mediacost.scenario.reading import Draft, ScenarioFile, read_draft, read_file, read_text
    from mediacost.scenario.records import (
        Condition,
        Crop,
        CutFrom,
        FactorOverride,
        Medium,
        Pair,
        Room,
        Sanitiser,
        Scenario,
        Tray,
        Trial,
        TrialCheck,
        TrialTray,
        Wash,
        WashStep,
    )
    from mediacost.scenario.store import write_draft, write_file
    from mediacost.scenario.upgrades import CURRENT_FORMAT
    from mediacost.scenario.values import WEEKDAYS, Range, high_of, likely, low_of
    from mediacost.scenario.walk import describe_path, walk_fields, walk_values

_HOMES = {
    "checking": ("Checked", "check"),
    "edits": ("get_value", "insert_item", "move_item", "remove_value", "rename_id", "set_value"),
    "fields": ("UNIT_WORDS", "FieldDescription", "describe"),
    "history": ("History",),
    "reading": ("Draft", "ScenarioFile", "read_draft", "read_file", "read_text"),
    "records": (
        "Condition",
        "Crop",
        "CutFrom",
        "FactorOverride",
        "Medium",
        "Pair",
        "Room",
        "Sanitiser",
        "Scenario",
        "Tray",
        "Trial",
        "TrialCheck",
        "TrialTray",
        "Wash",
        "WashStep",
    ),
    "store": ("write_draft", "write_file"),
    "upgrades": ("CURRENT_FORMAT",),
    "values": ("WEEKDAYS", "Range", "high_of", "likely", "low_of"),
    "walk": ("describe_path", "walk_fields", "walk_values"),
}
_HOME_OF = {name: module for module, names in _HOMES.items() for name in names}

__all__ = [
    "CURRENT_FORMAT",
    "UNIT_WORDS",
    "WEEKDAYS",
    "Checked",
    "Condition",
    "Crop",
    "CutFrom",
    "Draft",
    "FactorOverride",
    "FieldDescription",
    "History",
    "Medium",
    "Pair",
    "Range",
    "Room",
    "Sanitiser",
    "Scenario",
    "ScenarioFile",
    "Tray",
    "Trial",
    "TrialCheck",
    "TrialTray",
    "Wash",
    "WashStep",
    "check",
    "describe",
    "describe_path",
    "get_value",
    "high_of",
    "insert_item",
    "likely",
    "low_of",
    "move_item",
    "read_draft",
    "read_file",
    "read_text",
    "remove_value",
    "rename_id",
    "set_value",
    "walk_fields",
    "walk_values",
    "write_draft",
    "write_file",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
