"""Lockups kept in files: saved whole, and opened again or refused with the reason."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

from stonework.files import alone, plain_name, read_plain, write_whole
from stonework.lockup import Lockup
from stonework.people import here
from stonework.saying import shown, shown_value

VERSION = 3
_WHAT, ENDING = "stonework lockup", ".lockup.json"
_MOST = 8  # names that are told
_BIGGEST = 4_000_000  # bytes; a lockup of two thousand pieces takes a tenth of that


class Standing(NamedTuple):
    """Since which day a lockup stands, and in which shop: until it is put away it holds its wood, quoins and chase."""

    since: str
    shop: str


NOT_STANDING = Standing("", "")


def record_path(name: str, folder: str | Path | None = None) -> Path:
    """Return where the lockup of that name is kept; ``ValueError`` with a sentence for a name that is none.

    The folder is that of whoever works here, if none is given.
    """
    return Path(here().folder if folder is None else folder) / f"{plain_name(name, 'a lockup')}{ENDING}"


def save_lockup(lockup: Lockup, name: str, folder: str | Path | None = None, standing: Standing | None = None) -> Path:
    """Save a lockup under a name, in place of one of that name, and return the file; ``folder`` as in ``record_path``.

    One that stands goes on standing, unless ``standing`` says otherwise: ``NOT_STANDING``, or since when and where.
    Raises ``ValueError`` with a sentence for a name that can't be a file's, or if the file can't be written.
    """
    path = record_path(name, folder)
    record: dict[str, Any] = {"what": _WHAT, "version": VERSION, "lockup": lockup.to_dict()}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with alone(path.parent):
            mark = standing_of(path) if standing is None else standing
            if mark != NOT_STANDING:
                record["standing"] = mark._asdict()
            write_whole(path, json.dumps(record, ensure_ascii=False, indent=1))
    except OSError as error:
        raise ValueError(f"The lockup can't be saved as {path.name}: {error.strerror}.") from error
    return path


def standing_of(path: Path) -> Standing:
    """Return whether a saved lockup stands: ``NOT_STANDING`` if not, or if its file can't be read."""
    try:
        record = _record(path)
    except (OSError, ValueError):
        return NOT_STANDING
    mark = record.get("standing")
    if not isinstance(mark, dict) or not all(isinstance(mark.get(key), str) for key in Standing._fields):
        return NOT_STANDING
    return Standing(*(mark[key][:100] for key in Standing._fields))


def keep_beside(name: str, folder: str | Path | None = None) -> Path:
    """Keep the lockup of a name under a free one that is much like it, and return that file; raises ``OSError``."""
    path = record_path(name, folder)
    n = 2
    while (free := record_path(f"{name.strip()[:36]} {n}", folder)).exists():
        n += 1
    return path.rename(free)


def open_lockup(name: str, folder: str | Path | None = None) -> Lockup:
    """Open the lockup of that name; ``folder`` as in ``record_path``.

    Raises ``ValueError`` with a sentence: no such file, no lockup in it, or one of a newer workbook.
    """
    path = record_path(name, folder)
    try:
        return read_lockup(path)
    except FileNotFoundError as error:
        raise ValueError(
            f"No lockup is saved as “{shown(name)}”; save one first, or look at its name again.{_there(path.parent)}"
        ) from error
    except OSError as error:
        raise ValueError(f"{path.name} can't be read: {error.strerror}.") from error


def read_lockup(path: Path) -> Lockup:
    """Return the lockup in a file; ``ValueError`` with a sentence if there is none, ``OSError`` if it can't be read."""
    record = _record(path)
    version = record.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise ValueError(f"{path.name} says version {shown_value(version)}; a whole number from 1 was expected.")
    if version > VERSION:
        raise ValueError(f"{path.name} was saved by a newer workbook than this; open it there.")
    try:
        return Lockup.from_dict(record.get("lockup"))
    except ValueError as error:
        raise ValueError(f"{path.name}: {error}") from error


def _there(folder: Path) -> str:
    """Say which lockups are saved, a few of them."""
    try:
        names = sorted(path.name.removesuffix(ENDING) for path in folder.glob(f"*{ENDING}"))
    except OSError:
        return ""
    more = f" and {len(names) - _MOST} more" if len(names) > _MOST else ""
    return f" Saved are: {', '.join(f'“{name}”' for name in names[:_MOST])}{more}." if names else ""


def _record(path: Path) -> dict[str, Any]:
    try:
        record = json.loads(read_plain(path, _BIGGEST).decode("utf-8"))
    except (ValueError, RecursionError) as error:
        raise ValueError(
            f"{path.name} is damaged: it can't be read as a lockup. Save it again under that name."
        ) from error
    if not isinstance(record, dict) or record.get("what") != _WHAT:
        raise ValueError(f"{path.name} isn't a lockup of this workbook.")
    return record
