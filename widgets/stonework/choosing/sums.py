"""Sums of thicknesses by what they cost, for a few sizes of which there are so many each.

A set of totals is one Python integer whose bit n says that n steps can be made, so a whole set moves by one shift.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple


class Size(NamedTuple):
    """One size: its thickness, what one piece of it costs, and how many there are."""

    thickness: int
    cost: int
    most: int


def places(bits: int, low: int, high: int) -> Iterator[int]:
    """Yield the places of the bits set from low to high."""
    low = max(0, low)
    if high < low:
        return
    bits = (bits >> low) & ((1 << (high - low + 1)) - 1)
    while bits:
        least = bits & -bits
        yield low + least.bit_length() - 1
        bits ^= least


class Sums:
    """The totals, up to ``top``, that some of these sizes make at an exact cost.

    ``step`` divides every size, and whatever else is to be added to the totals.
    """

    def __init__(self, sizes: Sequence[Size], top: int, others: Sequence[int] = ()) -> None:
        self.sizes = sizes
        self.step = math.gcd(*(size.thickness for size in sizes), *others) or 1
        self.full = (1 << (max(0, top) // self.step + 1)) - 1
        self._shifts = [size.thickness // self.step for size in sizes]
        # _made[cost][i]: the totals that the sizes from i on make at that cost; grown as asked for.
        self._made: list[list[int]] = [[1] * (len(sizes) + 1)]
        self.any = self._any()

    def _any(self) -> int:
        """Return the totals made at any cost."""
        total = 1
        for shift, (_, _, most) in zip(self._shifts, self.sizes, strict=True):
            pieces = 1
            while most > 0 and shift * pieces < self.full.bit_length():
                pieces = min(pieces, most)
                total |= total << (pieces * shift)
                most, pieces = most - pieces, pieces * 2
            total &= self.full
        return total

    def at(self, cost: int) -> int:
        """Return the totals made at this cost, in steps."""
        while len(self._made) <= cost:
            self._grow(len(self._made))
        return self._made[cost][0]

    def _grow(self, cost: int) -> None:
        made, grown = self._made, [0] * (len(self.sizes) + 1)
        for i in range(len(self.sizes) - 1, -1, -1):
            (_, each, most), shift = self.sizes[i], self._shifts[i]
            total = grown[i + 1]
            if most * each >= cost:  # there are more than this cost can take
                if each <= cost:
                    total |= made[cost - each][i] << shift
            else:
                for taken in range(1, most + 1):
                    total |= made[cost - taken * each][i + 1] << (taken * shift)
            grown[i] = total & self.full
        made.append(grown)

    def mixtures(self, total: int, cost: int) -> Iterator[tuple[int, ...]]:
        """Yield every way to make a total at a cost: how many of each size, by position."""
        if total < 0 or total % self.step:
            return
        self.at(cost)
        waiting: list[tuple[int, int, int, tuple[int, ...]]] = [(0, total // self.step, cost, ())]
        while waiting:  # a call within a call for every size would pass each mixture through all of them
            i, left, rest, taken = waiting.pop()
            if i == len(self.sizes):
                yield taken
                continue
            (_, each, most), shift = self.sizes[i], self._shifts[i]
            for n in range(min(most, rest // each, left // shift) + 1):
                if (self._made[rest - n * each][i + 1] >> (left - n * shift)) & 1:
                    waiting.append((i + 1, left - n * shift, rest - n * each, (*taken, n)))
