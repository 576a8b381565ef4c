"""The answer key: every question worked, for any number."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from stonework.drawing.paper import pdf, short
from stonework.drawing.printed import Paragraph, print_pages
from stonework.exercises import LESSONS
from stonework.exercises.chosen import EVERYTHING, Chosen
from stonework.exercises.question import Question
from stonework.shop import Shop


class Worked(NamedTuple):
    """One question worked: its task, a right answer, the working, and why it matters.

    ``right`` is empty where this shop's file gives no task; then ``task`` says so. ``asked`` is false where the
    question is left out for the class.
    """

    question: Question
    task: str
    right: str = ""
    working: str = ""
    why: str = ""
    asked: bool = True

    @property
    def title(self) -> str:
        """The question's title, marked if the class isn't asked it."""
        return self.question.title if self.asked else f"{self.question.title} (left out for this class)"


def answer_key(number: int, questions: Iterable[Question], shop: Shop, chosen: Chosen = EVERYTHING) -> list[Worked]:
    """Return every question worked for a number, those that a class isn't asked too."""
    return [
        _worked(question, number, shop)._replace(asked=question.id not in chosen.left_out) for question in questions
    ]


def key_page(number: int, whose: str, worked: Iterable[Worked], shop: str, paper: str = "A4") -> bytes:
    """Return a key as a PDF. ``whose`` names the student whose number it is, if it is one's."""
    paragraphs: list[Paragraph] = []
    lesson = ""
    for one in worked:
        if one.question.lesson != lesson:
            lesson = one.question.lesson
            paragraphs.append(Paragraph(LESSONS[lesson].upper(), heading=True))
        paragraphs += [Paragraph(one.title, heading=True), Paragraph(one.task)]
        if one.right:
            told = (("Right", one.right), ("Working", one.working), ("Why", one.why))
            paragraphs += [Paragraph(f"{name}: {words}", inset=True) for name, words in told]
    title = f"Answer key: number {number}{f', {short(whose)}' if whose else ''}"
    told = f"{short(shop)}. For the instructor: another right answer may do as well; the workbook judges them all."
    return pdf("Answer key", print_pages(title, told, paragraphs, paper=paper))


def _worked(question: Question, number: int, shop: Shop) -> Worked:
    try:
        variant = question.variant(number, shop)
    except ValueError as error:
        return Worked(question, str(error))
    right, said = variant.right, variant.reader.say(variant.reader.read(variant.right))
    enough = variant.start is not None or said.endswith(right)  # a lockup's record is nothing to read
    told = said if enough else f"{right}, that is {said}"
    return Worked(question, variant.task, told, variant.solution, variant.why)
