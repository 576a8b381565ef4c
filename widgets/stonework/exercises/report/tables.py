"""A class's answers as tables for other programs: CSV as RFC 4180 has it, cited from memory."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Any

from stonework.exercises.report.counting import ByQuestion, ByStudent, ClassReport

SAFE = "A cell that a spreadsheet would take for a formula is written with an apostrophe before it."
"""What is to be said beside every such table."""

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
_QUESTIONS = (
    *("lesson", "id", "question", "asked", "right", "right at the first try", "at the second", "later"),
    *("right, try not known", "not yet", "not answered", "took hints", "saw the solution", "what went wrong"),
)
_STUDENTS = ("name", "number", "asked", "right", "not yet", "not answered", "next", "what isn't right yet")


def by_question(report: ClassReport) -> bytes:
    """Return a row for each question."""
    return _table(_QUESTIONS, (_question(one) for one in report.questions))


def by_student(report: ClassReport) -> bytes:
    """Return a row for each student."""
    return _table(_STUDENTS, (_student(one) for one in report.students))


def _question(one: ByQuestion) -> Sequence[Any]:
    of = one.question
    counts = (one.asked, one.right, one.first, one.second, one.later, one.untold, one.not_yet, one.open)
    slips = "; ".join(
        f"{slip.words} (students: {slip.students}, times: {slip.times}): {', '.join(slip.names)}" for slip in one.slips
    )
    return (of.lesson, of.id, of.title, *counts, one.hints, one.solutions, slips)


def _student(one: ByStudent) -> Sequence[Any]:
    open_still = one.asked - one.right - one.not_yet
    return (one.name, one.number, one.asked, one.right, one.not_yet, open_still, one.next, "; ".join(one.mistakes))


def _table(head: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    sink = io.StringIO(newline="")
    writer = csv.writer(sink)
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return sink.getvalue().encode("utf-8-sig")  # without that mark some spreadsheets take it for another alphabet


def _cell(value: Any) -> Any:
    return f"'{value}" if isinstance(value, str) and value.startswith(_FORMULA) else value
