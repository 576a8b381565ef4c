"""Which pieces, laid side by side, make up a total, and how few of them do: exact sums for all that reckons with them.

Sizes are whole numbers (the solver's hundredths of a point). A set of totals is one Python integer whose bit n says
that n steps can be made, so a whole set moves by one shift.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import count
from typing import NamedTuple


def grid(points: float) -> int:
    """Return whole hundredths of a point."""
    return round(points * 100)


class Size(NamedTuple):
    """One size: its thickness, what one piece of it costs (1 or more), and how many there are, without end perhaps."""

    thickness: int
    cost: int
    most: float


def places(bits: int, low: int = 0, high: int | None = None) -> Iterator[int]:
    """Yield the places of the bits set, from low to high."""
    low = max(0, low)
    if high is not None:
        bits &= (1 << max(0, high + 1)) - 1
    bits >>= low
    while bits:
        least = bits & -bits
        yield low + least.bit_length() - 1
        bits ^= least


class Sums:
    """The totals, up to ``top``, that some sizes make, by what they cost.

    Position i stands for the sizes from i on. ``step`` divides every size, and whatever ``others`` are to be added to
    the totals.
    """

    def __init__(self, sizes: Sequence[Size], top: int, others: Sequence[int] = ()) -> None:
        self.sizes, self.top, self.others = sizes, top, others
        self.step = math.gcd(*(size.thickness for size in sizes), *others) or 1
        self.full = (1 << (max(0, top) // self.step + 1)) - 1
        self._shifts = [size.thickness // self.step for size in sizes]
        # _made[cost][i]: the totals that the sizes from i on make at that cost; grown as asked for.
        self._made: list[list[int]] = [[1] * (len(sizes) + 1)]

    @cached_property
    def any(self) -> int:
        """The totals made at any cost, in steps."""
        total = 1
        for shift, (_, _, most) in zip(self._shifts, self.sizes, strict=True):
            pieces = 1
            while most > 0 and shift * pieces < self.full.bit_length():
                pieces = min(pieces, most)
                total |= total << (pieces * shift)
                most, pieces = most - pieces, pieces * 2
            total &= self.full
        return total

    def at(self, cost: int, position: int = 0) -> int:
        """Return the totals made at this cost, in steps."""
        while len(self._made) <= cost:
            self._grow(len(self._made))
        return self._made[cost][position]

    def _grow(self, cost: int) -> None:
        made, grown = self._made, [0] * (len(self.sizes) + 1)
        for i in range(len(self.sizes) - 1, -1, -1):
            (_, each, most), shift = self.sizes[i], self._shifts[i]
            total = grown[i + 1]
            if most * each >= cost:  # there are more than this cost can take
                if each <= cost:
                    total |= made[cost - each][i] << shift
            else:
                for taken in range(1, int(most) + 1):
                    total |= made[cost - taken * each][i + 1] << (taken * shift)
            grown[i] = total & self.full
        made.append(grown)

    def can(self, total: int, cost: int, position: int = 0) -> bool:
        """Say whether a total can be made at exactly this cost."""
        return total >= 0 and total % self.step == 0 and bool((self.at(cost, position) >> (total // self.step)) & 1)

    def fewest(self, total: int) -> int | None:
        """Return the least cost of a total; ``None`` if it can't be made."""
        if total < 0 or total % self.step or not (self.any >> (total // self.step)) & 1:
            return None
        return next(cost for cost in count() if self.can(total, cost))

    def mixtures(self, total: int, cost: int) -> Iterator[tuple[int, ...]]:
        """Yield every way to make a total at a cost: how many of each size, by position, most of the first first."""
        if total < 0 or total % self.step:
            return
        self.at(cost)
        waiting: list[tuple[int, int, int, tuple[int, ...]]] = [(0, total // self.step, cost, ())]
        while waiting:  # a call within a call for every size would pass each mixture through all of them
            i, left, rest, taken = waiting.pop()
            if i == len(self.sizes):
                if not left and not rest:
                    yield taken
                continue
            (_, each, most), shift = self.sizes[i], self._shifts[i]
            for n in range(int(min(most, rest // each, left // shift)) + 1):
                if (self._made[rest - n * each][i + 1] >> (left - n * shift)) & 1:
                    waiting.append((i + 1, left - n * shift, rest - n * each, (*taken, n)))


def fewest_pieces(total: int, stock: Mapping[int, int]) -> tuple[int, ...] | None:
    """Return the fewest sizes that add up to a total exactly, largest first; ``None`` if none do.

    ``stock`` says how many there are of each size. Sizes and total are whole numbers in one unit.
    """
    sizes = [Size(size, 1, there) for size, there in sorted(stock.items(), reverse=True) if there > 0 and size <= total]
    sums = Sums(sizes, total)
    pieces = sums.fewest(total)
    if pieces is None:
        return None
    taken = next(sums.mixtures(total, pieces))
    return tuple(size.thickness for size, n in zip(sizes, taken, strict=True) for _ in range(n))
