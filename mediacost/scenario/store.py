"""Writes scenario files without ever losing one: comments kept, a temporary file first, then a replace.

A file that somebody else changed since it was read is not overwritten, and neither is one that was not read
at all, unless told so.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from mediacost.errors import CannotSave, ChangedOnDisk, InputFaults
from mediacost.scenario.checking import check
from mediacost.scenario.reading import Draft, ScenarioFile, fingerprint_of
from mediacost.scenario.upgrades import CURRENT_FORMAT
from mediacost.scenario.values import on_one_line


def write_file(
    path: str | os.PathLike[str], data: Mapping[str, Any], base: Draft | None, overwrite: bool = False
) -> ScenarioFile:
    """Save a scenario and return the file as it is now.

    `data` is the whole document; `base` is the file as it was read, whose comments and layout are kept (None
    for a new file). Raises `InputFaults` if the data are no scenario (see `write_draft`), `ChangedOnDisk` if
    the file was changed since `base` was read, `CannotSave` for everything else; the old file is then intact.
    """
    checked = check(data, str(path))
    if checked.scenario is None:
        raise InputFaults(checked.faults)
    draft = write_draft(path, data, base, overwrite)
    return ScenarioFile(
        draft.path, draft.text, draft.data, draft.fingerprint, draft.faults, draft.warnings, checked.scenario
    )


def write_draft(
    path: str | os.PathLike[str], data: Mapping[str, Any], base: Draft | None, overwrite: bool = False
) -> Draft:
    """Save a document that may still have faults, so that no work is lost; else as `write_file`."""
    asked = Path(path)
    text, content = _text_of(data, base, asked)
    target = _target(asked)
    _refuse_to_overwrite(asked, target, base, overwrite)
    _replace_content(asked, target, content, base, overwrite)
    checked = check(data, str(path))
    return Draft(asked, text, plain_data(data), fingerprint_of(content), checked.faults, checked.warnings)


def plain_data(value: Any) -> Any:
    """Return data as dicts and lists of their own."""
    if isinstance(value, Mapping):
        return {key: plain_data(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_data(inner) for inner in value]
    return value


def _text_of(data: Mapping[str, Any], base: Draft | None, asked: Path) -> tuple[str, bytes]:
    """Return the text to be written, and its bytes."""
    from mediacost.scenario.merging import merged_text

    try:
        whole = plain_data({"format": CURRENT_FORMAT, **data})
        text = merged_text(base.text if base is not None else "", whole)
        return text, text.encode("utf-8")
    except (ValueError, TypeError, RecursionError) as error:
        raise CannotSave(f"{_named(asked)} cannot be saved: it holds a value that a file cannot keep") from error


def _named(path: Path) -> str:
    return on_one_line(str(path))


def _target(asked: Path) -> Path:
    """Return the file that is really written: where a link points to."""
    try:
        return asked.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise CannotSave(f"{_named(asked)} cannot be saved: its name leads nowhere") from error


# Permission ---------------------------------------------------------------------------------------


def _refuse_to_overwrite(asked: Path, target: Path, base: Draft | None, overwrite: bool) -> None:
    """Raise if the file on disk is not ours to replace."""
    try:
        status = target.stat()
    except FileNotFoundError:
        return
    except (OSError, ValueError) as error:
        raise _cannot_save(asked, error) from error
    if not stat.S_ISREG(status.st_mode):
        raise CannotSave(f"{_named(asked)} cannot be saved: it is not an ordinary file; choose another name")
    if not status.st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH) or not os.access(target, os.W_OK):
        raise CannotSave(f"{_named(asked)} is write-protected; save under another name, or lift the protection")
    if overwrite:
        return
    if base is None or base.path is None or base.path.resolve() != target:
        raise CannotSave(f"{_named(asked)} exists already; choose another name, or confirm that it may be replaced")
    if _fingerprint_on_disk(asked, target) != base.fingerprint:
        raise ChangedOnDisk(
            f"{_named(asked)} was changed by another program since it was opened; "
            "save under another name, or open it again"
        )


def _fingerprint_on_disk(asked: Path, target: Path) -> str:
    try:
        return fingerprint_of(target.read_bytes())
    except OSError as error:
        raise _cannot_save(asked, error) from error


_REASONS = {
    errno.ENOSPC: "the disk is full; free some space, or save elsewhere",
    errno.EDQUOT: "your share of the disk is full; free some space, or save elsewhere",
    errno.EACCES: "the folder may not be written to; save elsewhere",
    errno.EPERM: "the folder may not be written to; save elsewhere",
    errno.EROFS: "the disk is read-only; save elsewhere",
    errno.ENOENT: "the folder does not exist; save elsewhere",
    errno.ENAMETOOLONG: "the name is too long; choose a shorter one",
}


def _cannot_save(asked: Path, error: BaseException) -> CannotSave:
    number = error.errno if isinstance(error, OSError) else None
    reason = _REASONS.get(number or 0) or getattr(error, "strerror", None) or "its name cannot be used"
    return CannotSave(f"{_named(asked)} could not be saved: {reason}. What was there before is unchanged.")


# Replacing ----------------------------------------------------------------------------------------


def _replace_content(asked: Path, target: Path, content: bytes, base: Draft | None, overwrite: bool) -> None:
    """Write beside the target, flush to the disk, then take the target's place."""
    try:
        with _temporary_beside(target) as temporary:
            _write_through(temporary, content)
            _refuse_to_overwrite(asked, target, base, overwrite)
            temporary.replace(target)
    except (OSError, ValueError) as error:
        raise _cannot_save(asked, error) from error
    _flush_folder(target.parent)


@contextlib.contextmanager
def _temporary_beside(target: Path) -> Iterator[Path]:
    """Make an empty file in the folder of the target, and take care that it does not stay.

    It has the permissions of the target, or those that any new file gets.
    """
    temporary = target.with_name(f".{target.name[:40]}.{secrets.token_hex(6)}.part")
    mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else None
    os.close(os.open(temporary, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666 if mode is None else mode))
    try:
        if mode is not None:
            temporary.chmod(mode)
        yield temporary
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)


def _write_through(path: Path, content: bytes) -> None:
    with path.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    if path.read_bytes() != content:
        raise OSError(errno.EIO, "the disk did not keep what was written")


def _flush_folder(folder: Path) -> None:
    """Make the replace itself last; not every system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
