"""The search over sides: corners, rows of quoins and stacks, best first, until the cabinet can give what is asked.

Two opposite sides are filled as if the cabinet were theirs alone; what both pairs cost together no lockup can be below.
Where the cabinet lacks sticks for all of it, each way on asks less of one side: either fewer courses of what is
lacking, or the next best way to fill two sides.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from itertools import count, product
from typing import Any, NamedTuple

from stonework.choosing.axis import Axis, Filled
from stonework.choosing.courses import Offer
from stonework.choosing.dealing import Course, Unsure, Wish, deal
from stonework.choosing.question import ARRANGEMENTS, CORNERS, Corner, Corners, Ends, Key, Question, ends_of
from stonework.choosing.quoin_sides import QuoinSide
from stonework.choosing.sharing import dealt_to
from stonework.choosing.sides import SolidSide
from stonework.choosing.stacks import PIECE, Stack
from stonework.choosing.standing import Standing
from stonework.lockup import Side

Key3 = tuple[Key, int, bool]
Bounds = frozenset[tuple[Side, Key3, int]]
"""For some sides, how many courses they may have at most of a kind and thickness, one piece or two, outside or not."""


class Found(NamedTuple):
    """A lockup found: its corners, and each side with its stack and the sticks of its courses.

    ``cost`` is what it costs, and ``bound`` what none can cost less than.
    """

    corners: Corners
    sides: dict[Side, tuple[SolidSide | QuoinSide, Stack, list[tuple[Offer, Course]]]]
    cost: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no lockup costs less."""
        return self.cost == self.bound


class _Node(NamedTuple):
    """Some of what is open is settled: the rows, the first of the corners, how much sides may have, and how far on."""

    rows: tuple[int, int]
    corners: tuple[Corner, ...]
    limits: Bounds
    on: tuple[int, int]


EFFORT = 2500
"""For how many steps the very best is looked for; for as many again any that holds.

Steps and not seconds, so that the same question has the same answer on every machine.
"""

QUICK = 150
"""For a first answer, while the very best is looked for."""

_LONGER = 0.5  # share of the effort, for something better than the first that was found in haste


class Stopped(Exception):
    """Whoever asked doesn't want the answer any more."""


class _Enough(Exception):
    """The effort is used up."""


