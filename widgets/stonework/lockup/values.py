"""Reading a record's plain values back, each checked as its name demands."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from stonework.saying import shown, shown_value
from stonework.units import LONGEST

MOST = 2000
"""The longest list in a record: more pieces than any chase holds; this workbook's own figure."""
LONGEST_WORD = 120
"""The longest word in a record, in characters; this workbook's own figure."""

_TOLD = 5  # keys that are named


def read_row(cls: type, entries: Any, what: str, one: str, **demands: Any) -> tuple[Any, ...]:
    """Read a list of tables into a tuple of dataclasses; ``demands`` as for ``read_one``."""
    if not isinstance(entries, list | tuple):
        raise ValueError(f"{what.capitalize()} were read as {shown_value(entries)}; a list was expected.")
    if len(entries) > MOST:
        raise ValueError(
            f"{what.capitalize()} are {len(entries)}; at most {MOST} were expected, more than any chase holds."
        )
    return tuple(read_one(cls, entry, f"{one} {n}", **demands) for n, entry in enumerate(entries, 1))


def read_one(
    cls: type,
    entry: Any,
    what: str,
    *,
    positive: tuple[str, ...] = (),
    at_least: tuple[str, ...] = (),
    whole: tuple[str, ...] = (),
    texts: tuple[str, ...] = (),
    choices: Mapping[str, tuple[str, ...]] | None = None,
    optional: tuple[str, ...] = (),
    leave: tuple[str, ...] = (),
) -> Any:
    """Build one dataclass from its table; each value is a number of points unless another demand names it.

    What is named in ``at_least`` may be nothing, what is ``whole`` counts from 1, ``texts`` are words, ``choices`` some
    of a few words. What is ``optional`` may be left out, and what is in ``leave`` isn't read, whether there or not.
    Raises ``ValueError``: a sentence that names the key and what was expected.
    """
    names = tuple(name for name in cls.__dataclass_fields__ if name not in (*optional, *leave))
    expect_keys(entry, what, names, optional=(*optional, *leave))
    values: dict[str, Any] = {}
    for name in (*names, *(name for name in optional if name in entry)):
        value, where = entry[name], f"{what}'s {name}"
        if choices and name in choices:
            read_word(value, where, choices[name])
        elif name in texts:
            read_word(value, where)
        elif name in whole:
            if not isinstance(value, int) or isinstance(value, bool) or not 1 <= value <= MOST:
                raise ValueError(
                    f"The {where} was read as {shown_value(value)}; a whole number from 1 to {MOST} was expected."
                )
        elif not isinstance(value, int | float) or isinstance(value, bool) or not _finite(value):
            raise ValueError(f"The {where} was read as {shown_value(value)}; a number of points was expected.")
        elif abs(value) > LONGEST:
            raise ValueError(
                f"The {where} was read as {shown_value(value)} points; nothing in a shop is longer than 100 feet."
            )
        elif name in positive and value <= 0:
            raise ValueError(f"The {where} was read as {shown_value(value)}; more than nothing was expected.")
        elif name in at_least and value < 0:
            raise ValueError(f"The {where} was read as {shown_value(value)}; nothing or more was expected.")
        values[name] = value
    return cls(**values)


def expect_keys(entry: Any, what: str, names: tuple[str, ...], *, optional: tuple[str, ...] = ()) -> None:
    """Refuse, by ``ValueError`` with a sentence, what is no table of these names."""
    if not isinstance(entry, Mapping):
        raise ValueError(f"{what.capitalize()} was read as {shown_value(entry)}; a table of named values was expected.")
    missing = [name for name in names if name not in entry]
    unknown = [str(key) for key in entry if key not in (*names, *optional)]
    if missing or unknown:
        wrong = (
            f"lacks {', '.join(missing)}"
            if missing
            else f"holds {shown(', '.join(unknown[:_TOLD]))}, which isn't known here"
        )
        raise ValueError(f"{what.capitalize()} {wrong}; expected: {', '.join(names)}.")


def read_word(value: Any, where: str, choices: tuple[str, ...] = ()) -> Any:
    """Return a word, one of the choices if there are some; ``ValueError`` with a sentence for anything else."""
    if choices and value not in choices:
        raise ValueError(f"The {where} was read as {shown_value(value)}; one of {', '.join(choices)} was expected.")
    if not isinstance(value, str):
        raise ValueError(f"The {where} was read as {shown_value(value)}; a word was expected.")
    if len(value) > LONGEST_WORD:
        raise ValueError(f"The {where} has {len(value)} characters; at most {LONGEST_WORD} were expected.")
    if not value.isprintable():
        raise ValueError(f"The {where} was read as {shown_value(value)}; signs that can be seen were expected.")
    return value


def _finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:  # a whole number too large for a float
        return False
