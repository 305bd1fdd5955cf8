"""The scenario file as a JSON Schema (2020-12), made from the descriptions of the fields.

It says what a single field may hold and which keys exist. What must fit together between tables (ids that
exist, a harvest weight for every medium on a sown crop, ...) only `check` can tell.
"""

from __future__ import annotations

from typing import Any

from mediacost.scenario.fields import UNIT_WORDS, FieldDescription, describe
from mediacost.scenario.records import REUSABLE_ONLY, FactorOverride, Medium, Record, Scenario, WashStep
from mediacost.scenario.upgrades import CURRENT_FORMAT
from mediacost.scenario.values import SOWN_AT_MOST, WEEKDAYS
from mediacost.scenario.walk import nested_record, own_fields

Schema = dict[str, Any]

_NOTES: Schema = {"note": {"type": "string"}, "source": {"type": "string"}}


def json_schema() -> Schema:
    """Return the JSON Schema of a scenario file.

    >>> json_schema()["required"][:3]
    ['format', 'title', 'currency']
    """
    definitions: Schema = {}
    root = _record_schema(Scenario, definitions)
    root["properties"]["format"] = {**root["properties"]["format"], "minimum": 1, "maximum": CURRENT_FORMAT}
    root["properties"]["crops"]["minItems"] = 1
    root["properties"]["media"]["minItems"] = 2
    definitions["Medium"]["allOf"] = _medium_rules()
    definitions["WashStep"]["dependentRequired"] = {
        name: ["sheets_per_batch"]
        for name in WashStep.model_fields
        if name.endswith("_per_batch") and name[:6] != "sheets"
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "mediacost scenario",
        "description": "A comparison of growing media. Money is in its currency, without recoverable VAT.",
        **{key: value for key, value in root.items() if key not in ("title", "description")},
        "$defs": definitions,
    }


def _medium_rules() -> list[Schema]:
    """Return what use, packing and end of life ask of a medium's other keys."""
    reusable = {"properties": {"use": {"const": "reusable"}}}
    scrap = {"properties": {"end_of_life": {"const": "scrap"}}}
    return [
        {"oneOf": [{"required": ["pieces_per_pack"]}, {"required": ["cut_from"]}]},
        {
            "if": reusable,
            "then": {"required": ["life_cycles", "wash"]},
            "else": {"properties": {name: False for name in REUSABLE_ONLY if name in Medium.model_fields}},
        },
        {"if": scrap, "else": {"properties": {"scrap_value_per_kg": False}}},
    ]


def _record_schema(record: type[Record], definitions: Schema) -> Schema:
    """Return the schema of one table, and put those of the tables in it into the definitions."""
    names = own_fields(record)
    return {
        "type": "object",
        "description": (record.__doc__ or "").split("\n")[0],
        "properties": {name: _field_schema(record, name, definitions) for name in names},
        "required": [name for name in names if describe(record, name).required],
        "additionalProperties": False,
    }


def _field_schema(record: type[Record], name: str, definitions: Schema) -> Schema:
    description = describe(record, name)
    schema: Schema = {"title": description.label, "description": description.help}
    if description.unit:
        schema["x-unit"] = UNIT_WORDS[description.unit]
    if description.default not in (None, (), {}, ""):
        default = description.default
        schema["default"] = list(default) if isinstance(default, tuple) else default
    inner = nested_record(record, name)
    if inner is not None and inner.__name__ not in definitions:
        definitions[inner.__name__] = {}
        definitions[inner.__name__] = _record_schema(inner, definitions)
    return {**schema, **_value_schema(description, inner)}


def _value_schema(description: FieldDescription, inner: type[Record] | None) -> Schema:
    """Return what a field may hold."""
    if inner is not None:
        reference = {"$ref": f"#/$defs/{inner.__name__}"}
        return {"type": "array", "items": reference} if description.kind == "tables" else reference
    if description.kind == "number":
        return _number_schema(description)
    if description.kind == "factors":
        return _factors_schema()
    if description.name == "currency":
        return {"type": "string", "pattern": "^[A-Z]{3}$"}
    if description.filled:
        return {"type": "string", "minLength": 1}
    if description.kind == "choice":
        return {"enum": list(description.choices)}
    return dict(_FIXED[description.kind])


_SOWN: Schema = {"type": "integer", "minimum": 0, "maximum": SOWN_AT_MOST}

_FIXED: dict[str, Schema] = {
    "text": {"type": "string"},
    "flag": {"type": "boolean"},
    "date": {"type": "string", "format": "date"},
    "weekdays": {"type": "array", "items": {"enum": list(WEEKDAYS)}, "minItems": 1, "uniqueItems": True},
    "season": {
        "type": "array",
        "items": {"type": "number", "minimum": 0, "maximum": 1000},
        "minItems": 12,
        "maxItems": 12,
    },
    "sowing": {
        "type": "object",
        "properties": {**dict.fromkeys(WEEKDAYS, _SOWN), **_NOTES},
        "additionalProperties": False,
    },
}


def _number_schema(description: FieldDescription) -> Schema:
    plain: Schema = {"type": "integer" if description.whole else "number"}
    for key, limit in (
        ("minimum", description.minimum),
        ("maximum", description.maximum),
        ("exclusiveMinimum", description.exclusive_minimum),
        ("exclusiveMaximum", description.exclusive_maximum),
    ):
        if limit is not None:
            plain[key] = limit
    if not description.ranged:
        return plain
    return {"anyOf": [plain, _range_schema(plain)]}


def _range_schema(plain: Schema) -> Schema:
    return {
        "type": "object",
        "properties": {**dict.fromkeys(("low", "likely", "high"), plain), **_NOTES},
        "required": ["low", "likely", "high"],
        "additionalProperties": False,
    }


def _factors_schema() -> Schema:
    number = _number_schema(describe(FactorOverride, "value"))
    table = {
        "type": "object",
        "properties": {"value": number, **_NOTES},
        "required": ["value"],
        "additionalProperties": False,
    }
    return {
        "type": "object",
        "properties": dict(_NOTES),
        "additionalProperties": {"anyOf": [*number["anyOf"], table]},
    }
