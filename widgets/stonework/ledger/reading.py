"""Looking at the ledger: every lockup in everybody's folder that says it stands."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from stonework.ledger.holding import Form
from stonework.lockup import Lockup
from stonework.people import People, here, name_on
from stonework.records import ENDING, NOT_STANDING, Standing, read_lockup, standing_of
from stonework.shop import Shop


class Ledger(NamedTuple):
    """The forms that stand in a shop, the oldest first, and in sentences which files couldn't be read."""

    forms: tuple[Form, ...]
    said: str = ""

    def others(self, person: str, name: str) -> tuple[Form, ...]:
        """Return the forms but a person's own of that name: one that stands already doesn't stand in its own way."""
        return tuple(form for form in self.forms if (form.person, form.name) != (person, name))


_READ: dict[Path, tuple[tuple[int, ...], Standing, Lockup | None]] = {}  # what a file held when it was last changed


def look(shop: Shop, people: People | None = None) -> Ledger:
    """Read which forms stand in a shop now."""
    people = people or here().people
    forms: list[Form] = []
    unread: list[str] = []
    for folder in _folders(people.work):
        for path in _lockups(folder):
            standing, lockup = _read(path)
            if standing.shop != shop.name:
                continue
            if lockup is None:
                unread.append(f"{folder.name}/{path.name} says that it stands, and can't be read.")
            else:
                mine = folder.resolve() == here().folder.resolve()
                forms.append(Form(name_on(folder), path.name.removesuffix(ENDING), standing.since, lockup, mine))
    return Ledger(tuple(sorted(forms, key=lambda form: (form.since, form.person, form.name))), " ".join(unread))


def _folders(work: Path) -> list[Path]:
    try:
        return sorted(folder for folder in work.iterdir() if folder.is_dir() and not folder.name.startswith("."))
    except OSError:
        return []


def _lockups(folder: Path) -> list[Path]:
    try:
        return sorted(path for path in folder.iterdir() if path.name.endswith(ENDING) and path.is_file())
    except OSError:
        return []


def _read(path: Path) -> tuple[Standing, Lockup | None]:
    try:
        found = path.stat()
    except OSError:  # put away at this moment
        return NOT_STANDING, None
    # The time alone won't do: a clock may be set back.
    changed = (found.st_ino, found.st_mtime_ns, found.st_ctime_ns, found.st_size)
    if path not in _READ or _READ[path][0] != changed:
        standing, lockup = standing_of(path), None
        if standing != NOT_STANDING:
            try:
                lockup = read_lockup(path)
            except (OSError, ValueError):
                lockup = None
        _READ[path] = changed, standing, lockup
    return _READ[path][1:]
