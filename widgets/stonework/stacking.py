"""Which pieces, laid side by side, make up a total: exact sums with as few pieces as can be.

Sizes are whole numbers (the solver's hundredths of a point). A set of totals is one Python integer whose
bit n says that n grid steps can be made, so a whole set moves by one shift.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence


class Sums:
    """The totals that can be made from some sizes, by the number of pieces they take.

    ``sizes`` and ``counts`` go together; ``most`` is the largest total of interest. Position i stands for the
    sizes from i on, so that a search deciding them one after another can ask what the rest can still do.
    Where ``required`` isn't zero, the sizes from ``required_from`` on must give at least that many pieces;
    below that position the caller says how many are still owed.
    """

    def __init__(
        self,
        sizes: Sequence[int],
        counts: Sequence[int],
        most: int,
        *,
        required: int = 0,
        required_from: int = 0,
    ) -> None:
        self._step = math.gcd(*sizes) or 1
        self._sizes = [size // self._step for size in sizes]
        self._counts = counts
        self._full = (1 << (most // self._step + 1)) - 1
        self._required, self._required_from = required, required_from
        # _layers[k][i]: the totals made by exactly k pieces of the sizes from i on; grown as asked for.
        self._layers: list[list[int]] = [[int(i >= required_from or not required) for i in range(len(sizes) + 1)]]
        # _any[i]: the totals made by any number of those pieces, were none required; says "never" at once.
        self._any = [1] * (len(sizes) + 1)
        for i in range(len(sizes) - 1, -1, -1):
            total, more, pieces = self._any[i + 1], counts[i], 1
            while more:
                pieces = min(pieces, more)
                total |= total << (pieces * self._sizes[i])
                more, pieces = more - pieces, pieces * 2
            self._any[i] = total & self._full
        self._found: dict[tuple[int, int, int, int], int | None] = {}

    def fewest(self, position: int, low: int, high: int, owed: int = 0) -> int | None:
        """Return the fewest pieces with a total from low to high; ``None`` if no number of pieces has one.

        At or above ``required_from``, at least ``owed`` pieces are used.
        """
        key = (position, low, high, owed)
        if key not in self._found:
            self._found[key] = self._search(position, low, high, owed)
        return self._found[key]

    def can(self, position: int, low: int, high: int, pieces: int, owed: int = 0) -> bool:
        """Say whether exactly this many pieces, at least ``owed``, have a total from low to high."""
        first, last = max(0, -(-low // self._step)), high // self._step
        if last < first or (pieces < owed and position >= self._required_from):
            return False
        return bool((self._layer(pieces)[position] >> first) & ((1 << (last - first + 1)) - 1))

    def totals(self, low: int, high: int) -> list[int]:
        """Return every total from low to high that some pieces make."""
        first = max(1, -(-low // self._step))
        steps = (step * self._step for step in range(first, high // self._step + 1))
        return [total for total in steps if self.fewest(0, total, total) is not None]

    def _search(self, position: int, low: int, high: int, owed: int) -> int | None:
        first, last = max(0, -(-low // self._step)), high // self._step
        if last < first:
            return None
        window = (1 << (last - first + 1)) - 1
        if not (self._any[position] >> first) & window:
            return None
        pieces = owed if position >= self._required_from else 0
        while any(layer := self._layer(pieces)) or pieces < self._required:
            if (layer[position] >> first) & window:
                return pieces
            pieces += 1
        return None  # with this many pieces every total is past the mark, or there are no more

    def _layer(self, pieces: int) -> list[int]:
        while len(self._layers) <= pieces:
            self._layers.append(self._grow(len(self._layers)))
        return self._layers[pieces]

    def _grow(self, pieces: int) -> list[int]:
        layers, grown = self._layers, [0] * (len(self._sizes) + 1)
        for i in range(len(self._sizes) - 1, -1, -1):
            size, count = self._sizes[i], self._counts[i]
            # Just above the required sizes, only layers with enough of them count.
            owed = self._required if i + 1 == self._required_from else 0
            total = grown[i + 1] if pieces >= owed else 0
            if count >= pieces:
                total |= layers[pieces - 1][i] << size
            else:
                for taken in range(1, count + 1):
                    if pieces - taken >= owed:
                        total |= layers[pieces - taken][i + 1] << (taken * size)
            grown[i] = total & self._full
        return grown


def fewest_pieces(total: int, stock: Mapping[int, int]) -> tuple[int, ...] | None:
    """Return the fewest sizes that add up to a total exactly, largest first; ``None`` if none do.

    ``stock`` says how many there are of each size. Sizes and total are whole numbers in one unit.
    """
    if total < 0:
        return None
    sizes = sorted((size for size, count in stock.items() if count > 0 and size <= total), reverse=True)
    sums = Sums(sizes, [stock[size] for size in sizes], total)
    left = sums.fewest(0, total, total)
    if left is None:
        return None
    chosen: list[int] = []
    for i, size in enumerate(sizes):
        taken = next(n for n in range(left + 1) if sums.can(i + 1, total - n * size, total - n * size, left - n))
        chosen += [size] * taken
        total, left = total - taken * size, left - taken
    return tuple(chosen)
