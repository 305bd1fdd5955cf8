"""The parts of the job that can be typed into, and the fields of each: which key path, under which words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from mediacost.scenario import FieldDescription, describe_path

Keys = tuple[str | int, ...]


class FieldSpec(NamedTuple):
    """A field on a page: where its value is, its description, its words here, and the words of an undo step."""

    keys: Keys
    description: FieldDescription
    label: str
    step: str


class Note(NamedTuple):
    """A line on a page that is not typed, such as a weight that a trial has measured."""

    label: str
    text: str


class Part(NamedTuple):
    """A part of the job: ``medium`` is its place in the file, or None for the room."""

    id: str
    label: str
    medium: int | None


ROOM = Part("room", "The room and its prices", None)


def parts_of(data: Mapping[str, Any]) -> list[Part]:
    """The parts of a document, in the order in which a grower meets them."""
    return [ROOM] + [
        Part(f"medium {place}", str(medium.get("name") or medium.get("id") or f"medium {place + 1}"), place)
        for place, medium in enumerate(_tables(data, "media"))
    ]


def fields_of(
    part: Part, data: Mapping[str, Any], measured: Mapping[tuple[str, str], str]
) -> Iterator[FieldSpec | Note]:
    """The fields of a part; ``measured`` has the words for weights that trials have measured."""
    if part.medium is None:
        yield _spec(("room", "labour_rate"))
        for place, crop in enumerate(_tables(data, "crops")):
            yield _spec(("crops", place, "sell_price_per_kg"), _name(crop))
        return
    medium = _tables(data, "media")[part.medium]
    here: Keys = ("media", part.medium)
    name = _name(medium)
    yield _spec((*here, "pack_price"), "", name)
    reusable = medium.get("use") == "reusable"
    if reusable:
        yield _spec((*here, "life_cycles"), "", name)
        yield _spec((*here, "loss_per_cycle"), "", name)
    yield from _weights(medium, data, measured)
    yield _spec((*here, "prep_minutes_per_tray"), "", name)
    if reusable:
        yield from _wash_minutes(medium, data)


def _weights(
    medium: Mapping[str, Any], data: Mapping[str, Any], measured: Mapping[tuple[str, str], str]
) -> Iterator[FieldSpec | Note]:
    for crop in _tables(data, "crops"):
        key = (str(medium.get("id")), str(crop.get("id")))
        if key in measured:
            yield Note(f"Harvest weight, {_name(crop)}", measured[key])
            continue
        for place, pair in enumerate(_tables(data, "pairs")):
            if (str(pair.get("medium")), str(pair.get("crop"))) == key:
                yield _spec(("pairs", place, "mean_g"), _name(crop), _name(medium))


def _wash_minutes(medium: Mapping[str, Any], data: Mapping[str, Any]) -> Iterator[FieldSpec]:
    for at, wash in enumerate(_tables(data, "washes")):
        if wash.get("id") == medium.get("wash"):
            for place, step in enumerate(_tables(wash, "steps")):
                for name in ("minutes_per_sheet", "minutes_per_batch", "minutes_per_wash_day"):
                    if name in step:
                        yield _spec(("washes", at, "steps", place, name), f"{step.get('name', place + 1)}")


def _spec(keys: Keys, detail: str = "", of: str = "") -> FieldSpec:
    described = describe_path(keys)
    label = f"{described.label}, {detail}" if detail else described.label
    whose = f"{label} of {of}" if of else label
    return FieldSpec(keys, described, label, f"Change {whose[0].lower()}{whose[1:]}")


def _tables(data: Mapping[str, Any], key: str) -> Sequence[Mapping[str, Any]]:
    found = data.get(key)
    return [each for each in found if isinstance(each, Mapping)] if isinstance(found, list) else []


def _name(table: Mapping[str, Any]) -> str:
    return str(table.get("name") or table.get("id") or "?")
