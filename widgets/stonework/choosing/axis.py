"""Two opposite sides taken together: where the form stands between them, and the stacks on both, best first."""

from __future__ import annotations

import heapq
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from functools import cached_property
from itertools import count
from typing import NamedTuple

from stonework.choosing.lazily import Lazily
from stonework.choosing.quoin_sides import QuoinSide
from stonework.choosing.sides import SolidSide
from stonework.choosing.stacks import MOST, PIECE, PLACE, POINT, QUOIN, Ordered, Stack


class Filled(NamedTuple):
    """A stack on each of two opposite sides, the solid side's gap, and what it all costs.

    It's said which stacks they are by their number, so that they needn't be chosen to know what they cost.
    """

    gap: int
    ones: Ordered
    others: Ordered
    which: tuple[int, int]
    cost: int

    @property
    def stacks(self) -> tuple[Stack, Stack]:
        """The solid side's stack and the other's."""
        one, other = self.ones.get(self.which[0]), self.others.get(self.which[1])
        assert one
        assert other
        return one, other


_Sum = tuple[int, int, int, int, int]
"""What it costs at least, by pieces, place and opening; and the total of each side and its cost in pieces."""


class Axis:
    """The ways to fill two opposite sides, best first, worked out as far as they are asked for."""

    def __init__(self, solid: SolidSide, quoins: QuoinSide, tick: Callable[[], None]) -> None:
        self.solid, self.quoins, self._tick = solid, quoins, tick
        self._levels = Lazily(self._by_pieces())
        self.ways = Lazily(self._best_first())

    def _rooms(self, gap: int) -> tuple[int, int]:
        """Return how little and how much wood the quoin side may have when the solid side's gap is this."""
        room = self.quoins.q.free(self.solid.side) - gap - self.quoins.closed
        return room - self.quoins.open, room

    def _possible(self) -> bool:
        totals, step = self.quoins.possible, self.quoins.sums.step
        for gap in self.solid.possible if totals else ():
            low, high = self._rooms(gap)
            if high >= 0 and (totals & ((2 << (high // step)) - 1)) >> max(0, -(-low // step)):
                return True
        return False

    @cached_property
    def least(self) -> int | None:
        """What no way costs less than, by what sums there are alone; ``None`` if there is no way."""
        first = self._levels.get(0)
        return first and min(cost for cost, *_ in first)

    def _by_pieces(self) -> Iterator[list[_Sum]]:
        """Yield the sums of both sides, fewest pieces first."""
        if self._possible():
            for pieces in range(self.solid.fewest + self.quoins.fewest, 2 * MOST + 1):
                level = list(self._sums(pieces))
                if level:
                    yield level

    def _best_first(self) -> Iterator[Filled]:
        for n in count():
            level = self._levels.get(n)
            if level is None:
                return
            yield from self._at(level)

    def _at(self, level: list[_Sum]) -> Iterator[Filled]:
        """Yield the ways that take so many pieces, best first."""
        heap: list[tuple[int, int, int, Iterator[Filled], Filled | None]] = []
        tie = count()
        for cost, gap, mine, total, theirs in level:
            ways = self._ways(cost - (mine + theirs) * PIECE, gap, mine, total, theirs)
            heap.append((cost, 1, next(tie), ways, None))
        heapq.heapify(heap)
        while heap:
            self._tick()
            _, _, _, ways, filled = heapq.heappop(heap)
            if filled is not None:
                yield filled
            following = next(ways, None)
            if following is not None:  # what is known goes before what may be as good
                heapq.heappush(heap, (following.cost, 0, next(tie), ways, following))

    def _ways(self, base: int, gap: int, mine: int, total: int, theirs: int) -> Iterator[Filled]:
        ones = self.solid.stacks(gap, mine)
        if ones.least is None:
            return
        others = self.quoins.stacks(total, theirs)
        for which, cost in paired(ones, others):
            yield Filled(gap, ones, others, which, base + cost)

    def _sums(self, pieces: int) -> Iterator[_Sum]:
        """Yield the sums for so many pieces on both sides."""
        aim, base = self.solid.q.aim(self.solid.side), (self.quoins.row.missing + pieces) * PIECE
        for mine in range(max(self.solid.fewest, pieces - MOST), min(pieces - self.quoins.fewest, MOST) + 1):
            gaps = self.solid.totals(mine)
            totals = self.quoins.totals(pieces - mine) if gaps else []
            for gap in gaps if totals else ():
                little, much = self._rooms(gap)
                place = max(0, abs(gap - aim) - POINT) // POINT * PLACE
                for total in totals[bisect_left(totals, little) : bisect_right(totals, much)]:
                    opening = abs(much - total - self.quoins.rest) // POINT * QUOIN
                    yield base + place + opening, gap, mine, total, pieces - mine


def paired(ones: Ordered, others: Ordered) -> Iterator[tuple[tuple[int, int], int]]:
    """Yield the numbers of every pair of two rows of stacks, least cost first and then least wood, and their cost."""
    if ones.least is None or others.least is None:
        return
    heap: list[tuple[int, int, int, int]] = [(ones.least + others.least, 0, 0, 0)]

    def push(i: int, j: int) -> None:
        one, other = ones.get(i), others.get(j)
        if one and other:
            heapq.heappush(heap, (one.cost + other.cost, one.wood + other.wood, i, j))

    while heap:
        cost, _, i, j = heapq.heappop(heap)
        yield (i, j), cost
        push(i, j + 1)
        if j == 0:
            push(i + 1, 0)
