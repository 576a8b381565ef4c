"""What was read, fit to stand in a sentence that says what is wrong with it: on one line, and never too long."""

from __future__ import annotations

import reprlib
from typing import Any

_MOST = 60  # characters
_LARGEST = 10**30  # a whole number may have as many figures as a file has room for


def shown(text: str, most: int = _MOST) -> str:
    """Return what was written on one line, without signs that can't be seen, and not too long."""
    line = "".join(sign if sign.isprintable() else "�" for sign in " ".join(text[: 20 * most].split()))
    return line if len(line) <= most and len(text) <= 20 * most else f"{line[: most - 1]}…"


def shown_value(value: Any, most: int = _MOST) -> str:
    """Return a value from a file as Python writes it, short enough for a sentence."""
    return shown(_SHORT.repr(value), most)


class _Short(reprlib.Repr):
    def repr_int(self, x: int, level: int) -> str:
        if abs(x) <= _LARGEST:
            return repr(x)
        return f"more than {_LARGEST:.0e}" if x > 0 else f"less than -{_LARGEST:.0e}"


_SHORT = _Short()
_SHORT.maxstring = _SHORT.maxother = 2 * _MOST
_SHORT.maxlist = _SHORT.maxtuple = _SHORT.maxdict = 12
