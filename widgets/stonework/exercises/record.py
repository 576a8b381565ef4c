"""What an answer sheet holds: of every question the tries, the hints taken, what went wrong, the first and last answer.

Of time it holds the day and no more. What isn't understood is kept as it is.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

SCHEMA = 1
BIGGEST = 8_000_000
"""The largest sheet that is read, in bytes: every question answered with a whole lockup takes a tenth of that."""
LONGEST = 20_000
"""The longest answer that is taken up again, in characters: ten times a lockup's record."""

_OF_TASK = {"answer", "standing", "kept", "first", "tries", "right at", "hints", "solution", "slips", "others", "right"}
_MOST_OTHERS = 20  # answers given meanwhile in another window that are kept for a question


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer as kept: what was answered, to which version of the lesson, and to which task."""

    text: str
    version: int
    mark: str


@dataclass(frozen=True, slots=True)
class Try:
    """One try at a question: the answer, how it stood, and which misreading was met, if any."""

    answer: Answer
    standing: str
    slip: str = ""


@dataclass(frozen=True, slots=True)
class Help:
    """What was taken at a question: how many of its hints, and whether its solution was shown."""

    version: int
    mark: str
    hints: int
    solution: bool


def read_record(data: bytes) -> dict[str, Any]:
    """Return the record that a sheet holds.

    Raises ``ValueError`` with the end of a sentence: what is the matter with it.
    """
    if len(data) > BIGGEST:
        raise ValueError("is far too long for an answer sheet")
    try:
        record = json.loads(data.decode("utf-8"))
    except (ValueError, RecursionError) as error:
        raise ValueError("is damaged and can't be read") from error
    if not isinstance(record, dict) or not isinstance(record.get("answers", {}), dict):
        raise ValueError("isn't an answer sheet")
    schema, number = record.get("schema"), record.get("number")
    if not whole(schema) or schema < 1:
        raise ValueError("isn't an answer sheet")
    if schema > SCHEMA:
        raise ValueError("was written by a newer workbook than this")
    if not whole(number) or number < 1:
        raise ValueError("has lost its number")
    return record


def with_try(entry: Any, made: Try, day: str, seen: str | None) -> dict[str, Any]:
    """Return a question's entry with one more try.

    ``seen`` is the answer that this page knew of: another one was given in another window meanwhile, and is kept
    beside this one, if it says something else.
    """
    answer = made.answer
    kept = _of_task(entry, answer.version, answer.mark)
    before = kept.get("answer")
    tries = count(kept.get("tries")) + 1
    kept |= {
        "answer": answer.text,
        "standing": made.standing,
        "kept": day,
        "first": kept.get("first", answer.text),
        "tries": tries,
    }
    if made.standing == "right":
        kept.setdefault("right at", tries)
        kept["right"] = answer.text
    if made.slip:
        slips = kept.get("slips")
        slips = dict(slips) if isinstance(slips, dict) else {}
        kept["slips"] = {**slips, made.slip: count(slips.get(made.slip)) + 1}
    if before is not None and before not in (seen, answer.text):
        others = kept.get("others")
        kept["others"] = [*(others if isinstance(others, list) else []), before][-_MOST_OTHERS:]
    return kept


def with_help(entry: Any, taken: Help) -> dict[str, Any]:
    """Return a question's entry with the hints taken; never fewer than were taken before."""
    kept = _of_task(entry, taken.version, taken.mark)
    kept["hints"] = max(count(kept.get("hints")), taken.hints)
    if taken.solution:
        kept["solution"] = True
    return kept


def answer_in(entry: Any) -> Answer | None:
    """Return what was last answered; ``None`` if nothing usable is kept."""
    if not isinstance(entry, dict):
        return None
    text, version, mark = (entry.get(key) for key in ("answer", "lesson", "task"))
    usable = isinstance(text, str) and len(text) <= LONGEST and whole(version) and isinstance(mark, str)
    return Answer(text, version, mark) if usable else None


def righted_in(entry: Any) -> Answer | None:
    """Return the last answer that was found right, whatever was answered after it; ``None`` if there is none."""
    last = answer_in(entry)
    text = entry.get("right") if last else None
    usable = isinstance(text, str) and len(text) <= LONGEST
    return Answer(text, last.version, last.mark) if last and usable else None


def whole(value: Any) -> bool:
    """Say whether a value is a whole number."""
    return isinstance(value, int) and not isinstance(value, bool)


def count(value: Any) -> int:
    """Return a value as a count; nothing for what is none."""
    return value if whole(value) and value > 0 else 0


def _of_task(entry: Any, version: int, mark: str) -> dict[str, Any]:
    """Return an entry as far as it is about this task: with other numbers, or in a newer lesson, one begins anew."""
    kept: Mapping[str, Any] = entry if isinstance(entry, dict) else {}
    if (kept.get("lesson"), kept.get("task")) == (version, mark):
        return dict(kept)
    return {key: value for key, value in kept.items() if key not in _OF_TASK} | {"lesson": version, "task": mark}
