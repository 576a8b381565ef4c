"""Courses: what the cabinet offers one side, a single piece or two end to end, of each kind and thickness."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from stonework.choosing.question import Ends, Key, Question
from stonework.lockup import Side
from stonework.stacking import Size, Sums, grid

Lengths = tuple[tuple[int, int], ...]
"""Lengths and how many there are of each, shortest first."""


class Offer(NamedTuple):
    """What may lie on a side, of one kind and thickness, one piece to a course or two ``ends``.

    ``low`` and ``high`` are the least and greatest length of a course, ``most`` how many courses there can be at most.
    """

    key: Key
    ends: int
    low: int
    high: int
    most: int

    @property
    def thickness(self) -> int:
        """How thick it is, in hundredths of a point."""
        return self.key[1]

    @property
    def cost(self) -> int:
        """How many pieces a course of it counts as."""
        return self.ends

    @property
    def wooden(self) -> bool:
        """Whether it may lie next to iron."""
        return self.key[0] in ("furniture", "reglet")


class Place(NamedTuple):
    """Where courses of two ends may lie along a side: what they cover, how far they reach, where they may meet."""

    length: int
    cover: tuple[int, int]
    reach: tuple[int, int]
    joint: tuple[int, int]

    def starts(self, first: int, second: int) -> tuple[int, int] | None:
        """Return between which starts two ends may lie, the first of them lower; ``None`` if they can't."""
        both = first + second
        low = max(-self.reach[0], self.cover[1] - both, self.joint[0] - first)
        high = min(self.cover[0], self.length + self.reach[1] - both, self.joint[1] - first)
        return (low, high) if low <= high else None

    def pairs(self, lengths: Lengths, below: int) -> Iterator[tuple[int, int]]:
        """Yield the pairs of lengths, each below a limit, that may lie here, in the order in which they lie."""
        known = [length for length, _ in lengths if length < below]
        counts = dict(lengths)
        least, most = self.cover[1] - self.cover[0], self.length + self.reach[0] + self.reach[1]
        for first in known:
            for second in known[bisect_left(known, least - first) : bisect_right(known, most - first)]:
                if (first != second or counts[first] > 1) and self.starts(first, second):
                    yield first, second


def two_ends(q: Question, side: Side, ends: Ends) -> Place:
    """Return where two ends may lie on a side as a course of it."""
    length, bare = q.length(side), grid(q.unbacked)
    return Place(length, (bare, length - bare), q.reach(side, ends).at(0), (-(-length // 8), 7 * length // 8))


def offers(q: Question, side: Side, ends: Ends, limits: Mapping[tuple[Key, int], int]) -> list[Offer]:
    """Return what may lie between the form and the iron or the quoins, thick first; ``limits`` allow fewer of some."""
    if (side, ends) not in q.memo:
        q.memo[side, ends] = sorted(_offers(q, side, ends), key=lambda offer: (-offer.thickness, offer.ends))
    every: list[Offer] = q.memo[side, ends]
    if not limits:
        return every
    fewer = (offer._replace(most=min(offer.most, limits.get((offer.key, offer.ends), offer.most))) for offer in every)
    return [offer for offer in fewer if offer.most]


def _offers(q: Question, side: Side, ends: Ends) -> Iterator[Offer]:
    length, bare = q.length(side), grid(q.unbacked)
    shortest = length - 2 * bare
    reach = q.reach(side, ends)
    flush, deep = (length + sum(reach.at(depth)) for depth in (0, q.gaps(side)[1]))
    doubles = two_ends(q, side, ends)
    for key, lengths in q.cabinet.items():
        longest = deep if key[0] in ("furniture", "reglet") else flush
        single = sum(there for length, there in lengths if shortest <= length <= longest)
        if single:
            yield Offer(key, 1, shortest, longest, single)
        if next(doubles.pairs(lengths, shortest), None):
            double = sum(there for length, there in lengths if length < shortest) // 2
            yield Offer(key, 2, shortest, flush, double)


def sums_of(q: Question, offers: Sequence[Offer], top: int, others: Sequence[int] = ()) -> Sums:
    """Return the sums that offers make; what several sides ask for alike is reckoned once."""
    sizes = tuple(Size(offer.thickness, offer.cost, offer.most) for offer in offers)
    key = (sizes, top, tuple(others))
    if key not in q.memo:
        q.memo[key] = Sums(sizes, top, others)
    return q.memo[key]
