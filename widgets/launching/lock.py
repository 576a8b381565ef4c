"""What the lock says: each package at its one version, for every system, with the fingerprint of each of its files.

The lock is made by a resolver (tests/move_the_lock.py) from all lists of requirements at once. Below each of its
entries stands who wants it, a list or another package; so what one list needs can be told from the rest.
"""

import re
from pathlib import Path

LOCK = "widgets/requirements.lock"

_NAME = re.compile(r"[A-Za-z0-9._-]+")
_WANTED_BY = re.compile(r"^    # (?:via |  )(\S.*)$", re.MULTILINE)


def entries(root: Path) -> "list[str]":
    """Return the lock's entries, each a few lines of text that pip can read."""
    text = (root / LOCK).read_text(encoding="utf-8")
    return re.split(r"^(?=[A-Za-z0-9])", text, flags=re.MULTILINE)[1:]


def name_of(entry: str) -> str:
    """Return the name of the package that an entry is for."""
    return _NAME.match(entry).group()


def entries_for(root: Path, requirements: "list[str]") -> "list[str]":
    """Return the entries that some lists need: what they name, and all that it pulls in."""
    left, wanted = entries(root), []
    reached = {f"-r {name}" for name in requirements}
    while True:
        found = [entry for entry in left if reached.intersection(_WANTED_BY.findall(entry))]
        if not found:
            return sorted(wanted)
        wanted += found
        left = [entry for entry in left if entry not in found]
        reached.update(map(name_of, found))