class Search:
    """Looks for the best lockup of a question.

    ``effort`` says for how many steps it looks for the very best; ``stop`` is asked at every step whether to give up.
    """

    def __init__(self, q: Question, effort: int, stop: Callable[[], bool] | None = None) -> None:
        self._q, self._effort, self._stop = q, effort, stop
        self._steps, self._last = 0, 2 * effort
        self._found: Found | None = None
        # By their number: a pattern of quoin is slow to look up.
        self._rows = tuple(q.rows(side) for _, side in q.axes)
        self._axes: dict[tuple[int, int, Ends, Ends, Bounds], Axis] = {}
        self._pairs: dict[Any, tuple[Axis, Axis]] = {}
        self._sides: dict[Any, SolidSide | QuoinSide] = {}
        self._standings: dict[tuple[Side, Ends, int], Standing] = {}
        self._further: dict[tuple[Corner, ...], dict[tuple[Corner, ...], None]] = {}
        for corners, n in product(q.corners, range(CORNERS)):
            self._further.setdefault(corners[:n], {})[corners[: n + 1]] = None
        self._mixed: dict[tuple[Corner, ...], bool] = {}
        self._known: dict[tuple[Key, tuple[Wish, ...]], bool] = {}
        self._tie = count()
        self._unsure: int | None = None  # the least cost of what may do, but was passed over
        self.exhausted = False
        """Whether all was looked at, so that there is none if none was found."""

    def _tick(self) -> None:
        self._steps += 1
        if self._steps > self._last:
            raise _Enough
        if self._stop and self._stop():
            raise Stopped

    def best(self) -> Found | None:
        """Return the best lockup found, or ``None``; raises ``Stopped``."""
        try:
            self._look()
            self.exhausted = self._unsure is None
            found = self._found and self._found._replace(bound=self._found.cost)
        except _Enough:
            found = self._found
        if found and self._unsure is not None:
            return found._replace(bound=min(found.bound, self._unsure))
        return found

    def _look(self) -> None:
        """Look through all there is, best first, until nothing better than what is found can be left."""
        heap = [(row_cost, self._turn(node), node) for row_cost, node in self._roots()]
        heapq.heapify(heap)
        bound, hurried, met = 0, False, set[_Node]()
        while heap:
            if not hurried and self._steps > self._effort:
                bound, hurried = heap[0][0], True
                # The furthest on first: any lockup soon, rather than the best one late.
                heap = [(self._far(node, cost), turn, node) for cost, turn, node in heap]
                heapq.heapify(heap)
            self._tick()
            known, _, node = heapq.heappop(heap)
            least = self._least(node)
            if least is None or (self._found and least >= self._found.cost):
                continue
            if not hurried and least > known:
                heapq.heappush(heap, (least, self._turn(node), node))
                continue
            cost = self._cost(node)
            if cost is None or (self._found and cost >= self._found.cost):
                continue
            if not hurried and cost > known:
                heapq.heappush(heap, (cost, self._turn(node), node))
                continue
            for after in self._on(node):
                if isinstance(after, Found):
                    self._found = after._replace(bound=bound)
                    if not hurried:
                        return  # nothing that waits can cost less
                    self._last = min(self._last, self._steps + round(_LONGER * self._effort))
                elif after not in met:  # one may ask less of several sides in any order
                    met.add(after)
                    rank = self._far(after, cost) if hurried else cost
                    heapq.heappush(heap, (rank, self._turn(after), after))

    def _turn(self, node: _Node) -> tuple[bool, int, int]:
        """Return what goes first of nodes that cost alike: an arrangement that has a name, then the furthest on."""
        settled = len(node.corners)
        if node.corners not in self._mixed:
            self._mixed[node.corners] = all(known[:settled] != node.corners for known in ARRANGEMENTS.values())
        return self._mixed[node.corners], -settled, next(self._tie)

    @staticmethod
    def _far(node: _Node, cost: int) -> int:
        return cost - (len(node.limits) + sum(node.on) + len(node.corners)) * PIECE * 4

    def _roots(self) -> Iterator[tuple[int, _Node]]:
        for (i, one), (j, other) in product(*(enumerate(rows) for rows in self._rows)):
            most = one.pattern.count if one.pattern is other.pattern else None
            if most is None or one.number + other.number <= most:
                yield (one.missing + other.missing) * PIECE, _Node((i, j), (), frozenset(), (0, 0))

    def _pair(self, node: _Node) -> tuple[Axis, Axis]:
        """Return both pairs of opposite sides as a node has them."""
        key = node[:3]
        if key not in self._pairs:
            self._pairs[key] = self._axis(0, node), self._axis(1, node)
        return self._pairs[key]

    def _axis(self, n: int, node: _Node) -> Axis:
        """Return one pair of opposite sides as a node has them."""
        sides = self._q.axes[n]
        mine, theirs = (ends_of(side, node.corners) for side in sides)
        limits = frozenset(one for one in node.limits if one[0] in sides) if node.limits else node.limits
        key = (n, node.rows[n], mine, theirs, limits)
        if key not in self._axes:
            solid = self._side(sides[0], mine, None, limits)
            self._axes[key] = Axis(solid, self._side(sides[1], theirs, (n, node.rows[n]), limits), self._tick)
        return self._axes[key]

    def _side(self, side: Side, ends: Ends, row: tuple[int, int] | None, limits: Bounds) -> Any:
        """Return one side, solid if it has no row; sides that are asked for again are kept."""
        own = {what: most for of, what, most in limits if of == side}
        key = (side, ends, row, frozenset(own.items()))
        if key not in self._sides:
            if row is None:
                self._sides[key] = SolidSide(self._q, side, ends, own)
            else:
                standing = self._standing(side, ends, row)
                self._sides[key] = QuoinSide(self._q, side, ends, self._rows[row[0]][row[1]], own, standing)
        return self._sides[key]

    def _standing(self, side: Side, ends: Ends, row: tuple[int, int]) -> Standing:
        if (side, ends, row[1]) not in self._standings:
            self._standings[side, ends, row[1]] = Standing(self._q, side, ends, self._rows[row[0]][row[1]])
        return self._standings[side, ends, row[1]]

    def _filled(self, node: _Node) -> tuple[Filled, Filled] | None:
        one, other = self._pair(node)
        first = one.ways.get(node.on[0])
        second = other.ways.get(node.on[1]) if first else None
        return (first, second) if first and second else None

    def _least(self, node: _Node) -> int | None:
        """Return what no lockup of a node costs less than, by sums alone; ``None`` if there is none."""
        one, other = self._pair(node)
        return None if one.least is None or other.least is None else one.least + other.least

    def _cost(self, node: _Node) -> int | None:
        filled = self._filled(node)
        return None if filled is None else filled[0].cost + filled[1].cost

    def _on(self, node: _Node) -> Iterator[_Node | Found]:
        """Yield the lockup that a node has come to, or the nodes that part it into what it may still come to."""
        filled = self._filled(node)
        if filled is None:
            return
        settled = len(node.corners)
        if settled < CORNERS:
            for corners in self._further[node.corners]:
                yield node._replace(corners=corners)
            return
        sides: list[tuple[SolidSide | QuoinSide, Stack]] = []
        for axis, one in zip(self._pair(node), filled, strict=True):
            sides += zip((axis.solid, axis.quoins), one.stacks, strict=True)
        lacking = self._lacking(sides)
        if lacking:
            for side, what, used in lacking:
                limits = {(of, key): most for of, key, most in node.limits}
                limits[side, what] = used - 1
                yield node._replace(limits=frozenset((*key, most) for key, most in limits.items()), on=(0, 0))
            return
        cost = filled[0].cost + filled[1].cost
        try:
            dealt = dealt_to(self._q, sides)
        except Unsure:
            dealt, self._unsure = None, min(cost, self._unsure or cost)
        if dealt is None:
            first, second = node.on
            if self._goes(sides[2:]):  # else it goes with no way to fill the first two sides
                yield node._replace(on=(first + 1, second))
            if first == 0:
                yield node._replace(on=(first, second + 1))
            return
        given = {side.side: (side, stack, courses) for (side, stack), courses in zip(sides, dealt, strict=True)}
        yield Found(node.corners, given, cost, cost)

    def _goes(self, sides: list[tuple[SolidSide | QuoinSide, Stack]]) -> bool:
        """Say whether the cabinet has all that some sides ask for, or may have."""
        try:
            return dealt_to(self._q, sides) is not None
        except Unsure:
            return True

    def _lacking(self, sides: list[tuple[SolidSide | QuoinSide, Stack]]) -> list[tuple[Side, Key3, int]]:
        """Return the fewest demands on one kind and thickness that the cabinet can't meet together, if there are such.

        Whatever else fills these sides, it can't ask as much of it: each side is taken at its most lenient.
        """
        wanted: dict[Key, dict[tuple[Side, Key3], list[Wish]]] = {}
        for side, stack in sides:
            own = {(offer.key, offer.ends): offer for offer in side.offers}
            for offer in (*stack.inner, *filter(None, (stack.bearing,))):
                wish = side.lenient(own[offer.key, offer.ends])
                asked = wanted.setdefault(offer.key, {})
                asked.setdefault((side.side, (offer.key, offer.ends, False)), []).append(wish)
            if stack.outer:
                wish = side.lenient(stack.outer, outside=True)
                asked = wanted.setdefault(stack.outer.key, {})
                asked[side.side, (stack.outer.key, stack.outer.ends, True)] = [wish]
        found = [self._conflict(key, asked) for key, asked in wanted.items() if not self._met(key, asked)]
        return min(found, key=len, default=[])

    def _conflict(self, key: Key, asked: dict[tuple[Side, Key3], list[Wish]]) -> list[tuple[Side, Key3, int]]:
        """Leave out of demands that can't be met together what they can't be met without either."""
        for what in list(asked):
            while asked[what]:
                fewer = {**asked, what: asked[what][1:]}
                if self._met(key, fewer):
                    break
                asked = fewer
        return [(side, what, len(wishes)) for (side, what), wishes in asked.items() if wishes]

    def _met(self, key: Key, asked: dict[tuple[Side, Key3], list[Wish]]) -> bool:
        """Say whether the cabinet can meet some demands together, or may."""
        wishes = tuple(wish for wishes in asked.values() for wish in wishes)
        if (key, wishes) not in self._known:
            try:
                self._known[key, wishes] = deal(self._q.cabinet[key], wishes) is not None
            except Unsure:
                self._known[key, wishes] = True
        return self._known[key, wishes]
