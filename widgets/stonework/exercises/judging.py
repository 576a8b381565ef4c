"""How an answer that was kept stands today: it is judged again, never believed."""

from __future__ import annotations

from stonework.exercises.question import Outcome, Question, Variant
from stonework.exercises.record import Answer

BEGIN = Outcome("not attempted", "Nothing is answered yet.")
OLDER = Outcome(
    "not attempted",
    "What stands here was answered when this question read otherwise. Look at it again, then press Check.",
)


def judged(question: Question, variant: Variant, kept: Answer | None) -> Outcome:
    """Return how an answer stands; one to another task, or to an older lesson, counts as not attempted."""
    if kept is None:
        return BEGIN
    current = (kept.version, kept.mark) == (question.version, variant.mark)
    return variant.check(kept.text) if current else OLDER
