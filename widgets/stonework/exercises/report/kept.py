"""What a sheet keeps of one question, taken over with care: the sheet may come from anywhere."""

from __future__ import annotations

from typing import Any, NamedTuple

from stonework.exercises.record import Answer, answer_in, count, righted_in, whole

_HIGHEST = 999  # nobody tries a question more often
_MOST_SLIPS, _LONGEST_SLIP = 50, 80


class Kept(NamedTuple):
    """The last answer, or the last right one, how often one was given, at which try first right, the help, the slips.

    ``version`` and ``mark`` say to which version of the lesson, and to which task.
    """

    version: int
    mark: str
    answer: Answer | None
    tries: int
    right_at: int
    hints: int
    solution: bool
    slips: dict[str, int]


def kept_in(entry: Any) -> Kept:
    """Return what an entry keeps; what is missing or makes no sense counts as nothing."""
    if not isinstance(entry, dict):
        return Kept(0, "", None, 0, 0, 0, False, {})
    answer = answer_in(entry)
    right = righted_in(entry)
    if answer is not None and right is not None:
        answer = right
    tries, right_at, hints = (min(count(entry.get(key)), _HIGHEST) for key in ("tries", "right at", "hints"))
    version, mark = entry.get("lesson"), entry.get("task")
    return Kept(
        version if whole(version) else 0,
        mark if isinstance(mark, str) else "",
        answer,
        *(tries, right_at, hints, entry.get("solution") is True),
        _slips(entry.get("slips")),
    )


def _slips(slips: Any) -> dict[str, int]:
    if not isinstance(slips, dict):
        return {}
    listed = list(slips.items())[:_MOST_SLIPS]
    return {slip: min(count(times), _HIGHEST) for slip, times in listed if len(slip) <= _LONGEST_SLIP and count(times)}
