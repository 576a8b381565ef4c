"""What older workbooks kept beside the lessons, found and moved to where it belongs."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from stonework.files import alone, free_beside
from stonework.people.folders import WORK, People

OLDER = "STONEWORK_ANSWERS"
"""The environment variable that named a folder for answer sheets in older workbooks."""

SHEET = "answers.json"
"""The name of an answer sheet in its person's folder."""

_SHEETS, _LOCKUPS, _BENCHES = ".answers.json", ".lockup.json", ".bench.json"
_NOBODY = "my"  # the sheet of whoever gave no name
_SHARED = "from before"


def move_in(people: People, folder: Path) -> str:
    """Move older sheets to the folders of their names, and what bears none to ``folder``; say so in sentences.

    Lockups were kept without a name. Where several people had sheets nobody can tell whose they are: those are put in
    a folder of their own.
    """
    moved: list[str] = []
    wrong: list[str] = []
    for place in _older_places(people):
        sheets = _ending(place, _SHEETS)
        named = [sheet for sheet in sheets if _stem(sheet, _SHEETS) != _NOBODY]
        try:
            for sheet in sheets:
                name = _stem(sheet, _SHEETS)
                theirs = folder if name == _NOBODY else people.begin(name.replace("_", " "))
                moved.append(_move(sheet, theirs, SHEET))
            shared = people.work / _SHARED if len(named) > 1 or (named and len(sheets) > 1) else folder
            for ending in (_LOCKUPS, _BENCHES):
                moved += [_move(file, shared, file.name) for file in _ending(place, ending)]
        except (OSError, ValueError) as error:
            reason = error.strerror if isinstance(error, OSError) else str(error)
            wrong.append(f"What an older workbook kept in {place.name} can't all be moved: {reason}.")
    moved = [*filter(None, moved)]
    if not moved:
        return " ".join(wrong)
    count = (
        f"{len(moved)} files that an older workbook kept" if len(moved) > 1 else "A file that an older workbook kept"
    )
    told = f"{count} beside the lessons {'were' if len(moved) > 1 else 'was'} moved: {_listed(moved)}."
    return " ".join([told, *wrong])


def _older_places(people: People) -> list[Path]:
    """Return where older workbooks kept work: beside the lessons, and where they were told to."""
    said = os.environ.get(OLDER)
    places = [Path(said)] if said else []
    if not os.environ.get(WORK):
        places.insert(0, people.work.parent)
    return places


def _ending(place: Path, ending: str) -> list[Path]:
    try:
        return sorted(path for path in place.iterdir() if path.name.endswith(ending) and path.is_file())
    except OSError:
        return []


def _stem(path: Path, ending: str) -> str:
    return path.name.removesuffix(ending)


def _move(file: Path, folder: Path, name: str) -> str:
    """Move a file into a folder, beside one of its name if there is one; return where it lies now.

    Returns nothing if another page has moved it meanwhile.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with alone(folder):
        if not file.exists():
            return ""
        free = free_beside(folder / name)
        shutil.move(file, free)  # it may lie on another disk
    return f"{folder.parent.name}/{folder.name}/{free.name}"


def _listed(moved: list[str]) -> str:
    return ", ".join(moved[:4]) + (f" and {len(moved) - 4} more" if len(moved) > 4 else "")
