"""Where a row of quoins stands on a side, and what it asks of the sticks on both of its faces."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any

from stonework.choosing.courses import Lengths, two_ends
from stonework.choosing.dealing import Wish
from stonework.choosing.question import Ends, Key, Question, Row
from stonework.choosing.stacks import POINT, Laid
from stonework.lockup import Side
from stonework.stacking import grid


class Standing:
    """One row on one side whose corners are settled, whatever wood lies there."""

    def __init__(self, q: Question, side: Side, ends: Ends, row: Row) -> None:
        self._q, self._row = q, row
        self._length, self._bare = q.length(side), grid(q.unbacked)
        self._each, self._gap = grid(row.pattern.length), grid(row.pattern.gap)
        self._reach, self._place = q.reach(side, ends), two_ends(q, side, ends)
        self._deepest = q.gaps(side)[1]
        self._deeper = "stepped" in ends  # what lies deeper may reach further
        self._needs: dict[Any, int | None] = {}
        self._at: dict[int, Laid | None] = {}
        self._groups: dict[Key, dict[int, list[Laid]]] = {}
        # Patterns that are alike in this stand alike.
        alike = ("parted", side, ends, self._each, self._gap, row.number)
        self._parted: dict[tuple[int, int], Laid | None] = q.memo.setdefault(alike, {})

    @cached_property
    def span(self) -> int:
        """How long the row is if its quoins stand together."""
        return self._row.number * self._each + (self._row.number - 1) * self._gap

    def at(self, depth: int) -> Laid | None:
        """Return where a row on one piece lies at a depth, as near the middle as it can; ``None`` if it can't."""
        if depth not in self._at:
            self._at[depth] = self._laid(depth)
        return self._at[depth]

    def _laid(self, depth: int) -> Laid | None:
        span, (low, high) = self.span, self._reach.at(depth)
        if 2 * span > 3 * self._length:  # it would rock on a form so short
            return None
        # Where it would start, in half hundredths: a whole one, or no stick just as long as the row would cover it.
        middle = (self._length - span) // 2 * 2
        least, most = -2 * low, 2 * (self._length + high - span)
        if least > most:
            return None
        start = min(max(middle, least), most)
        if abs(start - middle) > self._each or 3 * abs(start - middle) > self._length:
            return None
        starts = tuple(start + 2 * n * (self._each + self._gap) for n in range(self._row.number))
        return Laid(starts, abs(start - middle) // 2)

    @property
    def somewhere(self) -> bool:
        """Whether a row on one piece can stand at all."""
        return self.at(self._deepest) is not None

    def least_bearing(self, key: Key) -> int | None:
        """Return how deep a piece that the quoins bear on must lie at least; ``None`` if it never can."""
        lengths, thickness = self._q.cabinet[key], key[1]
        return self._least((lengths, thickness), lambda depth: self._bears(depth, thickness, lengths))

    def least_outside(self, key: Key) -> int | None:
        """Return how deep the quoins must lie at least for a piece to lie outside them; ``None`` if it never can."""
        lengths = self._q.cabinet[key]
        return self._least(lengths, lambda depth: self._lies_outside(depth, lengths))

    def _least(self, what: Any, goes: Callable[[int], bool]) -> int | None:
        """Return the least depth at which something goes; what goes at one depth goes at any greater."""
        if what not in self._needs:
            step = self._q.step
            low, high = 0, self._deepest // step if self._deeper else 0
            if self._deeper and goes(low):
                high = low
            found = goes(high * step)
            while found and low + 1 < high:
                middle = (low + high) // 2
                low, high = (low, middle) if goes(middle * step) else (middle, high)
            self._needs[what] = high * step if found else None
        return self._needs[what]

    def _bears(self, depth: int, thickness: int, lengths: Lengths) -> bool:
        """Say whether a row has its place outside a piece at some depth, and one of some lengths does."""
        laid = self.at(depth + thickness)
        wishes = laid and self.on_one(laid, depth, thickness)
        return bool(wishes) and _some(lengths, wishes[0])

    def _lies_outside(self, depth: int, lengths: Lengths) -> bool:
        """Say whether a row has its place at some depth, and one of some lengths may lie outside it."""
        laid = self.at(depth)
        return laid is not None and _some(lengths, self._outside(laid, depth))

    def _outside(self, laid: Laid, depth: int) -> Wish:
        low, high = self.covered(laid)
        return Wish(high - low, self._length + sum(self._reach.at(depth)))

    def on_one(self, laid: Laid, depth: int, thickness: int) -> tuple[Wish, Wish] | None:
        """Return what a row on one piece, so thick, asks of it and of the one outside; ``None`` if it can't lie so."""
        low, high = self.covered(laid)
        first, last = min(self._bare, low), max(self._length - self._bare, high)
        reach = self._reach.at(depth)
        if -reach[0] > first or last > self._length + reach[1]:
            return None
        return Wish(last - first, self._length + sum(reach)), self._outside(laid, depth + thickness)

    def some(self, key: Key, wish: Wish) -> bool:
        """Say whether the cabinet has a stick as long as is wished."""
        return _some(self._q.cabinet[key], wish)

    def covered(self, laid: Laid) -> tuple[int, int]:
        """Return the stretch that a row takes up, in whole hundredths."""
        return laid.starts[0] // 2, -(-laid.starts[-1] // 2) + self._each

    def between(self, laid: Laid) -> tuple[int, int]:
        """Return between which places two ends outside the quoins may meet: between the two groups."""
        joint = 2 * (laid.low + (laid.pair or (0, 0))[0])
        ends = [start + 2 * self._each for start in laid.starts if start < joint]
        return -(-max(ends) // 2), min(start for start in laid.starts if start >= joint) // 2

    def parted(self, bearing: Key) -> bool:
        """Say whether quoins may bear on any pair of ends of one kind and thickness."""
        return next(self._pairs(bearing), None) is not None

    def groups(self, bearing: Key) -> dict[int, list[Laid]]:
        """Return where quoins lie on each pair of ends that they may bear on, by how many points off the middle."""
        if bearing not in self._groups:
            found: dict[int, list[Laid]] = {}
            for one in sorted(self._pairs(bearing), key=lambda one: (one.off // POINT, sum(one.pair or ()))):
                found.setdefault(one.off // POINT, []).append(one)
            self._groups[bearing] = found
        return self._groups[bearing]

    def _pairs(self, bearing: Key) -> Iterator[Laid]:
        for pair in self._place.pairs(self._q.cabinet[bearing], self._length - 2 * self._bare):
            if pair not in self._parted:
                self._parted[pair] = self._grouped(pair)
            laid = self._parted[pair]
            if laid:
                yield laid

    def _grouped(self, pair: tuple[int, int]) -> Laid | None:
        starts = self._place.starts(*pair)
        if starts is None:
            return None
        low, high = starts
        start = min(max(self._length // 2 - pair[0], low), high)
        joint, number, last = start + pair[0], self._row.number, self._length - self._bare
        parts = (joint - self._bare, last - joint)
        middles = (self._bare + joint, joint + last)  # in half hundredths
        best: Laid | None = None
        for first in range(1, number):
            there = (first, number - first)
            spans = [n * self._each + (n - 1) * self._gap for n in there]
            if any(span + self._gap > part for span, part in zip(spans, parts, strict=True)):
                continue
            if any(2 * n * sum(parts) < number * part for n, part in zip(there, parts, strict=True)):
                continue
            mean = sum(n * middle for n, middle in zip(there, middles, strict=True))  # number times it
            if not 2 * number * self._length <= 3 * mean <= 4 * number * self._length:
                continue
            off = abs(mean - number * self._length) // (2 * number)
            if best is None or off < best.off:
                at = [
                    middle - span + 2 * n * (self._each + self._gap)
                    for n_here, middle, span in zip(there, middles, spans, strict=True)
                    for n in range(n_here)
                ]
                best = Laid(tuple(at), off, pair, start)
        return best


def _some(lengths: Lengths, wish: Wish) -> bool:
    first = bisect_left(lengths, (wish.low,))
    return first < len(lengths) and lengths[first][0] <= wish.high
