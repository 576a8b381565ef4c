"""A side with a row of quoins: where the row stands, what it bears on, and the wood that fills the rest."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from itertools import chain, product

from stonework.any_cabinet.courses import Offer, Place
from stonework.any_cabinet.dealing import Course, Wish
from stonework.any_cabinet.question import Ends, Key, Question, Row, grid
from stonework.any_cabinet.sides import AnySide
from stonework.any_cabinet.stacks import POINT, Laid, Limits, Ordered, Stack, ordered
from stonework.any_cabinet.sums import Size, Sums, places
from stonework.lockup import Side


class QuoinSide(AnySide):
    """A side that wood and a row of quoins fill."""

    def __init__(self, q: Question, side: Side, ends: Ends, row: Row, limits: Limits) -> None:
        super().__init__(q, side, ends, limits)
        self.row, pattern = row, row.pattern
        self.closed, self.open = grid(pattern.closed), grid(pattern.most_open)
        self.each, self.gap, self.rest = grid(pattern.length), grid(pattern.gap), grid(pattern.rest)
        self.top = q.gaps(side)[1] - self.closed
        kinds = ("reglet",) if pattern.bears_on == "reglet" else ("furniture", "reglet")
        self._kinds = kinds
        self.bearings = [one for one in self.offers if one.key[0] in kinds and (one.ends > 1) == row.parted]
        if row.parted:
            self.bearings = [one for one in self.bearings if self._groups[one.key]]
        fits = self.bearings and (row.parted or self._row(q.gaps(side)[1]))
        self.outers = self._outers() if fits else []
        sizes = [Size(offer.thickness, offer.cost, offer.most) for offer in self.offers]
        faces = [one.thickness for one in (*self.bearings, *self.outers)]
        self.sums = Sums(sizes if self.outers else [], self.top, faces)
        self._levels: dict[int, int] = {}

    @cached_property
    def _span(self) -> int:
        """How long the row is if its quoins stand together."""
        return self.row.number * self.each + (self.row.number - 1) * self.gap

    def _outers(self) -> list[Offer]:
        """Return what may lie outside the quoins."""
        if self.row.parted:
            return self._outers_of_two()
        low, high = self._span, self.longest(self.q.gaps(self.side)[1])
        return [one for key in self.q.cabinet if key[0] in self._kinds and (one := self._outer(key, 1, low, high))]

    def _outer(self, key: Key, ends: int, low: int, high: int) -> Offer | None:
        there = sum(count for length, count in self.q.cabinet[key] if low <= length <= high)
        most = min(1, there, self.limits.get((key, ends, True), 1))
        return Offer(key, ends, low, high, most) if most else None

    def _row(self, depth: int) -> Laid | None:
        """Return where a row on one piece lies at a depth, as near the middle as it can; ``None`` if it can't."""
        span, (low, high) = self._span, self.reach(depth)
        if 2 * span > 3 * self.length:  # it would rock on a form so short
            return None
        if 2 * span > 3 * self.length:  # it would rock on a form so short
            return None
        middle = self.length - span  # where it would start, in half hundredths
        least, most = -2 * low, 2 * (self.length + high - span)
        if least > most:
            return None
        start = min(max(middle, least), most)
        if abs(start - middle) > self.each or 3 * abs(start - middle) > self.length:
            return None
        starts = tuple(start + 2 * n * (self.each + self.gap) for n in range(self.row.number))
        return Laid(starts, abs(start - middle) // 2)

    def level(self, cost: int) -> int:
        """Return the totals of wood at a cost in pieces, the quoins' two faces among it, in steps."""
        if cost not in self._levels:
            step, total = self.sums.step, 0
            for thick, pieces, need in self._faces:
                if cost >= pieces:
                    inner = self._deep(self.sums.at(cost - pieces), cost - pieces)
                    total |= inner >> (-(-need // step)) << (-(-need // step)) << (thick // step)
            self._levels[cost] = total
        return self._levels[cost]

    @cached_property
    def _faces(self) -> list[tuple[int, int, int]]:
        """The quoins' two faces: how thick they are together, what they cost, how deep the inner one must lie."""
        least: dict[tuple[int, int], int] = {}
        for bearing, outer in product(self.bearings, self.outers):
            need = self._needs[bearing, outer.key, outer.ends]
            both = (bearing.thickness + outer.thickness, bearing.cost + outer.cost)
            if need is not None:
                least[both] = min(need, least.get(both, need))
        return [(*both, need) for both, need in least.items()]

    @cached_property
    def _needs(self) -> dict[tuple[Offer, Key, int], int | None]:
        """How deep what the quoins bear on must lie at least, with what lies outside; ``None`` if it never can."""
        return {
            (bearing, outer.key, outer.ends): self._need(bearing, outer)
            for bearing, outer in product(self.bearings, self.outers)
        }

    def _need(self, bearing: Offer, outer: Offer) -> int | None:
        low, high = 0, self.q.gaps(self.side)[1]
        if self.row.parted or self._bears(low, bearing, outer):
            return 0
        if not self._bears(high, bearing, outer):
            return None
        while low + 1 < high:  # what goes at one depth goes at any greater
            middle = (low + high) // 2
            low, high = (low, middle) if self._bears(middle, bearing, outer) else (middle, high)
        return high

    def _bears(self, depth: int, bearing: Offer, outer: Offer) -> bool:
        """Say whether a row has its place outside a piece at some depth, and the cabinet a stick for either face."""
        laid = self._row(depth + bearing.thickness)
        wishes = laid and self.on_one(laid, depth, bearing)
        return bool(wishes) and self._some(bearing.key, wishes[0]) and self._some(outer.key, wishes[1])

    def on_one(self, laid: Laid, depth: int, bearing: Offer) -> tuple[Wish, Wish] | None:
        """Return what a row on one piece asks of that piece and of the one outside; ``None`` if it can't lie there."""
        low, high = self._covered(laid)
        first, last = min(self.bare, low), max(self.length - self.bare, high)
        reach, deep = self.reach(depth), self.reach(depth + bearing.thickness)
        if -reach[0] > first or last > self.length + reach[1]:
            return None
        return Wish(last - first, self.length + sum(reach)), Wish(high - low, self.length + sum(deep))

    @cached_property
    def possible(self) -> list[int]:
        """The totals that any wood makes, the quoins' two faces among it."""
        step, total = self.sums.step, 0
        for both in {thick for thick, _, _ in self._faces}:
            total |= self.sums.any << (both // step)
        low = self.q.gaps(self.side)[0] - self.closed - self.open
        return [n * step for n in places(total, -(-low // step), self.top // step)]

    def totals(self, cost: int, low: int, high: int) -> list[int]:
        """Return the totals of wood from low to high at a cost in pieces."""
        step = self.sums.step
        return [n * step for n in places(self.level(cost), -(-low // step), high // step)]

    def stacks(self, total: int, cost: int) -> Ordered:
        """Return the stacks whose wood comes to a total with so many pieces, best first."""
        if (total, cost) not in self._found:
            if self.row.parted:
                offs = sorted({laid.off // POINT for groups in self._groups.values() for laid in groups})
                stacks = chain.from_iterable(self._stacks(total, cost, off) for off in offs)
            else:
                stacks = self._stacks(total, cost)
                everywhere = self._row(0)
                if everywhere is None or everywhere.off:  # how far the row is off the middle depends on its depth
                    stacks = iter(sorted(stacks, key=lambda stack: (stack.cost, stack.wood)))
            self._found[total, cost] = ordered(stacks)
        return self._found[total, cost]

    def _stacks(self, total: int, cost: int, off: int | None = None) -> Iterator[Stack]:
        """Yield the stacks; of a row on two ends those whose middle is so many points off."""
        seen = set()
        for steady in (True, False):
            for outer in self.outers:
                floors = self._floors(total - outer.thickness)
                for bearing in self.bearings:
                    left, pieces = total - outer.thickness - bearing.thickness, cost - outer.cost - bearing.cost
                    need = self._needs[bearing, outer.key, outer.ends]
                    if pieces < 0 or need is None or left < need:
                        continue
                    for taken in self.sums.mixtures(left, pieces):
                        inner = tuple(offer for offer, n in zip(self.offers, taken, strict=True) for _ in range(n))
                        if inner.count(bearing) >= bearing.most:
                            continue
                        for floor, tower in floors if inner else [(0, 0)]:
                            if (tower == 0) == steady and (outer, bearing, inner, tower) not in seen:
                                seen.add((outer, bearing, inner, tower))
                                yield from self._faced(inner, bearing, outer, floor, tower, off)

    def _faced(
        self, inner: tuple[Offer, ...], bearing: Offer, outer: Offer, floor: int, tower: int, off: int | None
    ) -> Iterator[Stack]:
        depth = sum(offer.thickness for offer in inner)
        if self.row.parted:
            yield from self._parted(inner, bearing, outer, floor, tower, off)
            return
        laid = self._row(depth + bearing.thickness)
        faces = laid and self.on_one(laid, depth, bearing)
        stack = self._alone(inner, bearing, outer, laid, faces, floor, tower) if faces else None
        if stack and all(
            self._some(one.key, wish) for one, wish in zip((bearing, outer), stack.wishes[-2:], strict=True)
        ):
            yield stack

    def _some(self, key: Key, wish: Wish) -> bool:
        """Say whether the cabinet has a stick as long as is wished."""
        return any(wish.low <= length <= wish.high for length, _ in self.q.cabinet[key])

    def _covered(self, laid: Laid) -> tuple[int, int]:
        """Return the stretch that a row takes up, in whole hundredths."""
        return laid.starts[0] // 2, -(-laid.starts[-1] // 2) + self.each

    def bearing_starts(self, stack: Stack, course: Course, depth: int) -> list[int]:
        """Return where the sticks that the quoins bear on start."""
        laid = stack.laid
        assert laid is not None
        if laid.pair:
            return [laid.low, laid.low + laid.pair[0]]
        low, high = self._covered(laid)
        reach, length = self.reach(depth), course.length
        least = max(-reach[0], max(self.length - self.bare, high) - length)
        most = min(self.bare, low, self.length + reach[1] - length)
        return [min(max((self.length - length) // 2, least), most)]

    def outer_starts(self, stack: Stack, course: Course, depth: int) -> list[int]:
        """Return where the sticks outside the quoins start."""
        laid = stack.laid
        assert laid is not None
        low, high = self._covered(laid)
        reach, length = self.reach(depth), course.length
        if len(course.lengths) > 1:
            first, second = course.lengths
            least, most = Place(self.length, (low, high), self.reach(0), self._between(laid)).starts(first, second)
            start = min(max((self.length - length) // 2, least), most)
            return [start, start + first]
        least, most = max(-reach[0], high - length), min(low, self.length + reach[1] - length)
        return [min(max((self.length - length) // 2, least), most)]

    # --- a row on two ends --------------------------------------------------------------------------------

    def _outers_of_two(self) -> list[Offer]:
        """Return what may lie outside quoins that bear on two ends: one piece or two, that cover all of them."""
        low = self._span  # the two groups stand no nearer together than the quoins of one
        high, flush = self.longest(self.q.gaps(self.side)[1]), self.longest(0)
        kinds = [key for key in self.q.cabinet if key[0] in self._kinds]
        whole = [self._outer(key, 1, low, high) for key in kinds]
        ends = [self._outer(key, 2, 0, flush) for key in kinds]
        return [one for one in (*whole, *ends) if one]

    @cached_property
    def _groups(self) -> dict[Key, list[Laid]]:
        """Return where quoins lie on each pair of ends that they may bear on, least off the middle first."""
        found: dict[Key, list[Laid]] = {}
        for bearing in self.bearings:
            pairs = self.place.pairs(self.q.cabinet[bearing.key], bearing.low)
            laid = [one for pair in pairs if (one := self._grouped(pair))]
            found[bearing.key] = sorted(laid, key=lambda one: (one.off // POINT, sum(one.pair or ())))
        return found

    def _grouped(self, pair: tuple[int, int]) -> Laid | None:
        starts = self.place.starts(*pair)
        if starts is None:
            return None
        low, high = starts
        start = min(max(self.length // 2 - pair[0], low), high)
        joint, number, last = start + pair[0], self.row.number, self.length - self.bare
        parts = (joint - self.bare, last - joint)
        middles = (self.bare + joint, joint + last)  # in half hundredths
        best: Laid | None = None
        for first in range(1, number):
            there = (first, number - first)
            spans = [n * self.each + (n - 1) * self.gap for n in there]
            if any(span + self.gap > part for span, part in zip(spans, parts, strict=True)):
                continue
            if any(2 * n * sum(parts) < number * part for n, part in zip(there, parts, strict=True)):
                continue
            mean = sum(n * middle for n, middle in zip(there, middles, strict=True))  # number times it
            if not 2 * number * self.length <= 3 * mean <= 4 * number * self.length:
                continue
            off = abs(mean - number * self.length) // (2 * number)
            if best is None or off < best.off:
                at = [
                    middle - span + 2 * n * (self.each + self.gap)
                    for n_here, middle, span in zip(there, middles, spans, strict=True)
                    for n in range(n_here)
                ]
                best = Laid(tuple(at), off, pair, start)
        return best

    def _parted(
        self, inner: tuple[Offer, ...], bearing: Offer, outer: Offer, floor: int, tower: int, off: int | None
    ) -> Iterator[Stack]:
        depth = sum(offer.thickness for offer in inner) + bearing.thickness
        for laid in self._groups[bearing.key]:
            if laid.off // POINT != off or laid.pair is None or sum(laid.pair) < floor:
                continue
            first, last = self._covered(laid)
            faces = [Wish(bearing.low, bearing.high, self.place, bearing.low, laid.pair)]
            if outer.ends == 1:
                faces.append(Wish(last - first, self.length + sum(self.reach(depth))))
                if not self._some(outer.key, faces[-1]):
                    continue
            else:
                place = Place(self.length, (first, last), self.reach(0), self._between(laid))
                faces.append(Wish(last - first, outer.high, place, last - first))
            stack = self._alone(inner, bearing, outer, laid, faces, floor, tower)
            if stack:
                yield stack

    def _between(self, laid: Laid) -> tuple[int, int]:
        """Return between which places two ends outside the quoins may meet: between the two groups."""
        joint = 2 * (laid.low + (laid.pair or (0, 0))[0])
        ends = [start + 2 * self.each for start in laid.starts if start < joint]
        return -(-max(ends) // 2), min(start for start in laid.starts if start >= joint) // 2
