"""A side with a row of quoins: where the row stands, what it bears on, and the wood that fills the rest."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import cached_property
from itertools import chain, product

from stonework.choosing.courses import Offer, Place, sums_of
from stonework.choosing.dealing import Course, Wish
from stonework.choosing.question import Ends, Key, Question, Row
from stonework.choosing.sides import AnySide
from stonework.choosing.stacks import POINT, Limits, Ordered, Stack
from stonework.choosing.standing import Standing
from stonework.lockup import Side
from stonework.stacking import grid


class QuoinSide(AnySide):
    """A side that wood and a row of quoins fill."""

    def __init__(self, q: Question, side: Side, ends: Ends, row: Row, limits: Limits, standing: Standing) -> None:
        super().__init__(q, side, ends, limits)
        self.row, self.standing, pattern = row, standing, row.pattern
        self.closed, self.open = grid(pattern.closed), grid(pattern.most_open)
        self.rest = grid(pattern.rest)
        self.top = q.gaps(side)[1] - self.closed
        kinds = ("reglet",) if pattern.bears_on == "reglet" else ("furniture", "reglet")
        self._kinds = kinds
        self.bearings = [one for one in self.offers if one.key[0] in kinds and (one.ends > 1) == row.parted]
        if row.parted:
            self.bearings = [one for one in self.bearings if standing.parted(one.key)]
        fits = self.bearings and (row.parted or standing.somewhere)
        self.outers = self._outers() if fits else []
        faces = [one.thickness for one in (*self.bearings, *self.outers)]
        self.sums = sums_of(q, self.offers if self.outers else [], self.top, faces)
        self._made: dict[int, int] = {}

    def _outers(self) -> list[Offer]:
        """Return what may lie outside the quoins."""
        if self.row.parted:
            return self._outers_of_two()
        low, high = self.standing.span, self.longest(self.q.gaps(self.side)[1])
        return [one for key in self.q.cabinet if key[0] in self._kinds and (one := self._outer(key, 1, low, high))]

    def _outer(self, key: Key, ends: int, low: int, high: int) -> Offer | None:
        there = sum(count for length, count in self.q.cabinet[key] if low <= length <= high)
        most = min(1, there, self.limits.get((key, ends, True), 1))
        return Offer(key, ends, low, high, most) if most else None

    @cached_property
    def _bearing_needs(self) -> list[tuple[Offer, int]]:
        """What the quoins may bear on, and how deep it must lie at least."""
        needs = ((one, 0 if self.row.parted else self.standing.least_bearing(one.key)) for one in self.bearings)
        return [(one, need) for one, need in needs if need is not None]

    @cached_property
    def _outer_needs(self) -> list[tuple[Offer, int]]:
        """What may lie outside the quoins, and how deep they must lie at least."""
        needs = ((one, 0 if self.row.parted else self.standing.least_outside(one.key)) for one in self.outers)
        return [(one, need) for one, need in needs if need is not None]

    def _borne(self, cost: int) -> int:
        """Return the totals inside the quoins at a cost in pieces, what they bear on among it, in steps."""
        if cost not in self._made:
            total = 0
            for bearing, need in self._bearing_needs:
                if cost >= bearing.cost:
                    inner = self._deep(self.sums.at(cost - bearing.cost), cost - bearing.cost)
                    total |= self._beyond(inner, need) << (bearing.thickness // self.sums.step)
            self._made[cost] = total
        return self._made[cost]

    def _level(self, cost: int) -> int:
        """Return the totals of wood at a cost in pieces, the quoins' two faces among it, in steps."""
        total = 0
        for outer, need in self._outer_needs:
            if cost >= outer.cost:
                total |= self._beyond(self._borne(cost - outer.cost), need) << (outer.thickness // self.sums.step)
        return total

    def _beyond(self, bits: int, depth: int) -> int:
        """Keep of some totals, in steps, those that reach a depth."""
        least = -(-depth // self.sums.step)
        return bits >> least << least

    @cached_property
    def possible(self) -> int:
        """The totals that any wood makes, the quoins' two faces among it, in steps."""
        inside = total = 0
        for bearing, need in self._bearing_needs:
            inside |= self._beyond(self.sums.any, need) << (bearing.thickness // self.sums.step)
        for outer, need in self._outer_needs:
            total |= self._beyond(inside, need) << (outer.thickness // self.sums.step)
        return total

    @property
    def _window(self) -> tuple[int, int]:
        return self.q.gaps(self.side)[0] - self.closed - self.open, self.top

    def stacks(self, total: int, cost: int) -> Ordered:
        """Return the stacks whose wood comes to a total with so many pieces, best first."""
        if (total, cost) not in self._found:
            offs = sorted({off for _, inside, _ in self._outside(total, cost) for off in self._offs(inside)})
            self._found[total, cost] = Ordered(chain.from_iterable(self._stacks(total, cost, off) for off in offs))
        return self._found[total, cost]

    def _offs(self, depth: int) -> Collection[int]:
        """Return how many points a row so deep may be off the middle."""
        if self.row.parted:
            return self._offs_of_two
        laid = self.standing.at(depth)
        return (laid.off // POINT,) if laid else ()

    @cached_property
    def _offs_of_two(self) -> frozenset[int]:
        return frozenset(off for bearing in self.bearings for off in self.standing.groups(bearing.key))

    def _stacks(self, total: int, cost: int, off: int) -> Iterator[Stack]:
        """Yield the stacks with a row whose middle is so many points off; those that are no towers first."""
        faces = [
            (bearing, outer, inside - bearing.thickness, pieces - bearing.cost)
            for outer, inside, pieces in self._outside(total, cost)
            if off in self._offs(inside)
            for bearing, need in self._bearing_needs
            if inside - bearing.thickness >= need and self.sums.can(inside - bearing.thickness, pieces - bearing.cost)
        ]
        for steady, (bearing, outer, left, pieces) in product((True, False), faces):
            if not pieces:  # one course alone is no tower, however deep
                if steady:
                    yield from self._faced((), bearing, outer, 0, 0, off)
                continue
            for floor, tower in self._floors(total - outer.thickness):
                for inner in self._mixed(left, pieces, floor) if (tower == 0) == steady else ():
                    if inner.count(bearing) < bearing.most:
                        yield from self._faced(inner, bearing, outer, floor, tower, off)

    def _outside(self, total: int, cost: int) -> Iterator[tuple[Offer, int, int]]:
        """Yield what may lie outside the quoins, and how much wood at what cost is then inside them."""
        for outer, need in self._outer_needs:
            inside, pieces = total - outer.thickness, cost - outer.cost
            if inside >= need and pieces > 0 and (self._borne(pieces) >> (inside // self.sums.step)) & 1:
                yield outer, inside, pieces

    def _faced(
        self, inner: tuple[Offer, ...], bearing: Offer, outer: Offer, floor: int, tower: int, off: int
    ) -> Iterator[Stack]:
        depth = sum(offer.thickness for offer in inner)
        if self.row.parted:
            yield from self._parted(inner, bearing, outer, floor, tower, off)
            return
        laid = self.standing.at(depth + bearing.thickness)
        faces = laid and self.standing.on_one(laid, depth, bearing.thickness)
        stack = self._alone(inner, bearing, outer, laid, faces, floor, tower) if faces else None
        if stack and all(
            self.standing.some(one.key, wish) for one, wish in zip((bearing, outer), stack.wishes[-2:], strict=True)
        ):
            yield stack

    def bearing_starts(self, stack: Stack, course: Course, depth: int) -> list[int]:
        """Return where the sticks that the quoins bear on start."""
        laid = stack.laid
        assert laid is not None
        if laid.pair:
            return [laid.low, laid.low + laid.pair[0]]
        low, high = self.standing.covered(laid)
        reach, length = self.reach.at(depth), course.length
        least = max(-reach[0], max(self.length - self.bare, high) - length)
        most = min(self.bare, low, self.length + reach[1] - length)
        return [min(max((self.length - length) // 2, least), most)]

    def outer_starts(self, stack: Stack, course: Course, depth: int) -> list[int]:
        """Return where the sticks outside the quoins start."""
        laid = stack.laid
        assert laid is not None
        low, high = self.standing.covered(laid)
        reach, length = self.reach.at(depth), course.length
        if len(course.lengths) > 1:
            first, second = course.lengths
            least, most = Place(self.length, (low, high), self.reach.at(0), self.standing.between(laid)).starts(
                first, second
            )
            start = min(max((self.length - length) // 2, least), most)
            return [start, start + first]
        least, most = max(-reach[0], high - length), min(low, self.length + reach[1] - length)
        return [min(max((self.length - length) // 2, least), most)]

    # --- a row on two ends --------------------------------------------------------------------------------

    def _outers_of_two(self) -> list[Offer]:
        """Return what may lie outside quoins that bear on two ends: one piece or two, that cover all of them."""
        low = self.standing.span  # the two groups stand no nearer together than the quoins of one
        high, flush = self.longest(self.q.gaps(self.side)[1]), self.longest(0)
        kinds = [key for key in self.q.cabinet if key[0] in self._kinds]
        whole = [self._outer(key, 1, low, high) for key in kinds]
        ends = [self._outer(key, 2, 0, flush) for key in kinds]
        return [one for one in (*whole, *ends) if one]

    def _parted(
        self, inner: tuple[Offer, ...], bearing: Offer, outer: Offer, floor: int, tower: int, off: int
    ) -> Iterator[Stack]:
        depth = sum(offer.thickness for offer in inner) + bearing.thickness
        for laid in self.standing.groups(bearing.key).get(off, ()):
            if laid.pair is None or sum(laid.pair) < floor:
                continue
            first, last = self.standing.covered(laid)
            faces = [Wish(bearing.low, bearing.high, self.place, bearing.low, laid.pair)]
            if outer.ends == 1:
                faces.append(Wish(last - first, self.length + sum(self.reach.at(depth))))
                if not self.standing.some(outer.key, faces[-1]):
                    continue
            else:
                place = Place(self.length, (first, last), self.reach.at(0), self.standing.between(laid))
                faces.append(Wish(last - first, outer.high, place, last - first))
            stack = self._alone(inner, bearing, outer, laid, faces, floor, tower)
            if stack:
                yield stack
