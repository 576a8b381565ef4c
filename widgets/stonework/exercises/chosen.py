"""What an instructor has chosen for a class: one number for all, for a demonstration, and questions left out.

It is kept in a small file in the class's folder for work. A file that can't be read changes nothing: every question is
asked, with everyone's own number.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stonework.exercises.question import Question
from stonework.exercises.record import whole
from stonework.exercises.sheet import AnswerSheet
from stonework.files import read_plain, write_whole
from stonework.saying import shown

FILE = "class.json"
HIGHEST = 9999
"""The highest number that a class can be given: students' own go as far."""

_SCHEMA, _MOST = 1, 100_000  # bytes


@dataclass(frozen=True, slots=True)
class Chosen:
    """One number for all, or none, and the ids of the questions left out.

    ``said`` tells what is wrong with the file, in a sentence; it is empty when all is well.
    """

    number: int | None = None
    left_out: frozenset[str] = frozenset()
    said: str = ""

    def __str__(self) -> str:
        if self.number is None:
            return self.said
        return f"Your instructor has set number {self.number} for all. What you answered with your own is kept."

    def number_of(self, own: int) -> int:
        """Return the number that questions are made from, for whoever has this one."""
        return own if self.number is None else self.number

    def key(self, question: Question) -> str:
        """Return what answers are kept under: those to a number set for all never take the place of one's own."""
        return question.id if self.number is None else f"{question.id}, number {self.number}"

    def asked(self, questions: Iterable[Question]) -> list[Question]:
        """Return the questions that are asked."""
        return [question for question in questions if question.id not in self.left_out]


EVERYTHING = Chosen()
"""Every question, with everyone's own number."""


def chosen_for(sheet: AnswerSheet) -> Chosen:
    """Return what is chosen for the class of whoever has this sheet: their folder lies in the class's."""
    return read_chosen(sheet.path.parent.parent)


def read_chosen(work: Path) -> Chosen:
    """Return what is chosen for the class that has this folder for work."""
    path = work / FILE
    if not path.is_file():
        return EVERYTHING
    try:
        return _read(json.loads(read_plain(path, _MOST).decode("utf-8")))
    except (OSError, ValueError, RecursionError):
        return Chosen(
            said=f"The file {FILE}, in which your instructor chooses questions, can't be read. So every question is "
            "asked, with your own number."
        )


def keep_chosen(work: Path, chosen: Chosen) -> None:
    """Keep what is chosen for a class; ``ValueError`` with a sentence if it can't be written."""
    record = {"schema": _SCHEMA, "number": chosen.number, "left out": sorted(chosen.left_out)}
    try:
        work.mkdir(parents=True, exist_ok=True)
        write_whole(work / FILE, json.dumps(record, indent=1))
    except OSError as error:
        raise ValueError(f"This can't be kept in {FILE} in {work.name}: {error.strerror}.") from error


def read_number(text: str) -> int | None:
    """Return a number for all as it is typed, or ``None`` for nothing; ``ValueError`` with a sentence."""
    plain = text.strip()
    if not plain:
        return None
    if not (plain.isascii() and plain.isdecimal() and len(plain) <= len(str(HIGHEST)) and int(plain)):
        raise ValueError(f"“{shown(plain, 40)}” isn't a number from 1 to {HIGHEST}; write one, or nothing.")
    return int(plain)


def _read(record: Any) -> Chosen:
    if not isinstance(record, dict) or record.get("schema") != _SCHEMA:
        raise ValueError("no class's choice")
    number, left_out = record.get("number"), record.get("left out", [])
    known = number is None or (whole(number) and 1 <= number <= HIGHEST)
    if not known or not isinstance(left_out, list) or not all(isinstance(one, str) for one in left_out):
        raise ValueError("no class's choice")
    return Chosen(number, frozenset(left_out))
