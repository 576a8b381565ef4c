"""One side: the stacks that fill its gap, best first, as if the cabinet were the side's alone."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cached_property

from stonework.choosing.courses import Offer, Place, offers, sums_of, two_ends
from stonework.choosing.dealing import Course, Wish
from stonework.choosing.question import Ends, Question
from stonework.choosing.stacks import MOST, PIECE, POINT, QUOIN, TOWER, Laid, Limits, Ordered, Stack
from stonework.lockup import Side
from stonework.stacking import Sums, grid, places

_CHEAP = 6  # pieces; most sides take no more
_METAL = 10**9  # more than the length of any wood: of equals the one with less metal goes first


class AnySide:
    """What solid sides and quoin sides share."""

    sums: Sums

    def __init__(self, q: Question, side: Side, ends: Ends, limits: Limits) -> None:
        self.q, self.side, self.ends, self.limits = q, side, ends, limits
        self.length, self.bare = q.length(side), grid(q.unbacked)
        self.reach = q.reach(side, ends)
        self._longest: dict[int, int] = {}
        inside = {(key, many): most for (key, many, outside), most in limits.items() if not outside}
        self.offers = offers(q, side, ends, inside)
        self.place = two_ends(q, side, ends)
        if not self._begins():
            self.offers = []
        self._shortest: dict[Offer, list[int]] = {}
        self._found: dict[tuple[int, int], Ordered] = {}
        self._above: dict[int, Sums] = {}
        self._totals: dict[int, list[int]] = {}

    def totals(self, cost: int) -> list[int]:
        """Return how much wood the side may have at a cost in pieces, least first."""
        if cost not in self._totals:
            (low, high), step = self._window, self.sums.step
            self._totals[cost] = [n * step for n in places(self._level(cost), -(-low // step), high // step)]
        return self._totals[cost]

    @cached_property
    def fewest(self) -> int:
        """The least cost in pieces at which there is any, or more than a side may have."""
        return next((cost for cost in range(1, MOST + 1) if self.totals(cost)), MOST + 1)

    def longest(self, depth: int) -> int:
        """Return how long one piece of wood may be at this depth."""
        if depth not in self._longest:
            self._longest[depth] = self.length + sum(self.reach.at(depth))
        return self._longest[depth]

    def _begins(self) -> bool:
        """Say whether anything is of a length that may lie against the form."""
        flush = self.longest(0)
        return any(
            offer.ends > 1 or any(offer.low <= length <= flush for length, _ in self.q.cabinet[offer.key])
            for offer in self.offers
        )

    def _lengths(self, offer: Offer) -> list[int]:
        """Return the lengths that so many courses take at least, shortest first."""
        if offer not in self._shortest:
            fitting = (one for one in self.q.cabinet[offer.key] if offer.low <= one[0] <= offer.high)
            self._shortest[offer] = (
                [offer.low] * offer.most
                if offer.ends > 1
                else [length for length, there in fitting for _ in range(there)]
            )
        return self._shortest[offer]

    def _least(self, inner: Sequence[Offer], floor: int) -> list[tuple[Offer, int]] | None:
        """Return inner courses, each as short as the cabinet has it, in their order; ``None`` if one is too long."""
        found: list[tuple[Offer, int]] = []
        for offer, number in Counter(inner).items():
            lengths = self._lengths(offer)
            if floor > offer.low and offer.ends == 1:
                lengths = lengths[bisect_left(lengths, floor) :]
            if len(lengths) < number:
                return None
            found += [(offer, length) for length in lengths[:number]]
        found.sort(key=lambda one: (one[0].wooden, one[0].ends == 1, one[1]))
        depth = 0
        for offer, length in found:
            if offer.wooden and offer.ends == 1 and length > self.longest(depth):
                return None
            depth += offer.thickness
        return found

    def _many(self, offer: Offer, floor: int) -> int:
        """Return how many courses there can be of pieces that are at least so long."""
        lengths = self._lengths(offer)
        return min(offer.most, len(lengths) - bisect_left(lengths, floor))

    def _wish(self, offer: Offer) -> Wish:
        if offer.ends > 1:
            return Wish(offer.low, offer.high, self.place, offer.low)
        return Wish(offer.low, offer.high)

    def lenient(self, offer: Offer, *, outside: bool = False) -> Wish:
        """Return the least that a course asks of its sticks, wherever it lies on this side."""
        if outside and offer.ends > 1:
            anywhere = Place(self.length, (self.length, 0), self.reach.at(0), (0, self.length))
            return Wish(offer.low, offer.high, anywhere, offer.high + 1)
        return self._wish(offer)

    def starts(self, length: int, depth: int) -> tuple[int, int]:
        """Return between which starts one piece may lie as a course at a depth."""
        low, high = self.reach.at(depth)
        return max(-low, self.length - self.bare - length), min(self.bare, self.length + high - length)

    def ordered(self, courses: Sequence[tuple[Offer, Course]]) -> list[tuple[Offer, Course]]:
        """Return courses in the order in which each lies deepest: metal, two ends, and wood by its length."""
        return sorted(courses, key=lambda one: (one[0].wooden, one[0].ends == 1, one[1].length))

    def too_long(self, courses: Sequence[tuple[Offer, Course]]) -> tuple[int, int] | None:
        """Return the first of some inner courses that is too long for its depth, and how long it may be there."""
        depth = 0
        where = {id(course): n for n, (_, course) in enumerate(courses)}
        for offer, course in self.ordered(courses):
            if offer.wooden and offer.ends == 1 and course.length > self.longest(depth):
                return where[id(course)], self.longest(depth)
            depth += offer.thickness
        return None

    def _alone(
        self,
        inner: tuple[Offer, ...],
        bearing: Offer | None,
        outer: Offer | None,
        laid: Laid | None,
        ends: Sequence[Wish],
        floor: int,
        tower: int,
    ) -> Stack | None:
        """Return a stack with no course shorter than ``floor``; ``None`` if one must be too long for its depth."""
        least = self._least(inner, floor)
        if least is None or any(floor > wish.high for wish in ends[:1]):
            return None
        stacked = len(inner) + (bearing is not None)
        pieces = sum(offer.cost for offer in (*inner, *filter(None, (bearing, outer))))
        cost = pieces * PIECE + (laid.off // POINT * QUOIN if laid else 0) + tower
        wished = [*(self._wish(offer) for offer in inner), *ends]
        if floor:
            wished[:stacked] = [wish._replace(low=max(wish.low, floor)) for wish in wished[:stacked]]
        wood = sum(length for _, length in least) + sum(wish.low for wish in wished[len(inner) :])
        wood += sum(_METAL for offer in inner if not offer.wooden)
        return Stack(inner, bearing, outer, laid, tuple(wished), cost, wood)

    def _mixed(self, total: int, pieces: int, floor: int) -> Iterator[tuple[Offer, ...]]:
        """Yield the inner courses that make a total with so many pieces, each at least as long as the floor."""
        for taken in self._sums_above(floor).mixtures(total, pieces):
            yield tuple(offer for offer, n in zip(self.offers, taken, strict=True) for _ in range(n))

    def _sums_above(self, floor: int) -> Sums:
        """Return the sums of what is at least so long."""
        if not floor:
            return self.sums
        if floor not in self._above:
            tall = [offer if offer.ends > 1 else offer._replace(most=self._many(offer, floor)) for offer in self.offers]
            self._above[floor] = sums_of(self.q, tall, self.sums.top, self.sums.others)
        return self._above[floor]

    def _floors(self, depth: int) -> list[tuple[int, int]]:
        """Return how long several courses must be at least, so deep, and what that costs: as no tower, and as one."""
        floor = -(-depth // 2)
        if not self.q.steady or floor <= self.length - 2 * self.bare:
            return [(0, 0)]
        return [(floor, 0), (0, TOWER)] if floor <= self.longest(0) else [(0, TOWER)]

    def _deep(self, bits: int, cost: int) -> int:
        """Keep of some totals, in steps, those that stacks make in which no course is too long for its depth."""
        if "stepped" not in self.ends:  # what lies deeper reaches no further
            return bits
        if cost > MOST:
            return 0
        key = ("by depth", self.side, self.ends, self.sums.step, self.sums.full, tuple(self.offers))
        made: list[int] = self.q.memo.get(key, [])
        if cost >= len(made):
            made = self.q.memo[key] = self._made_by_depth(min(MOST, max(2 * len(made), _CHEAP, cost)))
        return bits & made[cost]

    def _made_by_depth(self, dearest: int) -> list[int]:
        """Return the totals by their cost, up to the dearest, counting how deep each length may lie."""
        step, full = self.sums.step, self.sums.full
        made = [1] + [0] * dearest
        flush = self.longest(0)
        there: Counter[tuple[int, Offer]] = Counter()
        for offer in self.offers:
            if offer.ends > 1 or not offer.wooden:
                there[0, offer] = offer.most
                continue
            for length, number in self.q.cabinet[offer.key]:
                if offer.low <= length <= offer.high:
                    there[-(-self._depth_for(length, flush) // step), offer] += number
        for (need, offer), number in sorted(there.items()):
            beyond, shift, cost = full >> need << need, offer.thickness // step, offer.cost
            before = [bits & beyond for bits in made]
            for n in range(1, min(number, offer.most, dearest // cost) + 1):
                for total in range(n * cost, dearest + 1):
                    made[total] |= before[total - n * cost] << (n * shift) & full
        return made

    def _depth_for(self, length: int, flush: int) -> int:
        """Return the least depth at which one piece may be so long."""
        if length <= flush:
            return 0
        low, high = 0, self.q.gaps(self.side)[1]
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if self.longest(middle) >= length else (middle + 1, high)
        return low


class SolidSide(AnySide):
    """A side that wood fills exactly."""

    def __init__(self, q: Question, side: Side, ends: Ends, limits: Limits) -> None:
        super().__init__(q, side, ends, limits)
        self.sums = sums_of(q, self.offers, q.gaps(side)[1])

    @property
    def _window(self) -> tuple[int, int]:
        low, high = self.q.gaps(self.side)
        return max(1, low), high

    def _level(self, cost: int) -> int:
        """Return the gaps that wood fills at a cost in pieces, in steps."""
        return self._deep(self.sums.at(cost), cost)

    @cached_property
    def possible(self) -> list[int]:
        """The gaps that any wood fills."""
        (low, high), step = self.q.gaps(self.side), self.sums.step
        return [n * step for n in places(self.sums.any, max(1, -(-low // step)), high // step)]

    def stacks(self, total: int, cost: int) -> Ordered:
        """Return the stacks that fill a gap with so many pieces, best first."""
        if (total, cost) not in self._found:
            self._found[total, cost] = Ordered(self._stacks(total, cost))
        return self._found[total, cost]

    def _stacks(self, total: int, cost: int) -> Iterator[Stack]:
        if cost <= 2:  # one course is no tower, however deep
            alone = (
                self._alone(inner, None, None, None, (), 0, 0)
                for inner in self._mixed(total, cost, 0)
                if len(inner) == 1 and inner[0].wooden
            )
            yield from filter(None, alone)
        for floor, tower in self._floors(total):
            for inner in self._mixed(total, cost, floor):
                if len(inner) > 1 and any(offer.wooden for offer in inner):
                    stack = self._alone(inner, None, None, None, (), floor, tower)
                    if stack:
                        yield stack
