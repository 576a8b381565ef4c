"""What a class got wrong: by question and by student, each kept answer judged again with the student's own number."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from stonework.exercises.choose_furniture import lockup_slips
from stonework.exercises.chosen import EVERYTHING, Chosen
from stonework.exercises.judging import judged
from stonework.exercises.question import Question, Standing, Variant
from stonework.exercises.report.advice import Stand, mistakes, next_step
from stonework.exercises.report.gathering import Gathered
from stonework.exercises.report.kept import Kept
from stonework.shop import Shop


class Slip(NamedTuple):
    """What went wrong, how often, and with whom, whether they have it right by now or not."""

    words: str
    times: int
    names: tuple[str, ...]

    @property
    def students(self) -> int:
        """With how many students it went wrong."""
        return len(self.names)


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
    _names: defaultdict[str, list[str]] = field(default_factory=lambda: defaultdict(list))

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
        met = [Slip(words, times, tuple(self._names[words])) for words, times in self._times.items()]
        return sorted(met, key=lambda slip: (-slip.students, -slip.times, slip.words))

    def count(self, name: str, standing: Standing, kept: Kept | None, slips: dict[str, int]) -> None:
        """Count one more student."""
        self.asked += 1
        if standing == "right":
            tries = {0: "untold", 1: "first", 2: "second"}.get(kept.right_at if kept else 0, "later")
            setattr(self, tries, getattr(self, tries) + 1)
        self.not_yet += standing == "not yet"
        self.hints += bool(kept and kept.hints)
        self.solutions += bool(kept and kept.solution)
        self._times.update(slips)
        for slip in slips:
            self._names[slip].append(name)


class ByStudent(NamedTuple):
    """One student: the number, how many questions are right of those asked, how many not yet, and what is next.

    ``mistakes`` says what went wrong with each question that isn't right yet.
    """

    name: str
    number: int
    right: int
    not_yet: int
    asked: int
    next: str
    mistakes: tuple[str, ...] = ()

    @property
    def told(self) -> tuple[str, ...]:
        """What isn't right yet, in one sentence of a line for each; if there is nothing, what is next."""
        if not self.mistakes:
            return (self.next,)
        *lines, last = self.mistakes
        first, *rest = (*(f"{line};" for line in lines), f"{last}.")
        return (f"Back to {first}", *rest)


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

    A question that this shop's file gives a student no task for isn't asked of that student. An answer that can't be
    judged, whatever its sheet makes of it, counts as not attempted.
    """

    @lru_cache(maxsize=100)  # with one number for all, each is made once
    def made(question: Question, number: int) -> Variant:
        return question.variant(number, shop)

    counted = [ByQuestion(question) for question in chosen.asked(questions)]
    said, unmade, students = [*gathered.said, *_told_of(chosen)], {}, []
    for n, sheet in enumerate(gathered.sheets, 1):
        stands = []
        for one in counted:
            try:
                variant = made(one.question, chosen.number_of(sheet.number))
            except ValueError as error:
                unmade[one.question.id] = str(error)
                continue
            kept = _of_task(sheet.kept.get(chosen.key(one.question)), one.question, variant)
            try:
                stand = _stand(one.question, variant, kept)
            except Exception:  # whatever an answer from outside does to its judge, the others go on
                stand = Stand(one.question)
                said.append(f"An answer of {sheet.name} to “{one.question.title}” can't be judged.")
            one.count(sheet.name, stand.standing, kept, stand.slips)
            stands.append(stand)
        right, not_yet = (sum(stand.standing == kind for stand in stands) for kind in ("right", "not yet"))
        told_of = (next_step(stands), mistakes(stands))
        students.append(ByStudent(sheet.name, sheet.number, right, not_yet, len(stands), *told_of))
        told(n)
    asked = tuple(one for one in counted if one.asked)
    said += [words for name, words in unmade.items() if name not in {one.question.id for one in asked}]
    return ClassReport(asked, tuple(students), tuple(said))


def _told_of(chosen: Chosen) -> list[str]:
    """Return what the instructor is to know of what is chosen for the class."""
    said = [chosen.said] if chosen.said else []
    if chosen.number is not None:
        said.append(f"Number {chosen.number} is set for all, and only what was answered with it is counted.")
    return said


def _of_task(kept: Kept | None, question: Question, variant: Variant) -> Kept | None:
    """Return what is kept, if that is about this task: with another number, or in an older lesson, it isn't."""
    return kept if kept and (kept.version, kept.mark) == (question.version, variant.mark) else None


def _stand(question: Question, variant: Variant, kept: Kept | None) -> Stand:
    """Return how a student stands with a question."""
    outcome = judged(question, variant, kept.answer if kept else None)
    if kept is None or outcome.standing == "not attempted":
        return Stand(question)
    slips = {slip: times for slip, times in kept.slips.items() if slip in known_slips(variant)}
    if outcome.slip:
        slips.setdefault(outcome.slip, 1)  # an older sheet doesn't count them
    return Stand(question, outcome.standing, slips)


def known_slips(variant: Variant) -> set[str]:
    """Return the slips that a question tells apart: a sheet's own words are never taken over."""
    met = {misreading.slip for misreading in variant.misreadings}
    return met if variant.slip is None else met | lockup_slips()
