"""How a field of the scenario file is described: once, where its record is defined.

A record says `labour_rate: Annotated[float | Range, number("Labour rate", "money/h", "...", minimum=0)]`. The
object made by `number` both checks the value and carries the words, so forms, messages, workbook labels, the
page on the file format and the JSON schema all read the same row.

`describe` returns that row for a field of a record; `description_of` is the look-up behind it. The walks over
whole documents are in `walk`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, get_args

from pydantic_core import PydanticCustomError, core_schema

from mediacost.scenario import values
from mediacost.scenario.values import LARGEST, Bounds, Refused

if TYPE_CHECKING:
    from pydantic import BaseModel, GetCoreSchemaHandler

UNIT_WORDS = {
    "": "",
    "money": "money",
    "money/h": "money per hour",
    "money/m3": "money per cubic metre",
    "money/kWh": "money per kilowatt-hour",
    "money/kg": "money per kilogram",
    "money/l": "money per litre",
    "money/pack": "money per pack",
    "mm": "millimetres",
    "g": "grams",
    "l": "litres",
    "min": "minutes",
    "min/kg": "minutes per kilogram",
    "degC": "degrees Celsius",
    "mg/l": "milligrams per litre",
    "share": "as a share of 1",
    "per year": "per year, as a share of 1",
    "%": "per cent",
    "kWh/day": "kilowatt-hours per day",
    "days": "days",
    "trays": "trays",
    "sheets": "sheets",
    "pieces": "pieces",
    "cycles": "cycles",
    "months": "months",
    "years": "years",
    "weeks": "weeks",
    "score": "a score from 0 to 5",
}
"""Every unit that a field may have, and how it is said."""

REFUSED = "refused_value"
"""pydantic error type under which a `Refused` travels."""


@dataclass(frozen=True, slots=True)
class FieldDescription:
    """One field: its name in the file, the words for it, and what it accepts.

    `kind` is one of "number", "text", "choice", "flag", "date", "weekdays", "season", "sowing", "table",
    "tables" or "factors"; `choices` is filled for a choice only. `default` is None where `required`, and also
    where the default depends on other fields (the help says how). `long` text may have several lines;
    `filled` text must not be empty.
    """

    name: str
    label: str
    unit: str = ""
    help: str = ""
    minimum: float | None = None
    maximum: float | None = None
    exclusive_minimum: float | None = None
    exclusive_maximum: float | None = None
    whole: bool = False
    ranged: bool = False
    required: bool = False
    default: Any = None
    kind: str = "text"
    choices: tuple[str, ...] = ()
    long: bool = False
    filled: bool = False

    @property
    def bounds(self) -> Bounds:
        """The limits of a number."""
        return Bounds(self.minimum, self.maximum, self.exclusive_minimum, self.exclusive_maximum)

    @property
    def expected(self) -> str:
        """What belongs into this field, in words."""
        if self.kind == "number":
            words = values.number_words(self.bounds, self.whole)
            unit = UNIT_WORDS[self.unit]
            percent = "; 3 % is written 0.03" if self.unit == "share" else ""
            return f"{words} ({unit}{percent})" if unit else words
        if self.kind == "choice":
            return " or ".join(f'"{choice}"' for choice in self.choices)
        return _KIND_WORDS[self.kind]


_KIND_WORDS = {
    "text": "text in quotes",
    "flag": "true or false",
    "date": "a date such as 2027-03-12",
    "weekdays": 'a list of weekdays such as ["mon", "thu"]',
    "season": "a list of 12 numbers, January first",
    "sowing": "trays sown on each weekday, such as { mon = 24, thu = 18 }",
    "table": "a table",
    "tables": "a list of tables",
    "factors": "a table of numbers by id",
}


@dataclass(frozen=True, slots=True)
class Described:
    """Put in a record's annotation: the description of the field, and how its value is read.

    `read` is None for tables and lists of tables, which pydantic reads.
    """

    description: FieldDescription
    read: Callable[[Any], Any] | None = None
    optional: bool = field(default=False)

    def accept(self, value: Any) -> Any:
        """Return the value as the record keeps it, or raise `Refused`."""
        if value is None and self.optional:
            return None
        assert self.read is not None
        return self.read(value)

    def _accept_for_pydantic(self, value: Any) -> Any:
        try:
            return self.accept(value)
        except Refused as refused:
            raise PydanticCustomError(REFUSED, "refused", {"complaints": refused.complaints}) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        """Let pydantic read the value through `accept`."""
        if self.read is None:
            return handler(source)
        return core_schema.no_info_plain_validator_function(self._accept_for_pydantic)


# The helper, one form for each kind of value ------------------------------------------------------


def number(
    label: str,
    unit: str,
    help: str,
    *,
    minimum: float | None = None,
    maximum: float | None = LARGEST,
    above: float | None = None,
    below: float | None = None,
    whole: bool = False,
    ranged: bool = True,
    optional: bool = False,
) -> Described:
    """Describe a number. `optional` allows None, for a default that depends on other fields."""
    if unit not in UNIT_WORDS:
        raise ValueError(f"unknown unit {unit!r}")
    if below is not None:
        maximum = None
    bounds = Bounds(minimum, maximum, above, below)
    description = FieldDescription(
        "", label, unit, help, minimum, maximum, above, below, whole=whole, ranged=ranged, kind="number"
    )
    return Described(description, lambda value: values.read_number(value, bounds, whole=whole, ranged=ranged), optional)


def whole_number(
    label: str,
    unit: str,
    help: str,
    *,
    minimum: float,
    maximum: float,
    ranged: bool = False,
    optional: bool = False,
) -> Described:
    """Describe a whole number; it takes no range unless told."""
    return number(label, unit, help, minimum=minimum, maximum=maximum, whole=True, ranged=ranged, optional=optional)


def share(
    label: str, help: str, *, maximum: float = 1.0, below: float | None = None, optional: bool = False
) -> Described:
    """Describe a share, 0.05 for 5 %."""
    return number(label, "share", help, minimum=0, maximum=maximum, below=below, optional=optional)


def identity(label: str, help: str, *, optional: bool = False) -> Described:
    """Describe an id, or a reference to one."""
    return Described(FieldDescription("", label, "", help, kind="text", filled=True), values.read_id, optional)


def text(label: str, help: str, *, needed: bool = False, most: int = 200) -> Described:
    """Describe one line of text; `needed` refuses an empty one."""
    description = FieldDescription("", label, "", help, kind="text", filled=needed)
    return Described(description, lambda value: values.read_text(value, most=most, needed=needed))


def long_text(label: str, help: str) -> Described:
    """Describe text of several lines."""
    return Described(FieldDescription("", label, "", help, kind="text", long=True), values.read_long_text)


def currency(label: str, help: str) -> Described:
    """Describe the currency code."""
    return Described(FieldDescription("", label, "", help, kind="text"), values.read_currency)


def flag(label: str, help: str, *, optional: bool = False) -> Described:
    """Describe a yes or no."""
    return Described(FieldDescription("", label, "", help, kind="flag"), values.read_flag, optional)


def choice(words: Any, label: str, help: str) -> Described:
    """Describe a choice between the words of a `Literal`."""
    choices = get_args(words)
    description = FieldDescription("", label, "", help, kind="choice", choices=choices)
    return Described(description, lambda value: values.read_choice(value, choices))


def date(label: str, help: str) -> Described:
    """Describe a calendar date that may be left out."""
    return Described(FieldDescription("", label, "", help, kind="date"), values.read_date, optional=True)


def special(kind: str, label: str, help: str, read: Callable[[Any], Any], unit: str = "") -> Described:
    """Describe a small table or list that is one value: weekdays, season, sowing, factors."""
    return Described(FieldDescription("", label, unit, help, kind=kind), read)


def table(label: str, help: str) -> Described:
    """Describe a table inside this one."""
    return Described(FieldDescription("", label, "", help, kind="table"))


def tables(label: str, help: str) -> Described:
    """Describe a list of tables."""
    return Described(FieldDescription("", label, "", help, kind="tables"))


# Look-up ------------------------------------------------------------------------------------------


def described(model: type[BaseModel], field_name: str) -> Described:
    """Return the `Described` in a record's annotation of this field (KeyError if there is no such field)."""
    for item in model.model_fields[field_name].metadata:
        if isinstance(item, Described):
            return item
    raise TypeError(f"{model.__name__}.{field_name} is not described")


def override(model: type[BaseModel], field_name: str, help: str) -> Described:
    """Describe a field that may stand in for another record's: its words, unit and bounds, and None for 'as there'."""
    usual = described(model, field_name)
    return replace(usual, description=replace(usual.description, help=help), optional=True)


def describe(model: type[BaseModel], field_name: str) -> FieldDescription:
    """Return the full description of a field of a record.

    >>> from mediacost.scenario.records import Room
    >>> describe(Room, "labour_rate").unit
    'money/h'
    """
    info = model.model_fields[field_name]
    required = info.is_required()
    return replace(
        described(model, field_name).description,
        name=field_name,
        required=required,
        default=None if required else info.get_default(call_default_factory=True),
    )
