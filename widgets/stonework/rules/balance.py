"""Whether every piece of a side can rest in balance under the quoins' push, face against face, only pushing.

The push of a side passes from face to face, and at each face somewhere within what the two faces share. Nothing pulls
and nothing rubs, so forces and moments of every piece must cancel. The form is met within the middle third of its side;
the quoins of a row push alike; a piece against the form takes at least a quarter of what its part of the touched length
would give it, and every piece at least a fiftieth of the whole. The last three figures are this workbook's own.

Where each layer is one piece, or two between whole ones, the push crosses every layer at one and the same distance from
the form's end: then a pass over the layers narrows down where that may be. Anything else is put as a linear question.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import NamedTuple

from stonework.lockup import SLACK, Extent, Item, Lockup, Side
from stonework.rules.linear import least

FAIR_SHARE = 1 / 4
LEAST_SHARE = 1 / 50

Range = tuple[float, float]


class Balance(NamedTuple):
    """How the push of a side fares, in points along it from the form's lower or left corner.

    ``push`` is where it may pass as far as it comes: the whole way if ``stops`` is empty, or else up to the pieces in
    ``stops``, which it can't pass in balance.
    """

    push: Range
    stops: tuple[Item, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether every piece of the side can rest in balance."""
        return not self.stops


@dataclass(frozen=True, slots=True)
class _Face:
    """One body of a side: where it lies along it and outward. The form and the chase have no item."""

    item: Item | None
    extent: Extent

    @property
    def is_quoin(self) -> bool:
        return self.item is not None and self.item.kind == "quoin"


def balance(lockup: Lockup, side: Side) -> Balance:
    """Return how the push of a finished side fares. What nothing touches is left to the rule for gaps."""
    length = lockup.side_length(side)
    third = (length / 3 - SLACK, length * 2 / 3 + SLACK)
    courses = _courses(lockup, side)
    passed = third
    for n in range(1, len(courses)):
        reached = _pass(courses[: n + 1], third)
        if reached is None:
            met = courses[n] if courses[n][0].item else courses[n - 1]
            return Balance(passed, tuple(face.item for face in met if face.item))
        passed = reached
    return Balance(passed)


def _courses(lockup: Lockup, side: Side) -> list[list[_Face]]:
    """Return form, layers and chase, outward; what begins as far from the form is one course."""
    length, gap = lockup.side_length(side), lockup.gap(side)
    faces = sorted(
        (_Face(item, lockup.seen_from(side, item)) for item in lockup.on(side)), key=lambda face: face.extent.near
    )
    courses: list[list[_Face]] = [[_Face(None, Extent(0.0, length, -1.0, 0.0))]]
    for face in faces:
        if courses[-1][0].item and face.extent.near - courses[-1][0].extent.near <= SLACK:
            courses[-1].append(face)
        else:
            courses.append([face])
    rail = max(lockup.chase.width, lockup.chase.height)
    return [*courses, [_Face(None, Extent(-rail, length + rail, gap, gap + 1))]]


def _pass(courses: Sequence[Sequence[_Face]], third: Range) -> Range | None:
    """Return where the push may pass all these courses, with nothing behind the last; ``None`` if nowhere."""
    if _plain(courses):
        return _narrowed(courses, third)
    return _asked(courses, third)


# --- the pass over the layers ---------------------------------------------------------------------------------


def _plain(courses: Sequence[Sequence[_Face]]) -> bool:
    """Say whether each course is one piece, or several between whole ones, and meets its neighbours only."""
    several = [len(course) > 1 for course in courses]
    if any(one and other for one, other in pairwise(several)):
        return False
    for inner, outer in pairwise(courses):
        if any(abs(face.extent.far - outer[0].extent.near) > SLACK for face in inner):
            return False
    return not any(len(course) > 1 and len({face.is_quoin for face in course}) > 1 for course in courses)


def _narrowed(courses: Sequence[Sequence[_Face]], third: Range) -> Range | None:
    low, high = third
    for n, course in enumerate(courses[1:], 1):
        around = [courses[n - 1]] if n + 1 == len(courses) else [courses[n - 1], courses[n + 1]]
        around = [other for other in around if len(other) == 1]
        ranges = [_within(face, [other[0] for other in around]) for face in course]
        if any(one is None for one in ranges):
            return None
        shares = _shares(courses, course)
        if course[0].is_quoin:
            at = tuple(sum(one[end] for one in ranges) / len(ranges) for end in (0, 1))
        else:
            at = (_leaning(ranges, shares, 0), _leaning(ranges, shares, 1))
        low, high = max(low, at[0]), min(high, at[1])
        if low > high:
            return None
    return low, high


