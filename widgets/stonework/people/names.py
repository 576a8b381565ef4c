"""People's names as they write them, and which of them may be meant for one another."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher

from stonework.files import is_device

LONGEST = 60
"""The longest name, in characters; this workbook's own figure."""

_MARKS = " '’.-·,()"  # what a name may have beside letters, digits and the accents on them
_ALIKE = 0.8  # of two names, the share of letters in common from which one may be meant for the other; our own figure


def read_name(text: str) -> str:
    """Return a person's name as it is kept: composed, with single spaces.

    Raises ``ValueError`` with a sentence for what can't be one.
    """
    name = " ".join(unicodedata.normalize("NFC", text).split())
    if not name:
        raise ValueError("Write your name into the box first.")
    if len(name) > LONGEST:
        raise ValueError(f"That name has {len(name)} characters; write one of at most {LONGEST}.")
    wrong = next((sign for sign in name if sign not in _MARKS and unicodedata.category(sign)[0] not in "LMN"), None)
    if wrong is not None:
        told = f"“{wrong}”" if wrong.isprintable() else "a sign that can't be seen"
        raise ValueError(f"A name can't have {told} in it; write it in letters, digits, spaces, and ' . , - ( ).")
    if unicodedata.category(name[0])[0] not in "LN":
        raise ValueError(f"A name begins with a letter or a digit, and “{name}” doesn't.")
    return name


def plain(name: str) -> str:
    """Return what a name comes to without capitals, accents, marks and spaces, to be compared."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    kept = "".join(sign for sign in letters if unicodedata.category(sign)[0] in "LN")
    return kept or letters


def near(name: str, known: Iterable[str]) -> list[str]:
    """Return the known names that a name may be meant for, nearest first; not the name itself."""

    def alike(other: str) -> float:
        one, two = plain(name), plain(other)
        swapped = len(one) > 2 and sorted(one) == sorted(two)
        return 1.0 if swapped else SequenceMatcher(None, one, two, autojunk=False).ratio()

    found = sorted(((alike(other), other) for other in known if other != name), key=lambda one: (-one[0], one[1]))
    return [other for likeness, other in found if likeness >= _ALIKE]


def as_folder(name: str) -> str:
    """Return a name as that of a folder on any machine: Windows takes no dot at the end, and none of its devices."""
    kept = name.rstrip(" .")
    return f"{kept} -" if is_device(kept) else kept
