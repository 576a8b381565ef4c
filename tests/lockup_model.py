"""The choice of a lockup stated once more, as a model for the CP-SAT solver of OR-tools: a proof to test against.

It follows a written description of the family of lockups and shares nothing with ``stonework.choosing``. Lengths are
whole hundredths of a point, and places along a side count from the form's corner at the side's low end. What falls on
halves or quarters of a hundredth is held doubled (``..2``) or four times (``..4``).

How the courses between form and quoins are ordered isn't modelled place by place. What reaches no further for lying
deeper goes next to the form, then the wood, shorter before longer: reach never shrinks with depth, so that a longer
piece needs the greater depth, and to swap two neighbours into this order never hurts. Of a solid side it only remains
to ask for some wood. No side takes more than ``MOST`` pieces.
"""

from __future__ import annotations

import time
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import product
from typing import TYPE_CHECKING, Literal, NamedTuple

from ortools.sat.python import cp_model

if TYPE_CHECKING:
    from stonework.form import Form
    from stonework.shop.things import Chase, Quoin, Shop

Cost = tuple[int, int, int, int]
"""Pieces, place, quoins, towers: what is compared, in this order."""

Way = Literal["through", "stops", "stepped"]
"""What a side does at a corner: it runs through, it stops at the neighbour, or their courses step past each other."""

WAYS: tuple[Way, ...] = ("through", "stops", "stepped")
FACING: dict[Way, Way] = {"through": "stops", "stops": "through", "stepped": "stepped"}
ACROSS, UP = ("bottom", "top"), ("left", "right")
NEIGHBOURS = {"bottom": UP, "top": UP, "left": ACROSS, "right": ACROSS}
"""At a side's low end, and at its high one."""

WOOD = ("furniture", "reglet")
WORKERS, SEED = 2, 1
MOST = 12
"""Pieces on one side."""

Literals = Mapping["Course", cp_model.IntVar]


class Size(NamedTuple):
    """A size in the cabinet in hundredths, how many pieces one of it counts for, and how many there are."""

    kind: str
    thickness: int
    length: int
    price: int
    count: int


class Course(NamedTuple):
    """One piece, or two end to end, the first lying lower; its length is that of both, and so is its price.

    One piece of wood ``shifts``: it may reach further where it lies deeper.
    """

    kind: str
    thickness: int
    length: int
    price: int
    pieces: tuple[Size, ...]
    shifts: bool


def course_of(*pieces: Size) -> Course:
    """Return the course that these pieces make."""
    kind, thickness = pieces[0].kind, pieces[0].thickness
    length, price = sum(piece.length for piece in pieces), sum(piece.price for piece in pieces)
    return Course(kind, thickness, length, price, pieces, len(pieces) == 1 and kind in WOOD)


class Pattern(NamedTuple):
    """A pattern of quoin in hundredths."""

    length: int
    closed: int
    most_open: int
    rest: int
    gap: int
    span: int
    reglet: bool
    count: int | None

    def row(self, quoins: int) -> int:
        """Return how long so many of them are in a row."""
        return quoins * self.length + (quoins - 1) * self.gap


def hundredths(points: float) -> int:
    """Return a length in points as the nearest whole number of hundredths."""
    return round(100 * points)


def cabinet(shop: Shop) -> list[Size]:
    """Return the sizes of a shop's cabinet but for what is kept for last; what is alike to the hundredth is one."""
    held: Counter[tuple[str, int, int, int]] = Counter()
    for one, count in shop.pieces.items():
        if one not in shop.keep:
            held[one.kind, hundredths(one.thickness), hundredths(one.length), 1] += count
    return [Size(*size, count) for size, count in held.items() if count > 0]


def pattern_of(quoin: Quoin) -> Pattern:
    """Return a pattern of quoin in hundredths."""
    sizes = (quoin.length, quoin.closed, quoin.most_open, quoin.rest, quoin.gap, quoin.span)
    return Pattern(*map(hundredths, sizes), quoin.bears_on == "reglet", quoin.count)


def total(chosen: Literals, of: Callable[[Course], int]) -> cp_model.LinearExprT:
    """Return the sum of a figure of every course times how many of it there are."""
    return cp_model.LinearExpr.weighted_sum(list(chosen.values()), [int(of(course)) for course in chosen])