def _within(face: _Face, others: Iterable[_Face]) -> Range | None:
    """Return what a piece shares with all these faces along the side; ``None`` if nothing."""
    low, high = face.extent.low, face.extent.high
    for other in others:
        low, high = max(low, other.extent.low), min(high, other.extent.high)
    return (low, high) if high - low > SLACK else None


def _leaning(ranges: Sequence[Range], shares: Sequence[float], end: int) -> float:
    """Return how far to its low (0) or high (1) end a push may lean that these pieces share."""
    ends = [one[end] for one in ranges]
    most = min(ends) if end == 0 else max(ends)
    return most + sum(share * (one - most) for share, one in zip(shares, ends, strict=True))


def _shares(courses: Sequence[Sequence[_Face]], course: Sequence[_Face]) -> list[float]:
    """Return the least that each piece of a course must take of the whole push."""
    if course is not courses[1]:
        return [LEAST_SHARE] * len(course)
    touched = [max(0.0, _overlap(courses[0][0], face)) for face in course]
    return [max(LEAST_SHARE, FAIR_SHARE * one / (sum(touched) or 1.0)) for one in touched]


def _overlap(one: _Face, other: _Face) -> float:
    return min(one.extent.high, other.extent.high) - max(one.extent.low, other.extent.low)


# --- the linear question --------------------------------------------------------------------------------------


def _asked(courses: Sequence[Sequence[_Face]], third: Range) -> Range | None:
    """Ask the whole question at once.

    A force somewhere between two ends is two forces at the ends, so each contact is two numbers that aren't negative.
    """
    bodies = [face for course in courses for face in course]
    last = {id(face) for face in courses[-1]}
    length = bodies[0].extent.high
    contacts = [
        (
            inner,
            outer,
            max(inner.extent.low, outer.extent.low) / length,
            min(inner.extent.high, outer.extent.high) / length,
        )
        for inner, outer in product(bodies, bodies)
        if abs(inner.extent.far - outer.extent.near) <= SLACK and _overlap(inner, outer) > SLACK
    ]
    numbers = 2 * len(contacts)
    rows: list[list[float]] = []
    right: list[float] = []

    def sums(of: _Face, *, outward: bool, moment: bool) -> list[float]:
        row = [0.0] * numbers
        for n, (inner, outer, low, high) in enumerate(contacts):
            if (inner if outward else outer) is of:
                row[2 * n], row[2 * n + 1] = (low, high) if moment else (1.0, 1.0)
        return row

    def equal(row: Sequence[float], side: float) -> None:
        rows.append(list(row))
        right.append(side)

    def minus(one: Sequence[float], other: Sequence[float]) -> list[float]:
        return [mine - its for mine, its in zip(one, other, strict=True)]

    form = bodies[0]
    equal(sums(form, outward=True, moment=False), 1.0)
    at_least = [(sums(form, outward=True, moment=True), third[0] / length)]
    at_most = [(sums(form, outward=True, moment=True), third[1] / length)]
    for course in courses[1:]:
        shares = _shares(courses, course)
        for face, share in zip(course, shares, strict=True):
            if face.item is None:
                continue
            taken = sums(face, outward=False, moment=False)
            at_least.append((taken, share))
            if id(face) not in last:
                equal(minus(taken, sums(face, outward=True, moment=False)), 0.0)
                equal(minus(sums(face, outward=False, moment=True), sums(face, outward=True, moment=True)), 0.0)
        for one, other in pairwise(face for face in course if face.is_quoin):
            equal(minus(sums(one, outward=False, moment=False), sums(other, outward=False, moment=False)), 0.0)
    slacks = len(at_least) + len(at_most)
    rows = [[*row, *([0.0] * slacks)] for row in rows]
    for n, (row, side) in enumerate((*at_least, *at_most)):
        spare = [0.0] * slacks
        spare[n] = -1.0 if n < len(at_least) else 1.0
        rows.append([*row, *spare])
        right.append(side)
    moment = [*sums(form, outward=True, moment=True), *([0.0] * slacks)]
    low = least(moment, rows, right)
    if low is None:
        return None
    high = least([-one for one in moment], rows, right)
    return low * length, -(high or 0.0) * length
