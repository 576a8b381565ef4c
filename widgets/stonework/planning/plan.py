"""A plan: who locks up what, when, and how near it is to the best there can be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from stonework.lockup import Lockup
from stonework.planning.task import Task, Way
from stonework.planning.things import Thing


class Score(NamedTuple):
    """What plans are compared by, in this order: the less the better.

    ``extra`` is how many things are borrowed and changes made, ``largest`` the most pieces that one person handles.
    """

    shifts: int
    extra: int
    largest: int
    pieces: int


class Given(NamedTuple):
    """What one person is given: a lockup in a shift, counted from 0, and the way it is done."""

    task: Task
    shift: int
    way: Way
    lockup: Lockup
    pieces: int
    uses: Mapping[Thing, int]


@dataclass(frozen=True)
class Plan:
    """Who has what: one for each task but those in ``idle``, which can't be done in this shop even alone.

    ``bound`` is what no plan can be below; ``there`` what the shop has; ``done`` says that no more is looked for.
    """

    given: tuple[Given, ...]
    score: Score
    bound: Score
    there: Mapping[Thing, int]
    idle: tuple[Task, ...] = ()
    unsure: bool = False
    done: bool = False
    borrowed: Mapping[Thing, int] = field(default_factory=dict)

    @property
    def proved(self) -> bool:
        """Whether no plan is better."""
        return self.score == self.bound and not self.unsure

    @property
    def gap(self) -> float:
        """How far the plan may be from the best, as a part of it from 0 to 1: in the first figure where they differ."""
        for mine, least in zip(self.score, self.bound, strict=True):
            if mine != least:
                return (mine - least) / max(mine, 1)
        return 0.0

    def used(self, shift: int) -> Counter[Thing]:
        """Return what all of a shift take together."""
        used: Counter[Thing] = Counter()
        for one in self.given:
            if one.shift == shift:
                used.update(one.uses)
        return used

    def scarce(self, shift: int) -> frozenset[Thing]:
        """Return the things of which none is left over in a shift."""
        return frozenset(thing for thing, n in self.used(shift).items() if n >= self.there[thing])
