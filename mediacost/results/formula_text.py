"""A recorded expression as text: with the names of its parts, and with their numbers filled in."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mediacost.formulas.numeric import DUST
from mediacost.results import words
from mediacost.results.recorded import Recorded

Leaf = Callable[[Recorded], str]

_SUM, _PRODUCT, _POWER, _ATOM = 1, 2, 3, 4
_LONGEST_SUM = 12


def text_of(node: Recorded, leaf: Leaf) -> str:
    """The expression under ``node`` as text; ``leaf`` writes its tagged parts."""
    return _text(node, leaf)[0]


def parts_of(node: Recorded) -> Iterator[Recorded]:
    """The tagged numbers that stand in the text of an expression, in order, each once."""
    found: dict[int, Recorded] = {}

    def note(part: Recorded) -> str:
        found.setdefault(id(part), part)
        return ""

    _text(node, note)
    return iter(found.values())


def _text(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    if node.tag is not None:
        return leaf(node), _ATOM
    if node.operation == "constant":
        return words.number(node.value), _ATOM if node.value >= 0 else _SUM
    write = _WRITERS.get(node.operation)
    if write is None:
        return words.number(node.value), _ATOM
    return write(node, leaf)


def _inside(node: Recorded, leaf: Leaf, binding: int) -> str:
    text, own = _text(node, leaf)
    return text if own >= binding else f"({text})"


def _add(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    terms = _terms(node)
    kept = [term for term in terms if not _nothing(term)] or terms[:1]
    if len(kept) == 1:
        return _text(kept[0], leaf)
    if len(kept) > _LONGEST_SUM:
        left_out = len(kept) - 3
        shown = [_inside(term, leaf, _SUM) for term in kept[:2]]
        return " + ".join([*shown, f"... ({left_out} more) ...", _inside(kept[-1], leaf, _SUM)]), _SUM
    return " + ".join(_inside(term, leaf, _SUM) for term in kept), _SUM


def _terms(node: Recorded) -> list[Recorded]:
    """The terms of nested sums, flat; worked off a stack since sums of months nest deep."""
    terms, stack = [], [node]
    while stack:
        each = stack.pop()
        if each.tag is None and each.operation == "add":
            stack += reversed(each.operands)
        else:
            terms.append(each)
    return terms


def _nothing(node: Recorded) -> bool:
    """Whether a term is zero because nothing was given: it only clutters the text."""
    if node.value != 0:
        return False
    if node.tag is not None and node.tag.kind != "figure":
        return node.tag.unset or node.tag.kind == "counted"
    if node.operation == "constant":
        return True
    if node.operation == "divide":
        return _nothing(node.operands[0])
    check = any if node.operation == "multiply" else all
    return check(_nothing(operand) for operand in node.operands)


def _subtract(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    left, right = node.operands
    if _nothing(right):
        return _text(left, leaf)
    return f"{_inside(left, leaf, _SUM)} - {_inside(right, leaf, _PRODUCT)}", _SUM


def _multiply(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    left, right = node.operands
    for one, other in ((left, right), (right, left)):
        if one.tag is None and one.operation == "constant" and one.value == 1:
            return _text(other, leaf)
    return f"{_inside(left, leaf, _PRODUCT)} x {_inside(right, leaf, _PRODUCT)}", _PRODUCT


def _divide(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    above, below = node.operands
    if below.tag is None and below.operation == "where":
        # the denominator of a guarded ratio: the branch not taken only keeps it finite
        below = below.operands[1]
    if below.tag is None and below.operation == "constant" and below.value == 1:
        return _text(above, leaf)
    return f"{_inside(above, leaf, _PRODUCT)} / {_inside(below, leaf, _POWER)}", _PRODUCT


def _negative(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    inner = node.operands[0]
    if inner.tag is None and inner.operation == "expm1":
        return f"1 - {_grown(inner.operands[0], leaf)}", _SUM
    return f"-{_inside(inner, leaf, _POWER)}", _PRODUCT


def _expm1(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    return f"{_grown(node.operands[0], leaf)} - 1", _SUM


def _grown(exponent: Recorded, leaf: Leaf) -> str:
    """exp of an exponent; written (1 + y)^n where the exponent is n ln(1 + y)."""
    if exponent.tag is None and exponent.operation == "multiply":
        power, log = exponent.operands
        if log.tag is None and log.operation == "log1p":
            return f"({_one_plus(log.operands[0], leaf)})^{_inside(power, leaf, _ATOM)}"
    return f"exp({text_of(exponent, leaf)})"


def _one_plus(node: Recorded, leaf: Leaf) -> str:
    if node.tag is None and node.operation == "negative":
        return f"1 - {_inside(node.operands[0], leaf, _PRODUCT)}"
    if node.tag is None and node.operation == "multiply":
        left, right = node.operands
        if left.tag is None and left.operation == "negative":
            return f"1 - {_inside(left.operands[0], leaf, _PRODUCT)} x {_inside(right, leaf, _PRODUCT)}"
    return f"1 + {_inside(node, leaf, _PRODUCT)}"


def _log1p(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    return f"ln({_one_plus(node.operands[0], leaf)})", _ATOM


def _power(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    base, exponent = node.operands
    return f"{_inside(base, leaf, _ATOM)}^{_inside(exponent, leaf, _ATOM)}", _POWER


def _where(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    """A choice reads as the branch that was taken."""
    condition, if_true, if_false = node.operands
    while True:
        taken = if_true if condition.value else if_false
        if taken.tag is not None or taken.operation != "where":
            return _text(taken, leaf)
        condition, if_true, if_false = taken.operands


def _maximum(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    return _choice(node, leaf, "larger")


def _minimum(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    return _choice(node, leaf, "smaller")


def _choice(node: Recorded, leaf: Leaf, which: str) -> tuple[str, int]:
    left, right = node.operands
    if _fixed(right) and node.value == left.value:
        return _text(left, leaf)
    if _fixed(left) and node.value == right.value:
        return _text(right, leaf)
    return f"the {which} of ({text_of(left, leaf)}) and ({text_of(right, leaf)})", _ATOM


def _fixed(node: Recorded) -> bool:
    """Whether a bound is a plain constant: where it does not bind it only clutters the text."""
    return _nothing(node) or (node.tag is None and node.operation == "constant")


def _rounded(how: str) -> Callable[[Recorded, Leaf], tuple[str, int]]:
    def write(node: Recorded, leaf: Leaf) -> tuple[str, int]:
        return f"{how}({text_of(_without_dust(node.operands[0]), leaf)})", _ATOM

    return write


def _without_dust(node: Recorded) -> Recorded:
    """The number inside a rounding, without the slack that forgives dust."""
    if node.tag is None and node.operation in ("add", "subtract"):
        inner, slack = node.operands
        if slack.operation == "multiply" and slack.operands[0].value == DUST:
            return inner
    return node


_WRITERS: dict[str, Callable[[Recorded, Leaf], tuple[str, int]]] = {
    "add": _add,
    "subtract": _subtract,
    "multiply": _multiply,
    "divide": _divide,
    "negative": _negative,
    "expm1": _expm1,
    "log1p": _log1p,
    "power": _power,
    "where": _where,
    "maximum": _maximum,
    "minimum": _minimum,
    "floor": _rounded("whole part of "),
    "ceil": _rounded("rounded up "),
    "absolute": lambda node, leaf: (f"size of ({text_of(node.operands[0], leaf)})", _ATOM),
}
