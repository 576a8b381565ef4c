"""How far a student has come, lesson by lesson, and whether the workbook itself is in order."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from stonework.drawing import PlanView
from stonework.exercises.attempt import Attempt
from stonework.exercises.chosen import Chosen, chosen_for
from stonework.exercises.judging import judged
from stonework.exercises.question import Question, Standing
from stonework.exercises.sheet import AnswerSheet
from stonework.shop import Shop, ShopFileError


class Progress(NamedTuple):
    """One lesson's questions by title, each with how it stands now."""

    lesson: str
    questions: tuple[tuple[str, Standing], ...]

    @property
    def right(self) -> int:
        """How many are answered right."""
        return sum(standing == "right" for _, standing in self.questions)


def progress(questions: Iterable[Question], shop: Shop, sheet: AnswerSheet) -> list[Progress]:
    """Return how every question that the student's class is asked stands, lesson by lesson.

    Kept answers are judged again: one to another task, or to an older lesson, counts as not attempted.
    """
    listed, chosen = list(questions), chosen_for(sheet)
    by_lesson: dict[str, list[tuple[str, Standing]]] = {question.lesson: [] for question in listed}
    for question in chosen.asked(listed):
        by_lesson[question.lesson].append((question.title, _standing(question, shop, sheet, chosen)))
    return [Progress(lesson, tuple(stands)) for lesson, stands in sorted(by_lesson.items())]


def _standing(question: Question, shop: Shop, sheet: AnswerSheet, chosen: Chosen) -> Standing:
    if sheet.answer(chosen.key(question)) is None:
        return "not attempted"
    try:
        attempt = Attempt(question, shop, sheet, chosen)
        standing = attempt.outcome.standing
        once = sheet.righted(chosen.key(question))
        return judged(question, attempt.variant, once).standing if standing == "not yet" and once else standing
    except ValueError:  # this shop's file has no numbers for it
        return "not attempted"


class Checked(NamedTuple):
    """One thing that the workbook needs, whether it is in order, and what to do if it isn't."""

    well: bool
    words: str


def check_workbook(shop_file: str | Path, sheet: AnswerSheet) -> list[Checked]:
    """Try what every lesson needs: Python, a picture, the shop file and the answer sheet."""
    found = [Checked(True, f"Python {sys.version_info.major}.{sys.version_info.minor} runs the lessons.")]
    found.append(_picture())
    try:
        found.append(Checked(True, f"The shop file can be read. {Shop.load(shop_file)}"))
    except ShopFileError as error:
        found.append(Checked(False, f"The shop file can't be used: {error} Put it right in a text editor."))
    kept = sheet.path.is_file() and not sheet.said
    found.append(Checked(kept, str(sheet) if kept else sheet.said or f"{sheet.path.name} isn't there."))
    return found


def _picture() -> Checked:
    try:
        drawn = PlanView("check").svg()
    except Exception as error:  # whatever is wrong with matplotlib here, the student is to hear of it in words
        return Checked(False, f"Pictures can't be drawn: {error}. Ask your instructor to set the workbook up again.")
    return Checked("<svg" in drawn, "Pictures can be drawn.")