def ends_of(chosen: Literals, number: int) -> list[cp_model.LinearExprT]:
    """Return how long the pieces of the course chosen are, from the lower, if it has so many; else noughts."""
    such = {course: on for course, on in chosen.items() if len(course.pieces) == number}
    return [total(such, lambda one, at=at: one.pieces[at].length) for at in range(number)]


class Model:
    """The whole lockup: corners, place and four sides, and what is to be least, in its order."""

    def __init__(
        self, form: Form, chase: Chase, shop: Shop, patterns: Sequence[Pattern], target: tuple[float, float],
        tolerance: float, solid: Sequence[str], clear: float, unbacked: float,
    ) -> None:  # fmt: skip
        self.cp = cp_model.CpModel()
        self.clear, self.unbacked, self.patterns = hundredths(clear), hundredths(unbacked), patterns
        self.iron = max(self.clear, hundredths(chase.clear_corners))  # where the chase's corners are rounded
        self.sizes = cabinet(shop)
        width, height = hundredths(form.width), hundredths(form.height)
        self.length = {"bottom": width, "top": width, "left": height, "right": height}
        off = hundredths(tolerance)
        self.gap: dict[str, cp_model.LinearExprT] = {}
        self.least_gap, self.most_gap, place = {}, {}, []
        spares = hundredths(chase.width) - width, hundredths(chase.height) - height
        for (low, high), spare, aim in zip((UP, ACROSS), spares, map(hundredths, target), strict=True):
            at = self.cp.new_int_var(aim - off, aim + off, low)
            self.gap |= {low: at, high: spare - at}
            self.least_gap |= {low: max(0, aim - off), high: max(0, spare - aim - off)}
            self.most_gap |= {low: max(0, aim + off), high: max(0, spare - aim + off)}
            place.append(self.hundreds(at - aim, off, beyond=100))
        self.corners = {  # of each, what the horizontal side does there
            (across, up): {way: self.cp.new_bool_var(f"{across} {way} at {up}") for way in WAYS}
            for across, up in product(ACROSS, UP)
        }
        for literals in self.corners.values():
            self.cp.add_exactly_one(literals.values())

        rows = [QuoinSide(self, name) for name in NEIGHBOURS if name not in solid]
        sides = [*rows, *(Side(self, name, solid=True) for name in solid)]
        uses = [each for side in sides for each in side.uses]
        for side in sides:
            self.cp.add(sum(total(each, lambda one: one.price) for each in side.uses) <= MOST)
        for size in self.sizes:
            self.cp.add(sum(total(each, lambda one, s=size: one.pieces.count(s)) for each in uses) <= size.count)
        for pattern in patterns:
            if pattern.count is not None:
                self.cp.add(sum(k * on for side in rows for p, k, _, on in side.rows if p is pattern) <= pattern.count)
        pieces = sum(total(each, lambda one: one.price) for each in uses) + sum(side.missing for side in rows)
        off_middle, towers = sum(side.off for side in rows), sum(side.tower for side in sides)
        self.goals: list[cp_model.LinearExprT] = [pieces, sum(place), off_middle, towers]

    def hundreds(self, value: cp_model.LinearExprT, most: int, beyond: int = 0) -> cp_model.IntVar:
        """Return floor(max(0, |value| - beyond) / 100), or more: as little as that once it is minimised."""
        whole = self.cp.new_int_var(0, most // 100, "")
        for signed in (value, -value):
            self.cp.add(signed <= 100 * whole + beyond + 99)
        return whole

    def ways(self, side: str, end: int) -> dict[Way, cp_model.IntVar]:
        """Return the literals of what a side does at its low end (0) or its high one (1)."""
        neighbour = NEIGHBOURS[side][end]
        if (side, neighbour) in self.corners:
            return self.corners[side, neighbour]
        return {FACING[way]: literal for way, literal in self.corners[neighbour, side].items()}

    def reach(self, side: str, end: int, way: Way, depth: int) -> int:
        """Return how far beyond the form a side reaches at an end for what lies at a depth."""
        room = self.least_gap[NEIGHBOURS[side][end]]
        stepped = max(0, min(depth - self.clear, room - self.iron))
        return {"through": room - self.iron, "stops": -self.clear, "stepped": stepped}[way]

    def reach_at(self, side: str, end: int, depth: cp_model.LinearExprT) -> cp_model.IntVar:
        """Return that reach for a depth that isn't known yet."""
        room = self.least_gap[NEIGHBOURS[side][end]]
        reach, lesser = (self.cp.new_int_var(min(-self.clear, -self.iron), room, "") for _ in range(2))
        stepped = self.cp.new_int_var(0, room, "")
        self.cp.add_min_equality(lesser, [depth - self.clear, room - self.iron])
        self.cp.add_max_equality(stepped, [lesser, 0])
        for way, literal in self.ways(side, end).items():
            value = stepped if way == "stepped" else self.reach(side, end, way, 0)
            self.cp.add(reach == value).only_enforce_if(literal)
        return reach


class Side:
    """One side: the courses that lie between form and quoins, or fill a solid side."""

    def __init__(self, model: Model, name: str, solid: bool) -> None:
        self.model, self.cp, self.name = model, model.cp, name
        self.length, self.gap, self.most_gap = model.length[name], model.gap[name], model.most_gap[name]
        self.first, self.last = model.unbacked, self.length - model.unbacked  # what every course backs
        self.ends = model.ways(name, 0), model.ways(name, 1)
        self.tower, self.alone = self.cp.new_bool_var(f"tower {name}"), self.cp.new_bool_var(f"one course {name}")
        self.inner, self.least = {}, {}
        for course in self.courses(mirrored=False):
            least = {(low, high): self.least_depth(course, low, high) for low, high in product(WAYS, WAYS)}
            if any(depth is not None for depth in least.values()):
                self.least[course] = least
                self.inner[course] = self.cp.new_int_var(0, self.most(course), f"{name} {course}")
        self.uses: list[Literals] = [self.inner]
        self.depth = self.depth_of(self.inner)
        if solid:
            self.lay(self.depth)
            self.cp.add(self.depth == self.gap)
            self.cp.add(total(self.inner, lambda one: one.kind in WOOD) >= 1)
            self.cp.add(sum(self.inner.values()) <= 1).only_enforce_if(self.alone)

    def depth_of(self, uses: Literals) -> cp_model.LinearExprT:
        """Return how deep courses are together, by how many there are of each thickness: that's quicker to solve."""
        depth: cp_model.LinearExprT = 0
        for thickness in sorted({course.thickness for course in uses}):
            number = self.cp.new_int_var(0, self.most_gap // thickness, "")
            self.cp.add(total(uses, lambda one, t=thickness: one.thickness == t) == number)
            depth += thickness * number
        return depth

    def courses(self, mirrored: bool) -> Iterator[Course]:
        """Return every course that the gap has room for; of two ends, only one order unless ``mirrored``."""
        yield from (course_of(size) for size in self.model.sizes if size.thickness <= self.most_gap)
        short = [one for one in self.model.sizes if one.price == 1 and one.length < self.last - self.first]
        for (i, one), (j, other) in product(enumerate(short), repeat=2):
            if one[:2] == other[:2] and (mirrored or i <= j) and self.most(course_of(one, other)) > 0:
                yield course_of(one, other)

    def most(self, course: Course) -> int:
        """Return how many of a course there are the pieces and the room for."""
        held = min(piece.count // course.pieces.count(piece) for piece in course.pieces)
        return min(held, self.most_gap // course.thickness)

    def lies(self, course: Course, low: Way, high: Way, depth: int) -> bool:
        """Return whether a course that backs the side can lie at a depth, two ends either way about."""
        depth, long = depth if course.shifts else 0, self.length
        least = max(self.last - course.length, -self.model.reach(self.name, 0, low, depth))
        most = min(self.first, long + self.model.reach(self.name, 1, high, depth) - course.length)
        if len(course.pieces) == 1:
            return least <= most
        joints = ((least + piece.length, most + piece.length) for piece in course.pieces)
        return any(max(8 * low, long) <= min(8 * high, 7 * long) for low, high in joints)

    def least_depth(self, course: Course, low: Way, high: Way) -> int | None:
        """Return the least depth at which a course can lie, or None if there is none in this gap."""
        depths = range(self.most_gap + 1)
        at = bisect_left(depths, True, key=lambda depth: self.lies(course, low, high, depth))
        return at if at < len(depths) else None

    def lay(self, depth: cp_model.LinearExprT) -> None:
        """Make every inner course lie, and the side a tower if it is one, its courses being so deep together."""
        alike: dict[tuple[int, ...], list[Course]] = {}
        for course in self.inner:
            alike.setdefault((course.shifts, *sorted(piece.length for piece in course.pieces)), []).append(course)
        for courses in alike.values():
            one, used = courses[0], self.cp.new_bool_var("")
            before = {c: n for c, n in self.inner.items() if not c.shifts or c.length < one.length}
            for course in courses:
                self.cp.add(self.inner[course] == 0).only_enforce_if(~used)
            for (low, high), least in self.least[one].items():
                corners = self.ends[0][low], self.ends[1][high]
                if least is None:
                    self.cp.add_bool_or(~used, *(~literal for literal in corners))
                elif least > 0:
                    self.cp.add(total(before, lambda one: one.thickness) >= least).only_enforce_if(used, *corners)
            self.cp.add(depth <= 2 * one.length).only_enforce_if(used, ~self.tower, ~self.alone)


class QuoinSide(Side):
    """A side with inner courses, a bearing one, a row of quoins and an outer course at the iron."""

    def __init__(self, model: Model, name: str) -> None:
        super().__init__(model, name, solid=False)
        wood = [course for course in self.courses(mirrored=True) if course.kind in WOOD]
        self.bearing, self.outer = ({course: self.cp.new_bool_var("") for course in wood} for _ in range(2))
        self.uses += [self.bearing, self.outer]
        self.rows = [
            (pattern, k, first, self.cp.new_bool_var(f"{name} {k} quoins, {first} on the first end"))
            for pattern in model.patterns
            for k in range(1, -(-self.length // pattern.span) + 1)
            for first in range(k if self.parted(pattern) else 1)  # 0: the bearing course is one piece
        ]
        self.on_two, self.outer_two = self.cp.new_bool_var("row on two ends"), self.cp.new_bool_var("two ends outside")
        self.cp.add_exactly_one(on for *_, on in self.rows)
        self.cp.add(sum(on for _, _, first, on in self.rows if first) == self.on_two)
        for uses, two in ((self.bearing, self.on_two), (self.outer, self.outer_two)):
            self.cp.add_exactly_one(uses.values())
            self.cp.add(total(uses, lambda one: len(one.pieces) - 1) == two)
        self.cp.add_implication(self.outer_two, self.on_two)

        self.at_quoins = self.depth + self.depth_of(self.bearing)
        at_outer = self.gap - self.depth_of(self.outer)
        self.reaches = [  # of the bearing course, and of the quoins and the outer course
            [model.reach_at(name, end, depth) for end in (0, 1)] for depth in (self.depth, self.at_quoins)
        ]
        self.flat = [  # of two ends, wherever they lie
            sum(model.reach(name, end, way, 0) * on for way, on in self.ends[end].items()) for end in (0, 1)
        ]
        self.rooms = [model.least_gap[neighbour] for neighbour in NEIGHBOURS[name]]
        self.start2, self.joint2 = self.place(2), self.place(2)  # a row on one piece; the joint of a bearing course
        self.row4, self.between4 = ((self.place(4), self.place(4)) for _ in range(2))  # the row; between its two groups
        self.aside = self.cp.new_int_var(0, (self.length + sum(self.rooms)) // 100, f"row aside {name}")
        most = max([0, *(max(pattern.most_open, pattern.rest) for pattern in model.patterns)])
        opening = self.cp.new_int_var(0, most, f"opening {name}")
        for pattern, k, first, on in self.rows:
            self.cp.add(opening <= pattern.most_open).only_enforce_if(on)
            self.cp.add(self.at_quoins + pattern.closed + opening == at_outer).only_enforce_if(on)
            for uses in (self.bearing, self.outer) if pattern.reglet else ():
                self.cp.add(total(uses, lambda one: one.kind != "reglet") == 0).only_enforce_if(on)
            self.row_on_two(pattern, first, k - first, on) if first else self.row_on_one(pattern, k, on)
        self.join()
        self.lie_outside()
        self.lay(self.at_quoins)
        bearing_length = total(self.bearing, lambda one: one.length)
        self.cp.add(self.at_quoins <= 2 * bearing_length).only_enforce_if(~self.tower, ~self.alone)
        self.cp.add(self.depth == 0).only_enforce_if(self.alone)
        self.missing = sum((-(-self.length // pattern.span) - k) * on for pattern, k, _, on in self.rows)
        self.off = self.aside + model.hundreds(opening - sum(pattern.rest * on for pattern, *_, on in self.rows), most)

    def parted(self, pattern: Pattern) -> bool:
        """Say whether hardly a stick fits as one bearing piece: none in a pinwheel."""
        model, kinds = self.model, ("reglet",) if pattern.reglet else WOOD
        most = self.length + max(self.rooms_beside(model)) - model.iron - model.clear
        sticks = [size.length for size in model.sizes if size.kind in kinds]
        return not any(self.last - self.first <= stick <= most for stick in sticks)

    def rooms_beside(self, model: Model) -> list[int]:
        """Return the least gaps at both ends."""
        return [model.least_gap[neighbour] for neighbour in NEIGHBOURS[self.name]]

    def place(self, times: int) -> cp_model.IntVar:
        """Return so many times a place that isn't known yet, on the side or as far beyond as anything reaches."""
        return self.cp.new_int_var(-times * self.rooms[0], times * (self.length + self.rooms[1]), "")

    def all_of(self, on: cp_model.LiteralT, *those: cp_model.BoundedLinearExpression) -> None:
        """Make all of these hold if a literal does."""
        for one in those:
            self.cp.add(one).only_enforce_if(on)

    def any_of(self, on: cp_model.LiteralT, *those: cp_model.BoundedLinearExpression) -> None:
        """Make one of these hold, or more, if a literal does."""
        literals = [self.cp.new_bool_var("") for _ in those]
        for literal, one in zip(literals, those, strict=True):
            self.cp.add(one).only_enforce_if(literal)
        self.cp.add_bool_or(~on, *literals)

    def covers(
        self, on: cp_model.LiteralT, length: cp_model.LinearExprT,
        stretches4: Sequence[tuple[cp_model.LinearExprT, cp_model.LinearExprT]], reaches: Sequence[cp_model.IntVar],
    ) -> None:  # fmt: skip
        """Make one piece of a length able to lie so that it covers all of these stretches, if a literal holds."""
        low, high = reaches
        self.all_of(on, length <= self.length + low + high)
        for (start4, _), (_, end4) in product(stretches4, repeat=2):
            self.all_of(on, end4 - start4 <= 4 * length, end4 <= 4 * (self.length + high), -4 * low <= start4)

    def row_on_one(self, pattern: Pattern, k: int, on: cp_model.IntVar) -> None:
        """Place a row whose bearing course is one piece, as near the middle as it may, and make that piece cover it."""
        row, start2, (low, high) = pattern.row(k), self.start2, self.reaches[1]
        middle2, most2 = (self.length - row) // 2 * 2, 2 * (self.length + high - row)  # a whole hundredth
        self.all_of(on, start2 >= -2 * low, start2 <= most2)
        self.any_of(on, start2 <= middle2, start2 == -2 * low)
        self.any_of(on, start2 >= middle2, start2 == most2)
        for beside2 in (start2 - middle2, middle2 - start2):
            self.all_of(on, beside2 <= pattern.length, 3 * beside2 <= self.length, beside2 <= 200 * self.aside + 199)
        if 2 * row > 3 * self.length:
            self.cp.add(on == 0)
        stretch4 = (2 * start2, 2 * start2 + 4 * row)
        self.all_of(on, self.row4[0] == stretch4[0], self.row4[1] == stretch4[1])
        self.covers(on, ends_of(self.bearing, 1)[0], [(4 * self.first, 4 * self.last), stretch4], self.reaches[0])

    def row_on_two(self, pattern: Pattern, first: int, second: int, on: cp_model.IntVar) -> None:
        """Place a row in two groups, each in the middle of what its end of the bearing course backs."""
        k, long, joint2 = first + second, self.length, self.joint2
        parts2 = joint2 - 2 * self.first, 2 * self.last - joint2
        for n, part2 in zip((first, second), parts2, strict=True):
            self.all_of(on, 2 * (pattern.row(n) + pattern.gap) <= part2)
            self.all_of(on, 4 * n * (self.last - self.first) >= k * part2)
        mean4k = k * joint2 + 2 * first * self.first + 2 * second * self.last  # times 4 and k, both
        self.all_of(on, 3 * mean4k >= 4 * k * long, 3 * mean4k <= 8 * k * long)
        for beside4k in (mean4k - 2 * k * long, 2 * k * long - mean4k):
            self.all_of(on, beside4k <= 400 * k * (self.aside + 1) - 1)
        begins4, rows = (4 * self.first, 2 * joint2), (pattern.row(first), pattern.row(second))
        starts4 = [begin4 + part2 - 2 * row for begin4, part2, row in zip(begins4, parts2, rows, strict=True)]
        self.all_of(on, self.row4[0] == starts4[0], self.between4[0] == starts4[0] + 4 * rows[0])
        self.all_of(on, self.between4[1] == starts4[1], self.row4[1] == starts4[1] + 4 * rows[1])

    def join(self) -> None:
        """Make a bearing course of two ends lie with its joint as near the middle as it may."""
        on, long, start2 = self.on_two, self.length, self.place(2)
        first, second = ends_of(self.bearing, 2)
        end2 = start2 + 2 * (first + second)
        self.all_of(on, start2 <= 2 * self.first, end2 >= 2 * self.last, self.joint2 == start2 + 2 * first)
        self.all_of(on, start2 >= -2 * self.flat[0], end2 <= 2 * (long + self.flat[1]))
        self.all_of(on, 4 * self.joint2 >= long, 4 * self.joint2 <= 7 * long)
        self.any_of(on, self.joint2 <= long, end2 == 2 * self.last, start2 == -2 * self.flat[0])
        self.any_of(on, self.joint2 >= long, start2 == 2 * self.first, end2 == 2 * (long + self.flat[1]))

    def lie_outside(self) -> None:
        """Make the outer course cover the row: one piece, or two ends that meet between the groups."""
        self.covers(~self.outer_two, ends_of(self.outer, 1)[0], [self.row4], self.reaches[1])
        on, start4, (first, second) = self.outer_two, self.place(4), ends_of(self.outer, 2)
        joint4, end4 = start4 + 4 * first, start4 + 4 * first + 4 * second
        self.all_of(on, start4 <= self.row4[0], end4 >= self.row4[1])
        self.all_of(on, start4 >= -4 * self.flat[0], end4 <= 4 * (self.length + self.flat[1]))
        self.all_of(on, joint4 >= self.between4[0], joint4 <= self.between4[1])
        for length in (first, second):
            self.all_of(on, 4 * length <= self.row4[1] - self.row4[0] - 1)


def optimum(
    form: Form, chase: Chase, shop: Shop, *, quoins: Sequence[Quoin], target: tuple[float, float], tolerance: float,
    solid: Sequence[str], clear: float = 3.0, unbacked: float = 6.0, limit: float = 60.0,
) -> tuple[Cost | None, bool]:  # fmt: skip
    """Return the least cost of any lockup of the family, or None if there is none, and whether all of that is proved.

    ``limit`` is how many seconds it may take in all, but for building the model. A cost that isn't proved is that of
    a lockup, or more than that of one.
    """
    patterns = [pattern_of(quoin) for quoin in quoins]
    model = Model(form, chase, shop, patterns, target, tolerance, solid, clear, unbacked)
    end, best, proved = time.monotonic() + limit, None, True
    for at, goal in enumerate(model.goals):
        model.cp.minimize(goal)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers, solver.parameters.random_seed = WORKERS, SEED
        solver.parameters.max_time_in_seconds = max(0.0, end - time.monotonic())
        status = solver.solve(model.cp)
        if status == cp_model.INFEASIBLE and best is None:
            return None, True
        if status == cp_model.UNKNOWN:
            return best, False
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            raise AssertionError(f"CP-SAT says {solver.status_name(status)} of goal {at}: {model.cp.validate()}")
        proved = proved and status == cp_model.OPTIMAL
        best = tuple(solver.value(one) for one in model.goals)
        model.cp.add(goal == best[at])
        model.cp.clear_hints()
        for i, value in enumerate(solver.response_proto.solution):
            model.cp.add_hint(model.cp.get_int_var_from_proto_index(i), value)
    return best, proved
