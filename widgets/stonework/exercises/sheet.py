"""The answer sheet: what a student has answered, kept in a file beside the lessons.

The file is JSON. It is written whole under another name and then swapped in, so that a power cut leaves the old
one or the new one. What isn't understood is kept as it is. A file that can't be read is set aside, never
overwritten, and the sheet says so.
"""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from stonework.files import plain_name, write_whole

SCHEMA = 1
FOLDER = "STONEWORK_ANSWERS"
"""An environment variable: the folder for answer sheets where the lessons' own can't be written to."""

_ENDING = ".answers.json"


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer as kept: what was answered, to which version of the lesson, and to which task."""

    text: str
    version: int
    mark: str


@dataclass
class AnswerSheet:
    """One student's answers, and the number that their questions are made from.

    ``said`` tells what went wrong with the file, in sentences; it is empty when all is well.
    """

    path: Path
    number: int = 0
    said: str = ""
    _record: dict[str, Any] = field(default_factory=dict, repr=False)
    _followers: list[Callable[[], None]] = field(default_factory=list, repr=False)

    def __repr__(self) -> str:
        return f"<answer sheet {self.name}>"

    def __str__(self) -> str:
        kept = f"Your answers are kept in {self.path.name}. Your number, which chooses your figures, is {self.number}."
        return f"{self.said} {kept}" if self.said else kept

    @classmethod
    def open(cls, name: str = "my", folder: str | Path | None = None) -> AnswerSheet:
        """Open the sheet of that name, or begin one with a number of its own.

        The folder is that of the lessons, or the one that the environment variable ``STONEWORK_ANSWERS`` names.
        Raises ``ValueError`` with a sentence for a name that can't be a file's or that leads out of the folder.
        """
        plain = plain_name(name, "an answer sheet")
        where = Path(folder if folder is not None else os.environ.get(FOLDER, "."))
        sheet = cls(where / f"{plain}{_ENDING}")
        usable = sheet._read()
        if not sheet.number:
            sheet.number = 1 + secrets.randbelow(9999)
            sheet._write(to_file=usable)
        return sheet

    @property
    def name(self) -> str:
        """The sheet's name, as it was asked for."""
        return self.path.name.removesuffix(_ENDING)

    def turn_to(self, name: str) -> None:
        """Become the sheet of another name in the same folder, and tell whoever follows.

        Raises ``ValueError`` with a sentence, and stays the sheet it is, for a name that ``open`` refuses.
        """
        other = AnswerSheet.open(name, self.path.parent)
        self.path, self.number, self.said, self._record = other.path, other.number, other.said, other._record
        for follow in self._followers:
            follow()

    def follow(self, follower: Callable[[], None]) -> None:
        """Call this whenever the sheet turns to another name."""
        self._followers.append(follower)

    def answer(self, question: str) -> Answer | None:
        """Return what was last answered to a question; ``None`` if nothing usable is kept."""
        kept = self._answers().get(question)
        if not isinstance(kept, dict):
            return None
        text, version, mark = (kept.get(key) for key in ("answer", "lesson", "task"))
        usable = isinstance(text, str) and _whole(version) and isinstance(mark, str)
        return Answer(text, version, mark) if usable else None

    def keep(self, question: str, answer: Answer, *, standing: str) -> None:
        """Keep an answer and how it stood. If the file can't be written, ``said`` tells."""
        # Another lesson may have kept an answer in the meantime.
        usable = self._read()
        answers = dict(self._answers())
        before = answers.get(question)
        answers[question] = {
            **(before if isinstance(before, dict) else {}),
            "answer": answer.text,
            "lesson": answer.version,
            "task": answer.mark,
            "standing": standing,
            "kept": datetime.now().astimezone().isoformat(timespec="minutes"),
        }
        self._record = {**self._record, "answers": answers}
        self._write(to_file=usable)

    def _answers(self) -> dict[str, Any]:
        answers = self._record.get("answers")
        return answers if isinstance(answers, dict) else {}

    def _read(self) -> bool:
        """Take up what the file holds now; set it aside if it can't be used. Say whether one may be written."""
        try:
            record = json.loads(self.path.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return True
        except OSError as error:
            self.said = (
                f"Your answer sheet {self.path.name} can't be read: {error.strerror}. It is left as it is, and what "
                "you answer now lasts until you close the lesson."
            )
            return False
        except (ValueError, RecursionError):
            return self._set_aside("is damaged and can't be read")
        if wrong := _wrong(record):
            return self._set_aside(wrong)
        self._record, self.number = record, record["number"]
        return True

    def _set_aside(self, why: str) -> bool:
        stamp = datetime.now().strftime("%Y%m%d-%H%M%S-%f")
        aside = self.path.with_name(f"{self.name} set aside {stamp}.json")
        try:
            os.replace(self.path, aside)
        except OSError as error:
            self.said = (
                f"Your answer sheet {self.path.name} {why}, and can't be set aside: {error.strerror}. It is left as it "
                "is, and what you answer now lasts until you close the lesson."
            )
            return False
        self.said = (
            f"Your answer sheet {self.path.name} {why}. Nothing is lost: it was set aside as {aside.name}, and a new "
            "one begun."
        )
        return True

    def _write(self, *, to_file: bool) -> None:
        """Write the whole file beside the old one, then put it in its place."""
        self._record = {**self._record, "schema": SCHEMA, "number": self.number, "answers": self._answers()}
        if not to_file:
            return
        try:
            write_whole(self.path, json.dumps(self._record, ensure_ascii=False, indent=1))
        except OSError as error:
            self.said = (
                f"Your answers can't be kept in {self.path.name}: {error.strerror}. You can work on; they last until "
                "you close the lesson."
            )


def _wrong(record: Any) -> str:
    """Say what keeps a record from being used, or nothing."""
    if not isinstance(record, dict) or not isinstance(record.get("answers", {}), dict):
        return "isn't an answer sheet"
    schema = record.get("schema")
    if not _whole(schema) or schema < 1:
        return "isn't an answer sheet"
    if schema > SCHEMA:
        return "was written by a newer workbook than this"
    number = record.get("number")
    return "" if _whole(number) and number >= 1 else "has lost its number"


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)
