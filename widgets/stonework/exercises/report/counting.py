"""What a class got wrong: by question and by student, each kept answer judged again with the student's own number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from stonework.exercises.choose_furniture import lockup_slips
from stonework.exercises.chosen import EVERYTHING, Chosen
from stonework.exercises.judging import judged
from stonework.exercises.question import Question, Standing, Variant
from stonework.exercises.report.advice import Stand, next_step
from stonework.exercises.report.gathering import Gathered, Sheet
from stonework.exercises.report.kept import Kept
from stonework.shop import Shop


class Slip(NamedTuple):
    """What went wrong, how often, and with how many students."""

    words: str
    times: int
    students: int


@dataclass(slots=True)
class ByQuestion:
    """One question: how many students are asked it, how they stand, at which try it was right, and with what help.

    ``untold`` are right, but their sheets don't say at which try: older ones. ``hints`` and ``solutions`` are students.
    """

    question: Question
    asked: int = 0
    first: int = 0
    second: int = 0
    later: int = 0
    untold: int = 0
    not_yet: int = 0
    hints: int = 0
    solutions: int = 0
    _times: Counter[str] = field(default_factory=Counter)
    _students: Counter[str] = field(default_factory=Counter)

    @property
    def right(self) -> int:
        """How many students have it right."""
        return self.first + self.second + self.later + self.untold

    @property
    def open(self) -> int:
        """How many haven't answered it."""
        return self.asked - self.right - self.not_yet

    @property
    def slips(self) -> list[Slip]:
        """What went wrong, that of most students first."""
        met = [Slip(words, times, self._students[words]) for words, times in self._times.items()]
        return sorted(met, key=lambda slip: (-slip.students, -slip.times, slip.words))

    def count(self, standing: Standing, kept: Kept | None, slips: dict[str, int]) -> None:
        """Count one more student."""
        self.asked += 1
        if standing == "right":
            tries = {0: "untold", 1: "first", 2: "second"}.get(kept.right_at if kept else 0, "later")
            setattr(self, tries, getattr(self, tries) + 1)
        self.not_yet += standing == "not yet"
        self.hints += bool(kept and kept.hints)
        self.solutions += bool(kept and kept.solution)
        self._times.update(slips)
        self._students.update(slips.keys())


class ByStudent(NamedTuple):
    """One student: the number, how many questions are right of those asked, how many not yet, and what is next."""

    name: str
    number: int
    right: int
    not_yet: int
    asked: int
    next: str


class ClassReport(NamedTuple):
    """A class's answers, and what there is to say of them in sentences."""

    questions: tuple[ByQuestion, ...]
    students: tuple[ByStudent, ...]
    said: tuple[str, ...]


def class_report(
    gathered: Gathered,
    questions: Iterable[Question],
    shop: Shop,
    chosen: Chosen = EVERYTHING,
    told: Callable[[int], None] = lambda done: None,
) -> ClassReport:
    """Return what a class got right and wrong; ``told`` hears of every student that is done.

    A question that this shop's file gives no task for is asked of nobody. An answer that can't be judged, whatever
    its sheet makes of it, counts as not attempted.
    """

    @cache
    def made(question: Question, number: int) -> Variant:
        return question.variant(number, shop)

    said, asked = [*gathered.said, *filter(None, [str(chosen)])], []
    for question in chosen.asked(questions) if gathered.sheets else ():
        try:
            made(question, chosen.number_of(gathered.sheets[0].number))
        except ValueError as error:
            said.append(str(error))
        else:
            asked.append(ByQuestion(question))
    students = []
    for n, sheet in enumerate(gathered.sheets, 1):
        stands = []
        for one in asked:
            stand, kept, wrong = _stand(one.question, sheet, made, chosen)
            one.count(stand.standing, kept, stand.slips)
            stands.append(stand)
            said += wrong
        right, not_yet = (sum(stand.standing == kind for stand in stands) for kind in ("right", "not yet"))
        students.append(ByStudent(sheet.name, sheet.number, right, not_yet, len(stands), next_step(stands)))
        told(n)
    return ClassReport(tuple(asked), tuple(students), tuple(said))


def _stand(
    question: Question, sheet: Sheet, made: Callable[[Question, int], Variant], chosen: Chosen
) -> tuple[Stand, Kept | None, list[str]]:
    """Return how a student stands with a question, what the sheet keeps of it, and what there is to say."""
    kept = sheet.kept.get(chosen.key(question))
    if kept is None or kept.answer is None:
        return Stand(question), None, []
    try:
        variant = made(question, chosen.number_of(sheet.number))
        outcome = judged(question, variant, kept.answer)
    except Exception:  # whatever an answer from outside does to its judge, the others go on
        return Stand(question), None, [f"An answer of {sheet.name} to “{question.title}” can't be judged."]
    if outcome.standing == "not attempted":
        return Stand(question), None, []
    slips = {slip: times for slip, times in kept.slips.items() if slip in known_slips(variant)}
    if outcome.slip:
        slips.setdefault(outcome.slip, 1)  # an older sheet doesn't count them
    return Stand(question, outcome.standing, slips), kept, []


def known_slips(variant: Variant) -> set[str]:
    """Return the slips that a question tells apart: a sheet's own words are never taken over."""
    met = {misreading.slip for misreading in variant.misreadings}
    return met if variant.slip is None else met | lockup_slips()
