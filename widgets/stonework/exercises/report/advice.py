"""What a student does next, and what isn't right yet, in sentences for the instructor."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stonework.exercises.question import Question, Standing


@dataclass(frozen=True, slots=True)
class Stand:
    """How a student stands with a question, and how often each slip was met on the way."""

    question: Question
    standing: Standing = "not attempted"
    slips: dict[str, int] = field(default_factory=dict)


def next_step(stands: Sequence[Stand]) -> str:
    """Say what to do next.

    First comes what went wrong in the same way again and again and isn't right yet, then what else isn't, then what
    isn't answered yet, in the order of the lessons.
    """
    open_still = [stand for stand in stands if stand.standing == "not yet"]
    again = max(open_still, key=_most, default=None)
    if again is not None and _most(again) > 1:
        return f"Back to {_place(again)}: {_times(_most(again))} {_worst(again)}."
    if open_still:
        met = _worst(open_still[0])
        return f"Back to {_place(open_still[0])}{f': {met}' if met else ''}."
    unanswered = next((stand for stand in stands if stand.standing == "not attempted"), None)
    if unanswered is None:
        return "All is right." if stands else "Nothing is asked."
    begun = any(stand.standing != "not attempted" for stand in stands)
    return f"{'Go on' if begun else 'Begin'} with {_place(unanswered)}."


def mistakes(stands: Sequence[Stand]) -> tuple[str, ...]:
    """Say what went wrong with each question that isn't right yet; that of the next step is first."""
    open_still = [stand for stand in stands if stand.standing == "not yet"]
    return tuple(_mistake(stand) for stand in sorted(open_still, key=lambda stand: -max(_most(stand), 1)))


def _mistake(stand: Stand) -> str:
    met = sorted(stand.slips.items(), key=lambda slip: (-slip[1], slip[0]))
    told = ", ".join(f"{_times(times)} {slip}" if times > 1 else slip for slip, times in met)
    return f"{_place(stand)}: {told or 'no known slip'}"


def _most(stand: Stand) -> int:
    return max(stand.slips.values(), default=0)


def _worst(stand: Stand) -> str:
    return max(stand.slips, key=lambda slip: (stand.slips[slip], slip), default="")


def _times(times: int) -> str:
    return "twice" if times == 2 else f"{times} times"


def _place(stand: Stand) -> str:
    return f"lesson {int(stand.question.lesson[:2])}, “{stand.question.title}”"
