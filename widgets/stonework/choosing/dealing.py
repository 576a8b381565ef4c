"""Dealing: which of the cabinet's sticks go to which courses, the shortest that do."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from stonework.choosing.courses import Lengths, Place
from stonework.choosing.question import Key


class Wish(NamedTuple):
    """A course that wants sticks of one kind and thickness, from ``low`` to ``high`` long, both together for two ends.

    Two ends lie at ``place``, each shorter than ``below``; ``pair`` says which they are if that is settled.
    """

    low: int
    high: int
    place: Place | None = None
    below: int = 0
    pair: tuple[int, int] | None = None


class Unsure(Exception):
    """The cabinet may do, but that would take too long to find out."""


_PAIRS = 2000  # pairs of ends tried for one kind and thickness at most


def deal(lengths: Lengths, wishes: Sequence[Wish]) -> list[tuple[int, ...]] | None:
    """Return for every wish the length or the two lengths it gets; ``None`` if they can't all be met.

    Raises ``Unsure`` where there are too many pairs of ends to try.
    """
    left = Counter(dict(lengths))
    given: list[tuple[int, ...]] = [()] * len(wishes)
    settled = [n for n, wish in enumerate(wishes) if wish.pair]
    for n in settled:
        given[n] = wishes[n].pair or ()
        left.subtract(given[n])
    if left and min(left.values()) < 0:
        return None
    doubles = [n for n, wish in enumerate(wishes) if wish.place and not wish.pair]
    singles = [n for n, wish in enumerate(wishes) if not wish.place]
    tries = iter(range(_PAIRS))

    def ends(waiting: Sequence[int]) -> bool:
        """Give two ends to each course that wants them, shortest together first, as long as the singles get theirs."""
        if not _singles(singles, left, wishes, given):
            return False
        if not waiting:
            return True
        n, *others = waiting
        for pair in _pairs(wishes[n], left):
            if next(tries, None) is None:
                raise Unsure
            left.subtract(pair)
            given[n] = pair
            if ends(others):
                return True
            left.update(pair)
        return False

    return given if ends(doubles) else None


def _pairs(wish: Wish, left: Counter[int]) -> Iterator[tuple[int, int]]:
    there = tuple(sorted((length, count) for length, count in left.items() if count > 0))
    if wish.place is not None:
        pairs = wish.place.pairs(there, wish.below)
        yield from sorted((pair for pair in pairs if wish.low <= sum(pair) <= wish.high), key=sum)


def _singles(singles: Sequence[int], left: Counter[int], wishes: Sequence[Wish], given: list[tuple[int, ...]]) -> bool:
    """Give each its stick: of those that a stick is long enough for, the one that can't take a longer one first."""
    waiting = sorted(singles, key=lambda n: wishes[n].low, reverse=True)
    open_: list[tuple[int, int]] = []
    for length in sorted(length for length, count in left.items() if count > 0):
        while waiting and wishes[waiting[-1]].low <= length:
            n = waiting.pop()
            heapq.heappush(open_, (wishes[n].high, n))
        if open_ and open_[0][0] < length:
            return False
        for _ in range(min(left[length], len(open_))):
            given[heapq.heappop(open_)[1]] = (length,)
        if not open_ and not waiting:
            return True
    return not open_ and not waiting


class Course(NamedTuple):
    """A course with its sticks: their kind and thickness, and their lengths in the order in which they lie."""

    key: Key
    lengths: tuple[int, ...]

    @property
    def length(self) -> int:
        """How long it is, both ends together."""
        return sum(self.lengths)
