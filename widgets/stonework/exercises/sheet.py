"""The answer sheet: what a student has answered, kept in a file in the student's folder.

The file is JSON. Every change is made to what the file holds at that moment, with everybody else kept out: so pages
and machines that share a sheet lose nothing of each other. A file that can't be read is set aside, never overwritten,
and the sheet says so.
"""

from __future__ import annotations

import errno
import json
import os
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from stonework.exercises.record import (
    BIGGEST,
    SCHEMA,
    Answer,
    Help,
    Try,
    answer_in,
    read_record,
    righted_in,
    with_help,
    with_try,
)
from stonework.files import alone, free_beside, read_plain, write_whole
from stonework.people import here, name_on
from stonework.people.before import SHEET

Change = tuple[str, Callable[[Any], dict[str, Any]]]
"""A question, and what is done to its entry."""


@dataclass
class AnswerSheet:
    """One student's answers, and the number that their questions are made from.

    ``said`` tells what went wrong with the file, in sentences; it is empty when all is well.
    """

    path: Path
    number: int = 0
    said: str = ""
    _record: dict[str, Any] = field(default_factory=dict, repr=False)
    _unsaved: list[Change] = field(default_factory=list, repr=False)
    _followers: list[Callable[[], None]] = field(default_factory=list, repr=False)

    def __repr__(self) -> str:
        return "<answer sheet>"

    def __str__(self) -> str:
        where = (
            f"in {self.path.parent.name}/{self.path.name}" if name_on(self.path.parent) else "and wait for your name"
        )
        kept = f"Your answers are kept {where}. Your number, which chooses your figures, is {self.number}."
        return f"{self.said} {kept}" if self.said else kept

    @classmethod
    def open(cls, folder: str | Path) -> AnswerSheet:
        """Open the sheet in a person's folder, or begin one with a number of its own."""
        sheet = cls(Path(folder) / SHEET)
        sheet._change([])
        return sheet

    @classmethod
    def mine(cls) -> AnswerSheet:
        """Open the sheet of whoever works here; it becomes another's when somebody else does."""
        sheet = cls.open(here().folder)
        here().follow(sheet._turn)
        return sheet

    def follow(self, follower: Callable[[], None]) -> None:
        """Call this whenever the sheet becomes another's."""
        self._followers.append(follower)

    def answer(self, question: str) -> Answer | None:
        """Return what was last answered to a question; ``None`` if nothing usable is kept."""
        return answer_in(self._answers().get(question))

    def righted(self, question: str) -> Answer | None:
        """Return the last answer that was found right, if there was one: trying again costs nobody what they know."""
        return righted_in(self._answers().get(question))

    def keep(self, question: str, answer: Answer, *, standing: str, slip: str = "") -> None:
        """Keep one more answer and how it stood. If the file can't be written, ``said`` tells."""
        known = self.answer(question)
        made, day, seen = Try(answer, standing, slip), date.today().isoformat(), known and known.text
        self._change([(question, lambda entry: with_try(entry, made, day, seen))])

    def note(self, question: str, taken: Help) -> None:
        """Keep which hints were taken. If the file can't be written, ``said`` tells."""
        self._change([(question, lambda entry: with_help(entry, taken))])

    def _turn(self) -> None:
        other = AnswerSheet.open(here().folder)
        self.path, self.number, self.said, self._record = other.path, other.number, other.said, other._record
        self._unsaved = other._unsaved
        for follow in self._followers:
            follow()

    def _answers(self) -> dict[str, Any]:
        answers = self._record.get("answers")
        return answers if isinstance(answers, dict) else {}

    def _change(self, changes: list[Change]) -> None:
        """Make changes to what the file holds now; those that can't be written are made again with the next."""
        self._unsaved += changes
        self.said = ""
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with alone(self.path.parent):
                usable, fresh = self._read()
                before = fresh and self._record
                self._make(self._unsaved if fresh else changes)  # what is at hand has those made before
                if usable:
                    if self._record != before:
                        write_whole(self.path, json.dumps(self._record, ensure_ascii=False, indent=1))
                    self._unsaved = []
        except OSError as error:
            self._make(changes)
            self.said = (
                f"Your answers can't be kept in {self.path.name}: {error.strerror}. You can work on; they last until "
                "you close the lesson."
            )

    def _make(self, changes: list[Change]) -> None:
        """Make changes to the record at hand."""
        self.number = self.number or 1 + secrets.randbelow(9999)
        answers = dict(self._answers())
        for question, change in changes:
            answers[question] = change(answers.get(question))
        self._record = {**self._record, "schema": SCHEMA, "number": self.number, "answers": answers}
        if name := name_on(self.path.parent):
            self._record["name"] = name  # for a sheet that is handed in without its folder

    def _read(self) -> tuple[bool, bool]:
        """Take up what the file holds now; set it aside if it can't be used.

        Returns whether one may be written, and whether what is at hand was read just now.
        """
        if not self.path.exists():
            return True, False
        try:
            data = read_plain(self.path, BIGGEST)
        except OSError as error:
            if error.errno == errno.EFBIG:
                return self._set_aside("is far too long for an answer sheet"), False
            self.said = self._left(f"can't be read: {error.strerror}")
            return False, False
        try:
            record = read_record(data)
        except ValueError as error:
            return self._set_aside(str(error)), False
        self._record, self.number = record, record["number"]
        return True, True

    def _set_aside(self, why: str) -> bool:
        aside = free_beside(self.path.with_name(f"set aside {date.today().isoformat()}.json"))
        try:
            os.replace(self.path, aside)
        except OSError as error:
            self.said = self._left(f"{why}, and can't be set aside: {error.strerror}")
            return False
        self.said = (
            f"Your answer sheet {self.path.name} {why}. Nothing is lost: it was set aside as {aside.name}, and a new "
            "one begun."
        )
        return True

    def _left(self, why: str) -> str:
        return (
            f"Your answer sheet {self.path.name} {why}. It is left as it is, and what you answer now lasts until you "
            "close the lesson."
        )
