"""The folders of those who work here, one each, and the names that they go by."""

from __future__ import annotations

import contextlib
import json
import os
import unicodedata
from pathlib import Path

from stonework.files import alone, read_plain, write_whole
from stonework.people.names import as_folder, read_name

WORK = "STONEWORK_WORK"
"""An environment variable: the folder for everybody's work where the lessons' own can't serve, or isn't shared."""

_CARD, _WHAT = "person.json", "stonework person"
_BEGUN = ".beginning"  # a folder that isn't anybody's yet
_LAUNCHER = "workbook.py"  # it lies where the lessons are


def work_folder() -> Path:
    """Return the folder for everybody's work: as ``STONEWORK_WORK`` says, or ``work`` beside the lessons."""
    said = os.environ.get(WORK)
    if said:
        return Path(said)
    try:
        here = Path.cwd()
    except FileNotFoundError:  # it was moved or deleted under us; the shell knows where it lay
        here = Path(os.environ.get("PWD", "."))
    return next((folder for folder in (here, *here.parents) if (folder / _LAUNCHER).is_file()), here) / "work"


class People:
    """Everybody who has a folder in the folder for work."""

    def __init__(self, work: str | Path | None = None) -> None:
        self.work = work_folder() if work is None else Path(work)

    def folders(self) -> dict[str, Path]:
        """Return everybody's folder by their name, in the order of the names."""
        found: dict[str, Path] = {}
        with contextlib.suppress(OSError):
            for folder in sorted(self.work.iterdir()):
                name = name_on(folder) if folder.name != _BEGUN else ""
                if name:
                    found.setdefault(name, folder)
        return dict(sorted(found.items(), key=lambda one: (one[0].casefold(), one[0])))

    def begin(self, name: str, moved: Path | None = None) -> Path:
        """Give a new person a folder, or the one that they have; ``moved`` is one that becomes theirs.

        Raises ``ValueError`` with a sentence for what can't be a name, ``OSError`` if there can't be a folder.
        """
        name = read_name(name)
        if (there := self.folders().get(name)) is not None:  # though nobody may write in the folder for work
            return there
        self.work.mkdir(parents=True, exist_ok=True)
        with alone(self.work):
            if (there := self.folders().get(name)) is not None:  # begun meanwhile
                return there
            folder = self._free(as_folder(name))
            begun = moved if moved is not None and moved.is_dir() else self.work / _BEGUN
            begun.mkdir(exist_ok=True)
            # The card first: a power cut leaves no folder that is nobody's.
            write_whole(begun / _CARD, json.dumps({"what": _WHAT, "name": name}, ensure_ascii=False))
            os.replace(begun, folder)
        return folder

    def _free(self, wanted: str) -> Path:
        """Return a folder that isn't there yet: to some machines Ana and ana are one."""
        taken = {unicodedata.normalize("NFC", folder.name).casefold() for folder in self.work.iterdir()}
        n, name = 1, wanted
        while name.casefold() in taken:
            n += 1
            name = f"{wanted} {n}"
        return self.work / name


def name_on(folder: Path) -> str:
    """Return the name on a folder's card; the folder's own if the card is lost; nothing if it is nobody's."""
    card = folder / _CARD
    if not card.is_file():
        return ""
    try:
        return read_name(json.loads(read_plain(card, 10_000).decode("utf-8"))["name"])
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        with contextlib.suppress(ValueError):
            return read_name(folder.name)
        return ""
