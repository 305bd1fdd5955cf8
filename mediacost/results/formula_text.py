"""A recorded expression as text: with the names of its parts, and with their numbers filled in."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mediacost.formulas.numeric import DUST
from mediacost.results import words
from mediacost.results.recorded import Recorded

Leaf = Callable[[Recorded], str]
Term = tuple[int, Recorded]
"""A sign, 1 or -1, and what it stands before."""

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


def _sum(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    terms = _terms(node)
    kept = [term for term in _without_pairs(terms) if not _nothing(term[1])] or terms[:1]
    if len(kept) == 1 and kept[0][0] > 0:
        return _text(kept[0][1], leaf)
    if len(kept) > _LONGEST_SUM:
        shown = _joined(kept[:2], leaf)
        return f"{shown} + ... ({len(kept) - 3} more) ...{_joined(kept[-1:], leaf, after=True)}", _SUM
    return _joined(kept, leaf), _SUM


def _joined(terms: list[Term], leaf: Leaf, after: bool = False) -> str:
    """The terms with their signs; ``after`` where something stands before the first."""
    text = ""
    for sign, term in terms:
        written, own = _text(term, leaf)
        if own < (_SUM if sign > 0 else _PRODUCT):
            written = f"({written})"
        elif own == _PRODUCT and written.startswith("-") and sign > 0:
            sign, written = -1, written[1:]
        elif written.startswith("-"):
            written = f"({written})"
        if text or after:
            text += f" {'+' if sign > 0 else '-'} {written}"
        else:
            text = written if sign > 0 else f"-{written}"
    return text


def _terms(node: Recorded) -> list[Term]:
    """The terms of nested sums with their signs, flat; worked off a stack since sums of months nest deep."""
    terms: list[Term] = []
    stack: list[Term] = [(1, node)]
    while stack:
        sign, each = stack.pop()
        if each.tag is None and each.operation in ("add", "subtract"):
            left, right = each.operands
            stack += [(-sign if each.operation == "subtract" else sign, right), (sign, left)]
        else:
            terms.append((sign, each))
    return terms


def _without_pairs(terms: list[Term]) -> list[Term]:
    """Terms of which none is taken off again elsewhere: what is added and taken away only clutters the text."""
    kept: list[Term] = []
    for sign, term in terms:
        at = next((at for at, each in enumerate(kept) if each[0] == -sign and each[1] is term), None)
        if at is None or term.tag is None:
            kept.append((sign, term))
        else:
            del kept[at]
    return kept


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


def _multiply(node: Recorded, leaf: Leaf) -> tuple[str, int]:
    left, right = node.operands
    for one, other in ((left, right), (right, left)):
        if _is_one(one):
            return _text(other, leaf)
    return f"{_inside(left, leaf, _PRODUCT)} x {_inside(right, leaf, _PRODUCT)}", _PRODUCT


def _is_one(node: Recorded) -> bool:
    """Whether a factor changes nothing: a plain 1, or the share of the only crop."""
    if node.value != 1:
        return False
    return node.operation == "constant" if node.tag is None else node.tag.name == "crop_share"


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
    options = [text_of(each, leaf) for each in _options(node)]
    if len(options) == 2:
        return f"the {which} of ({options[0]}) and ({options[1]})", _ATOM
    return f"the {which.removesuffix('er')}est of ({', '.join(options)})", _ATOM


def _options(node: Recorded) -> list[Recorded]:
    """What a nested choice is made from, flat."""
    found = []
    for each in node.operands:
        nested = each.tag is None and each.operation == node.operation
        found += _options(each) if nested else [each]
    return found


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
    "add": _sum,
    "subtract": _sum,
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
    "found": lambda node, leaf: (", ".join(text_of(each, leaf) for each in node.operands), _ATOM),
    "absolute": lambda node, leaf: (f"size of ({text_of(node.operands[0], leaf)})", _ATOM),
}
