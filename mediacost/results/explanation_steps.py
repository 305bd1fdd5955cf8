"""A recorded number told in steps: the formula, its numbers, and the same for each part down to the inputs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from mediacost.results import words
from mediacost.results.evaluation import Evaluation
from mediacost.results.figures import BASIS_NAMES, FIGURES
from mediacost.results.formula_text import parts_of, text_of
from mediacost.results.recorded import Recorded, value_of
from mediacost.scenario import Scenario, describe_path
from mediacost.scenario.paths_in_words import path_in_words


@dataclass(frozen=True, slots=True)
class Step:
    """One figure opened: what it is, how it is worked out, and the steps of its parts.

    ``formula`` names the parts and ``numbers`` fills them in; both are empty for an input. ``where`` is an input's
    key path, ``note`` what the document says of it, ``lines`` how a counted number was counted.
    """

    label: str
    value: float
    unit: str
    formula: str = ""
    numbers: str = ""
    where: str = ""
    note: str = ""
    lines: tuple[str, ...] = ()
    parts: tuple[Step, ...] = field(default=())
    seen: bool = False

    def walk(self, depth: int = 0) -> Iterator[tuple[int, Step]]:
        """This step and all below it, each with its depth."""
        yield depth, self
        for part in self.parts:
            yield from part.walk(depth + 1)


def _filled_in(part: Recorded) -> str:
    text = words.number(value_of(part))
    return f"({text})" if text.startswith("-") else text


_NOT_GIVEN = "not given: the usual value is taken"
_NOT_FOR_SINGLE_USE = "single use: a sheet serves one cycle, nothing is washed, none is owned"
_NOTHING_GIVEN = "nothing is given that this would be worked out from"


class Teller:
    """Turns recorded numbers into steps, each shown once."""

    def __init__(self, scenario: Scenario, evaluation: Evaluation) -> None:
        self._data = scenario.model_dump()
        self._currency = scenario.currency
        self._names = {medium.id: medium.name for medium in scenario.media}
        self._names |= {crop.id: crop.name for crop in scenario.crops} | BASIS_NAMES
        self._single_use = {each.id for each in scenario.media if each.use == "single-use"}
        self._told: set[tuple] = set()

    def step(self, node: Recorded, around: tuple[str | int, ...]) -> Step:
        tag = node.tag
        assert tag is not None
        if tag.kind == "input":
            return self._input_step(node)
        figure, value = FIGURES[tag.name], float(value_of(node))
        bare = Step(self._label(node, around), value, words.unit(figure.unit, self._currency))
        key = (tag.name, tag.context, value)
        if key in self._told:
            return replace(bare, seen=True)
        self._told.add(key)
        if tag.kind == "counted":
            return replace(bare, lines=_counted_lines(tag.lines() if tag.lines else ()))
        made, here = node.operands[0], (*around, *tag.context)
        shown = self._shown_parts(made, bool(figure.method))
        alias = len(shown) == 1 and text_of(made, lambda _: "@") == "@"
        if alias and shown[0].tag is not None and shown[0].tag.name == tag.name:
            return self.step(shown[0], around)
        if shown and all(part.tag is not None and part.tag.unset for part in shown):
            return replace(bare, note=_NOT_GIVEN)
        parts = tuple(self.step(part, here) for part in shown)
        if not parts:
            single = any(each in self._single_use for each in tag.context)
            return replace(bare, note=_NOT_FOR_SINGLE_USE if single else _NOTHING_GIVEN)
        if figure.method:
            return replace(bare, formula=figure.method, parts=parts)
        return replace(
            bare,
            formula=text_of(made, lambda part: self._label(part, here)),
            numbers="" if alias else text_of(made, _filled_in),
            parts=parts,
        )

    def _input_step(self, node: Recorded) -> Step:
        tag = node.tag
        assert tag is not None
        described = describe_path(tag.keys)
        notes = [tag.note] if tag.note else []
        if tag.unset:
            notes.append(_NOT_GIVEN)
        table = _table_of(tag.keys)
        if tag.table_note and table not in self._told:
            notes.append(self._table_note(table, tag.table_note))
            self._told.add(table)
        return Step(
            label=described.label,
            value=float(value_of(node)),
            unit=words.unit(described.unit, self._currency),
            where=path_in_words(tag.keys, self._data),
            note="\n".join(notes),
        )

    def _table_note(self, table: tuple[str | int, ...], note: str) -> str:
        """A note that a whole table bears; where the table is a large one, said to be of it."""
        large = table[0] in ("room", "crops", "media", "washes") and len(table) <= 2
        return f"note on {path_in_words(table, self._data)}: {note}" if large else note

    @staticmethod
    def _shown_parts(made: Recorded, by_method: bool) -> list[Recorded]:
        parts = list(parts_of(made))
        return [*parts[:2], parts[-1]] if by_method and len(parts) > 12 else parts

    def _label(self, node: Recorded, around: tuple[str | int, ...]) -> str:
        """A part's words, with what sets it apart from the step it stands in."""
        tag = node.tag
        assert tag is not None
        if tag.kind == "input":
            return self._input_label(node)
        label = FIGURES[tag.name].label
        month = next((each for each in tag.context if isinstance(each, int)), None)
        extra = [self._names.get(each, each) for each in tag.context if isinstance(each, str) and each not in around]
        if month is not None and "the month" in label:
            label = label.replace("the month", f"month {month}")
        elif month is not None:
            extra.append(f"month {month}")
        return f"{label} ({', '.join(extra)})" if extra else label

    def _input_label(self, node: Recorded) -> str:
        assert node.tag is not None
        label = describe_path(node.tag.keys).label
        return label[0].lower() + label[1:] if label[1:2].islower() else label


def _table_of(keys: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """The key path of the table that an input stands in; a list of numbers belongs to the table around it."""
    last = max(at for at, key in enumerate(keys) if isinstance(key, str))
    return keys[:last]


def _counted_lines(lines: Sequence[str]) -> tuple[str, ...]:
    """How a number was counted, equal lines once."""
    times: dict[str, int] = {}
    for line in lines:
        times[line] = times.get(line, 0) + 1
    return tuple(f"{line} ({n} times)" if n > 1 else line for line, n in times.items())
