"""What a question is: a task made from a number, the answers it takes, and what it says to each.

An answer is text, as a student gives it: typed, picked from a list, or the record of a lockup. It is kept as
text too, so that it is read again by whatever the question is by then.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import combinations
from typing import Generic, Literal, Protocol, TypeVar

from stonework.drawing.picture import Picture
from stonework.exercises.numbers import Numbers
from stonework.laying import Bench
from stonework.saying import shown
from stonework.shop import Shop
from stonework.units import read_length, read_weight, write_length, write_weight

_LONGEST_SHOWN = 60

Standing = Literal["not attempted", "not yet", "right"]
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Outcome:
    """How an answer stands, and the sentences that say so; ``slip`` names the misreading that was met, if any."""

    standing: Standing
    words: str
    slip: str = ""


@dataclass(frozen=True, slots=True)
class Misreading:
    """A known wrong road: the answer one comes to by it, and the sentence that meets it.

    ``slip`` says in a few words what went wrong, the same for every number: under it answers are counted.
    """

    answer: str
    sentence: str
    slip: str


class Reader(Protocol[Value]):
    """How an answer is read, compared and said."""

    label: str

    def read(self, text: str) -> Value:
        """Return what was answered; ``ValueError`` with a sentence if it can't be read."""

    def alike(self, one: Value, other: Value) -> bool:
        """Say whether two answers come to the same."""

    def say(self, value: Value) -> str:
        """Return the answer in words."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length in any unit, as near as ``tolerance`` points."""

    tolerance: float = 1.0
    label: str = "Your answer, with its unit"

    def read(self, text: str) -> float:
        """Return points."""
        return read_length(text)

    def alike(self, one: float, other: float) -> bool:
        """Say whether two lengths agree to within the tolerance."""
        return abs(one - other) <= self.tolerance + 1e-6

    def say(self, value: float) -> str:
        """Return picas and points."""
        return write_length(value)


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight in any unit, as near as ``share`` of the other."""

    share: float = 0.05
    label: str = "Your answer, in lb, oz or kg"

    def read(self, text: str) -> float:
        """Return pounds."""
        return read_weight(text)

    def alike(self, one: float, other: float) -> bool:
        """Say whether two weights agree to within the share."""
        return abs(one - other) <= self.share * max(one, other)

    def say(self, value: float) -> str:
        """Return pounds and kilograms."""
        return write_weight(value)


@dataclass(frozen=True, slots=True)
class Count:
    """How many of something."""

    label: str = "How many"

    def read(self, text: str) -> int:
        """Return the number."""
        count = re.fullmatch(r"(?:row )?(\d{1,9})( [a-z ]+)?", text.strip().lower())
        if count is None:
            raise ValueError(f"“{shown(text, 40)}” isn't a count; write a whole number, like 3.")
        return int(count[1])

    def alike(self, one: int, other: int) -> bool:
        """Say whether it is as many."""
        return one == other

    def say(self, value: int) -> str:
        """Return the number."""
        return str(value)


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few things offered in a list."""

    options: tuple[str, ...]
    label: str = "Your answer"

    def read(self, text: str) -> str:
        """Return the thing itself."""
        if text not in self.options:
            raise ValueError(
                f"“{shown(text)}” isn't offered here; choose one of {shown(', '.join(self.options), 180)}."
            )
        return text

    def alike(self, one: str, other: str) -> bool:
        """Say whether it is the same thing."""
        return one == other

    def say(self, value: str) -> str:
        """Return the thing itself."""
        return value


