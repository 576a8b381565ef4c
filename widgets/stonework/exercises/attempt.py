"""One student at one question: the answer, how it stands, the hints taken, and what the sheet remembers."""

from __future__ import annotations

from stonework.exercises.chosen import Chosen, chosen_for
from stonework.exercises.judging import judged
from stonework.exercises.question import Question
from stonework.exercises.record import Answer, Help
from stonework.exercises.sheet import AnswerSheet
from stonework.shop import Shop


class Attempt:
    """A question with a student's numbers in it, taken up where the answer sheet left off.

    An answer kept for another version of the lesson, or for other numbers, comes back as text alone. ``chosen`` is
    what is chosen for the student's class, if that is known already.
    """

    def __init__(self, question: Question, shop: Shop, sheet: AnswerSheet, chosen: Chosen | None = None) -> None:
        self.question, self.sheet = question, sheet
        self.chosen = chosen_for(sheet) if chosen is None else chosen
        self._key = self.chosen.key(question)
        self.variant = question.variant(self.chosen.number_of(sheet.number), shop)
        self.hints: tuple[str, ...] = ()
        self.solved = False
        kept = sheet.answer(self._key)
        self.text = kept.text if kept else ""
        self._checked = self.text
        self.outcome = judged(question, self.variant, kept)

    @property
    def stale(self) -> bool:
        """Whether the answer has changed since it was judged."""
        return self.outcome.standing != "not attempted" and self.text != self._checked

    @property
    def words(self) -> str:
        """How the answer stands, in sentences."""
        if self.stale:
            return f"Your answer has changed: press Check. About the one before: {self.outcome.words}"
        return "Press Check when your answer is complete." if self.text != self._checked else self.outcome.words

    def check(self) -> None:
        """Judge the answer as it is now, and keep it."""
        self.outcome = self.variant.check(self.text)
        self._checked = self.text
        if self.outcome.standing != "not attempted":  # nonsense mustn't take the place of an answer
            answer = Answer(self.text, self.question.version, self.variant.mark)
            self.sheet.keep(self._key, answer, standing=self.outcome.standing, slip=self.outcome.slip)

    def hint(self) -> None:
        """Show one more hint, if there is one."""
        self.hints = self.variant.hints[: len(self.hints) + 1]
        self._note()

    def solve(self) -> None:
        """Show the solution, or hide it again."""
        self.solved = not self.solved
        if self.solved:
            self._note()

    def _note(self) -> None:
        self.sheet.note(self._key, Help(self.question.version, self.variant.mark, len(self.hints), self.solved))
