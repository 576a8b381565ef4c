"""Lockups kept in files: saved whole, and opened again or refused with the reason."""

from __future__ import annotations

import json
from pathlib import Path

from stonework.files import plain_name, write_whole
from stonework.lockup import Lockup
from stonework.people import here

VERSION = 3
_WHAT, ENDING = "stonework lockup", ".lockup.json"


def record_path(name: str, folder: str | Path | None = None) -> Path:
    """Return where the lockup of that name is kept; ``ValueError`` with a sentence for a name that is none.

    The folder is that of whoever works here, if none is given.
    """
    return Path(here().folder if folder is None else folder) / f"{plain_name(name, 'a lockup')}{ENDING}"


def save_lockup(lockup: Lockup, name: str, folder: str | Path | None = None) -> Path:
    """Save a lockup under a name, in place of one of that name, and return the file; ``folder`` as in ``record_path``.

    Raises ``ValueError`` with a sentence for a name that can't be a file's, or if the file can't be written.
    """
    path = record_path(name, folder)
    record = {"what": _WHAT, "version": VERSION, "lockup": lockup.to_dict()}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps(record, ensure_ascii=False, indent=1))
    except OSError as error:
        raise ValueError(f"The lockup can't be saved as {path.name}: {error.strerror}.") from error
    return path


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
        record = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError as error:
        raise ValueError(
            f"No lockup is saved as “{name.strip()}”; save one first, or look at its name again."
        ) from error
    except OSError as error:
        raise ValueError(f"{path.name} can't be read: {error.strerror}.") from error
    except (ValueError, RecursionError) as error:
        raise ValueError(
            f"{path.name} is damaged: it can't be read as a lockup. Save it again under that name."
        ) from error
    if not isinstance(record, dict) or record.get("what") != _WHAT:
        raise ValueError(f"{path.name} isn't a lockup of this workbook.")
    version = record.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise ValueError(f"{path.name} says version {version!r}; a whole number from 1 was expected.")
    if version > VERSION:
        raise ValueError(f"{path.name} was saved by a newer workbook than this; open it there.")
    try:
        return Lockup.from_dict(record.get("lockup"))
    except ValueError as error:
        raise ValueError(f"{path.name}: {error}") from error