@dataclass(frozen=True)
class Variant(Generic[Value]):
    """A question with its numbers in it.

    ``right`` is one right answer as a student would give it; ``why`` says why it matters at the stone.
    Where there are many right answers, ``sound`` returns what is wrong with one, or nothing, and ``remark`` what
    could be better in a right one, or nothing; ``slip`` names what went wrong where no misreading does. A question
    about a lockup has a ``start``: what lies on the stone to begin with. ``facts`` are the task's lengths by name, in
    points.
    """

    task: str
    reader: Reader[Value]
    right: str
    why: str
    hints: tuple[str, ...]
    solution: str
    misreadings: tuple[Misreading, ...]
    picture: Callable[[str], Picture] | None = None
    sound: Callable[[Value], str] | None = None
    remark: Callable[[Value], str] | None = None
    slip: Callable[[Value], str] | None = None
    start: Callable[[], Bench] | None = None
    facts: dict[str, float] = field(default_factory=dict)

    @property
    def mark(self) -> str:
        """A short mark of the task: an answer kept with another mark answered another question."""
        return hashlib.sha256(f"{self.task}|{self.right}".encode()).hexdigest()[:12]

    def check(self, answer: str) -> Outcome:
        """Say how an answer stands. What can't be read hasn't been attempted yet, and is told why."""
        if not answer.strip():
            return Outcome("not attempted", "Nothing is answered yet. Answer first, then press Check.")
        try:
            value = self.reader.read(answer)
        except ValueError as error:
            return Outcome("not attempted", str(error))
        fault, said = self._fault(value), self.reader.say(value)
        if fault is None:
            more = self.remark(value) if self.remark else ""
            return Outcome("right", f"Right: {said}. {self.why} {more}".rstrip())
        written = answer.strip()
        more_said = written != said and not said.startswith(f"{written} ")
        if more_said and len(written) <= _LONGEST_SHOWN:  # a lockup's record is nothing to read
            said = f"{written}, that is {said}"
        for misreading in self.misreadings:
            if self.reader.alike(value, self.reader.read(misreading.answer)):
                return Outcome("not yet", f"Not yet. You answered {said}. {misreading.sentence}", misreading.slip)
        told = fault or "That isn't it; a hint may show where to begin."
        return Outcome("not yet", f"Not yet. You answered {said}. {told}", self.slip(value) if self.slip else "")

    def _fault(self, value: Value) -> str | None:
        """Return ``None`` for a right answer, else what is wrong with it, if the question can say."""
        if self.sound is not None:
            return self.sound(value) or None
        return None if self.reader.alike(value, self.reader.read(self.right)) else ""

    @property
    def clear(self) -> bool:
        """Whether right is right, and every misreading wrong and told apart from the others and the right answer."""
        roads = [self.reader.read(misreading.answer) for misreading in self.misreadings]
        right = self.reader.read(self.right)
        return (
            self._fault(right) is None
            and all(self._fault(road) is not None and not self.reader.alike(road, right) for road in roads)
            and not any(self.reader.alike(one, other) for one, other in combinations(roads, 2))
        )


@dataclass(frozen=True)
class Question:
    """A question by its id, which never changes: answers are kept under it.

    ``make`` makes a variant from a row of numbers and the shop, or nothing if these numbers give none.
    """

    id: str
    title: str
    lesson: str
    version: int
    make: Callable[[Numbers, Shop], Variant | None]

    def variant(self, seed: int, shop: Shop) -> Variant:
        """Return the variant of a seed: the first of its rows of numbers whose wrong roads are all apart.

        Raises ``ValueError`` if this shop's file gives none.
        """
        for attempt in range(_MOST_ATTEMPTS):
            variant = self.make(Numbers(self.id, seed, attempt), shop)
            if variant is not None and variant.clear:
                return variant
        raise ValueError(
            f"The question “{self.title}” can't be made from this shop's file: none of {_MOST_ATTEMPTS} tries with the "
            "type, leads, wood and quoins that it lists gave a clear task."
        )


_MOST_ATTEMPTS = 200


def of_lesson(
    lesson: str, version: int, *asked: tuple[str, str, Callable[[Numbers, Shop], Variant | None]]
) -> tuple[Question, ...]:
    """Return the questions of one lesson from their ids, titles and makers."""
    return tuple(Question(name, title, lesson, version, make) for name, title, make in asked)
