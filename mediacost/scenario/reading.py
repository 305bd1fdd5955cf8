"""Reads a scenario file: bytes to text to data to scenario, with every way it can go wrong in one line.

Only the standard library's TOML reader is used here; the one that keeps comments is loaded when saving.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mediacost.errors import Fault, InputFaults
from mediacost.scenario.checking import check
from mediacost.scenario.records import Scenario
from mediacost.scenario.upgrades import upgrade
from mediacost.scenario.values import Refused, on_one_line, safe

LARGEST_BYTES = 8_000_000
"""Larger files are refused before they are read."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A scenario file as it was read, whether or not its content has faults.

    `fingerprint` is of the bytes on disk; by it a change behind our back is noticed when saving. Empty for a
    text that never was on disk. `data` is in the current format; `path` is None for a text.
    """

    path: Path | None
    text: str
    data: dict[str, Any] = field(repr=False)
    fingerprint: str
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class ScenarioFile(Draft):
    """A scenario file without faults, and the scenario in it."""

    scenario: Scenario = field(repr=False)


def fingerprint_of(content: bytes) -> str:
    """Return the fingerprint of a file's content."""
    return hashlib.sha256(content).hexdigest()


def read_file(path: str | os.PathLike[str]) -> ScenarioFile:
    """Read a scenario file, or raise `InputFaults` with every fault in it."""
    place = Path(path)
    content = read_bytes(place)
    return _scenario_file(decode(content, str(place)), str(place), place, fingerprint_of(content))


def read_text(text: str, where: str = "") -> ScenarioFile:
    """Read a scenario from text, or raise `InputFaults` with every fault in it."""
    return _scenario_file(text.removeprefix("\ufeff"), where, None, "")


def read_draft(path: str | os.PathLike[str]) -> Draft:
    """Read a scenario file that may have faults in its content, so that they can be mended on screen.

    Raises `InputFaults` only if there is no content to mend: no file, no text, no TOML, a newer format.
    """
    place = Path(path)
    content = read_bytes(place)
    text = decode(content, str(place))
    data = _current(parse(text, str(place)), str(place))
    checked = check(data, str(place))
    return Draft(place, text, data, fingerprint_of(content), checked.faults, checked.warnings)


def _scenario_file(text: str, where: str, path: Path | None, fingerprint: str) -> ScenarioFile:
    data = _current(parse(text, where), where)
    checked = check(data, where)
    if checked.scenario is None:
        raise InputFaults(checked.faults)
    return ScenarioFile(path, text, data, fingerprint, (), checked.warnings, checked.scenario)


def _current(data: dict[str, Any], where: str) -> dict[str, Any]:
    """Return the data in the current format."""
    try:
        return upgrade(data)
    except Refused:
        raise InputFaults(check(data, where).faults) from None


def read_bytes(path: Path) -> bytes:
    """Return a file's content, or raise `InputFaults` saying why it cannot be read."""
    where = str(path)
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise _unreadable(where, "is a folder")
        if not stat.S_ISREG(status.st_mode):
            raise _unreadable(where, "is not an ordinary file")
        if status.st_size > LARGEST_BYTES:
            raise _too_large(where, status.st_size)
        with path.open("rb") as stream:
            content = stream.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise _unreadable(where, "there is no such file") from None
    except PermissionError:
        raise _unreadable(where, "may not be read", "a file that you are allowed to open") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "it has no usable name"
        raise _unreadable(where, f"cannot be read: {reason}") from None
    if len(content) > LARGEST_BYTES:
        raise _too_large(where, len(content))
    return content


def _unreadable(where: str, problem: str, expected: str = "a scenario file") -> InputFaults:
    return InputFaults([Fault(on_one_line(where), "", problem, expected)])


def _too_large(where: str, size: int) -> InputFaults:
    return _unreadable(where, f"has {size} bytes, too many for a scenario", f"at most {LARGEST_BYTES} bytes")


def decode(content: bytes, where: str) -> str:
    """Return the text of a file; a byte order mark is dropped, line ends stay as they are."""
    if b"\0" in content:
        raise _unreadable(where, "is not a text file", "a scenario file, which is UTF-8 text")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        fault = Fault(
            on_one_line(where),
            "",
            "has a character that is not UTF-8",
            "text saved as UTF-8",
            line=line,
        )
        raise InputFaults([fault]) from None


def parse(text: str, where: str) -> dict[str, Any]:
    """Return the plain data of a TOML text, or raise `InputFaults` with line and column."""
    where = on_one_line(where)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputFaults([_syntax_fault(str(error), where, text)]) from None
    except RecursionError:
        raise InputFaults([Fault(where, "", "is nested too deeply", "the tables of a scenario file")]) from None
    except (ValueError, OverflowError):
        # Digits without end, or a date that no calendar has: tomllib lets these through as they are.
        raise InputFaults(
            [Fault(where, "", "holds a number or date that cannot be read", "ordinary numbers and dates")]
        ) from None


def _syntax_fault(message: str, where: str, text: str) -> Fault:
    """Turn the TOML reader's message into a fault with its line and column."""
    spot = re.search(r" \(at line (\d+), column (\d+)\)$", message)
    if spot is not None:
        message = message[: spot.start()]
        line, column = int(spot[1]), int(spot[2])
    else:
        message = message.removesuffix(" (at end of document)")
        line, column = text.count("\n") + 1, None
    message = re.sub(r"\((?:'[^']*'(?:, )?)+,?\)", _dotted, message)
    comma = _decimal_comma(text, line)
    if comma:
        return Fault(where, "", f"{comma} has a decimal comma", f"a point: {comma.replace(',', '.')}", line, column)
    problem = "is not valid TOML: " + safe(message[:1].lower() + message[1:])
    return Fault(where, "", problem, "key = value lines under [table] headings", line=line, column=column)


def _decimal_comma(text: str, line: int) -> str:
    """The number with a decimal comma that a whole line is about; '' where that is not what is wrong."""
    lines = text.splitlines()
    typed = lines[line - 1] if 0 < line <= len(lines) else ""
    found = re.fullmatch(r"\s*[\w-]+\s*=\s*(-?\d+,\d+)\s*(#.*)?", typed)
    return found[1] if found else ""


def _dotted(keys: re.Match[str]) -> str:
    """Write the reader's tuple of keys as a key path."""
    return ".".join(re.findall("'([^']*)'", keys[0]))
