"""The sheets of a class: read from a folder or a zip, from whomever they come.

Nothing is ever unpacked to the disk, nothing but a plain file is opened, and whatever is wrong with one sheet is said
in a sentence while the others go on. The limits are this workbook's own figures.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from stonework.exercises.record import BIGGEST, read_record
from stonework.exercises.report.kept import Kept, kept_in
from stonework.exercises.report.packed import inside
from stonework.files import read_plain
from stonework.people import LONGEST, read_name
from stonework.people.before import SHEET
from stonework.people.names import plain
from stonework.saying import shown

LOOSE = ".answers.json"
"""How the name of a sheet ends that lies outside its person's folder."""
MOST_SHEETS = 400
MOST_BYTES = 64_000_000
"""All that is read of a class, in bytes, unpacked."""

_MOST_PLACES = 4000  # looked at in one folder
_MOST_ENTRIES = 1000  # taken over from one sheet
_MOST_SAID = 20
_HIGHEST = 10**9
_A_LINK = "can't be read: it is a link"
_NAMELESS = "no name yet"  # how the folder of whoever gave no name begins


class Sheet(NamedTuple):
    """One student's sheet: the name that it goes by, the student's number, and what is kept of each question.

    The name is empty as long as nobody has said whose sheet it is.
    """

    name: str
    number: int
    kept: dict[str, Kept]


class Gathered(NamedTuple):
    """The sheets of a class in the order of their names, and what there is to say of those that aren't used."""

    sheets: tuple[Sheet, ...] = ()
    said: tuple[str, ...] = ()


class _Found(NamedTuple):
    """Something that may be a sheet: where it lies, its bytes, and why it can't be read."""

    place: str
    data: bytes = b""
    wrong: str = ""


def read_folder(folder: str | Path) -> Gathered:
    """Return the sheets in a folder: each in its person's folder there, or loose."""
    path = Path(folder)
    try:
        with os.scandir(path) as entries:
            names = sorted(entry.name for entry, _ in zip(entries, range(_MOST_PLACES + 1), strict=False))
    except (OSError, ValueError) as error:  # a name can hold what no file's can
        reason = error.strerror if isinstance(error, OSError) else "it can't be the name of a folder"
        return Gathered(said=(f"The folder “{shown(str(folder), 80)}” can't be read: {reason}.",))
    return _sheets(_in_folder(path, names))


def read_zip(data: bytes) -> Gathered:
    """Return the sheets in a zip of such a folder."""
    return _sheets(_Found(*one) for one in inside(data, _is_sheet, BIGGEST))


def _is_sheet(name: str) -> bool:
    return name == SHEET or (name.endswith(LOOSE) and not name.startswith("."))


def _in_folder(folder: Path, names: list[str]) -> Iterator[_Found]:
    if len(names) > _MOST_PLACES:
        yield _Found("The folder", wrong="holds far more than a class's does, and not all of it was looked at")
    for name in names:
        path = folder / name
        if _is_sheet(name):
            yield _found(path, name)
        elif not name.startswith(".") and os.path.lexists(path / SHEET):
            # A folder that is a link may lead anywhere.
            yield _Found(name, wrong=_A_LINK) if path.is_symlink() else _found(path / SHEET, f"{name}/{SHEET}")


def _found(path: Path, place: str) -> _Found:
    try:
        return _Found(place, read_plain(path, BIGGEST, linked=False))
    except OSError as error:
        return _Found(place, wrong=f"can't be read: {error.strerror}")


def _sheets(found: Iterator[_Found]) -> Gathered:
    """Take over what was found until there is enough of it, and give each sheet a name of its own."""
    sheets: list[Sheet] = []
    said: list[str] = []
    nameless: list[str] = []
    named: Counter[str] = Counter()
    read = 0
    for one in found:
        read += len(one.data)
        if len(sheets) == MOST_SHEETS or read > MOST_BYTES:
            said.insert(0, f"Only {len(sheets)} sheets were read: what follows is more than one class can have.")
            break
        try:
            sheet = _sheet(one)
        except ValueError as error:
            said.append(f"{shown(one.place, 80)} {error}.")
            continue
        if not sheet.name:
            if any(kept.answer for kept in sheet.kept.values()):
                nameless.append(shown(_owner(one.place) or one.place, 80))
            continue
        named[sheet.name] += 1
        if (n := named[sheet.name]) > 1:
            said.append(f"{shown(one.place, 80)} bears the name {sheet.name} too: it is counted as another student's.")
            sheet = sheet._replace(name=f"{sheet.name} ({n})")
        sheets.append(sheet)
    if (more := len(said) - _MOST_SAID) > 0:
        said = [*said[:_MOST_SAID], f"And {more} more can't be used."]
    if nameless:
        said.insert(0, _told_of_nameless(nameless))
    return Gathered(tuple(sorted(sheets, key=lambda sheet: (plain(sheet.name), sheet.name))), tuple(said))


def _told_of_nameless(places: list[str]) -> str:
    """Say where answers lie of which nobody knows whose they are."""
    more = f" and {len(places) - _MOST_SAID} more" if len(places) > _MOST_SAID else ""
    listed = ", ".join(f"“{place}”" for place in places[:_MOST_SAID]) + more
    return (
        f"Answers without a name lie in {listed}: whoever they belong to gives their name on that machine. "
        "Until then they aren't counted."
    )


def _sheet(found: _Found) -> Sheet:
    if found.wrong:
        raise ValueError(found.wrong)
    record = read_record(found.data)
    if record["number"] > _HIGHEST:
        raise ValueError("bears a number that no student has")
    answers = list(record.get("answers", {}).items())[:_MOST_ENTRIES]
    return Sheet(_name(record, found.place), record["number"], {key: kept_in(entry) for key, entry in answers})


def _name(record: dict[str, Any], place: str) -> str:
    """Return the name that a sheet bears, or that of its folder or file; what can't be in a name is left out.

    Where nobody gave one, it is empty.
    """
    owner = _owner(place)
    for said in (record.get("name"), "" if owner.startswith(_NAMELESS) else owner):
        if not isinstance(said, str):
            continue
        letters = "".join(sign if sign.isalnum() else " " for sign in said[: 4 * LONGEST])
        for tried in (said, letters.strip()[:LONGEST]):
            try:
                return read_name(tried)
            except ValueError:
                continue
    return ""


def _owner(place: str) -> str:
    """Return whose a sheet is by where it lies: by its folder, or by its own file if that is loose."""
    *folders, file = place.replace("\\", "/").split("/")
    return file.removesuffix(LOOSE) if file != SHEET else "".join(folders[-1:])
