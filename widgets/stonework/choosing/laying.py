"""From what was found, in hundredths of a point, back to the stone: where every stick lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stonework.choosing.courses import Offer
from stonework.choosing.dealing import Course
from stonework.choosing.question import ARRANGEMENTS, Corners, Question
from stonework.choosing.quoin_sides import QuoinSide
from stonework.choosing.search import Found
from stonework.choosing.sides import SolidSide
from stonework.choosing.stacks import Laid as RowLaid
from stonework.choosing.stacks import Stack
from stonework.lockup import SIDES, Intent, Item, Lockup, PlacedForm, Side, lay
from stonework.shop import Material
from stonework.units import PICA

Laid = tuple[Offer, Course]
_BROKEN = round(PICA * 100)  # joints of neighbouring courses at least so far apart aren't over each other


def name_of(corners: Corners) -> str:
    """Return what an arrangement of the corners is called."""
    return next((name for name, known in ARRANGEMENTS.items() if known == corners), "mixed corners")


def as_lockup(q: Question, found: Found) -> Lockup:
    """Return the lockup that was found."""
    made = {side: sum(_materials(q, course)[0].thickness for _, course in found.sides[side][2]) for side in q.solid}
    x = made["left"] if "left" in made else q.chase.width - q.form.width - made["right"]
    y = made["bottom"] if "bottom" in made else q.chase.height - q.form.height - made["top"]
    form = PlacedForm(x, y, q.form.width, q.form.height)
    lockup = Lockup(q.chase, form, name_of(found.corners), (), Intent(*q.target, q.tolerance))
    items = [item for side in SIDES for item in _lay_side(q, lockup, found.sides[side])]
    return replace(lockup, items=tuple(items))


def _materials(q: Question, course: Course) -> list[Material]:
    return [q.materials[(*course.key, length)] for length in course.lengths]


def _lay_side(q: Question, lockup: Lockup, found: tuple[SolidSide | QuoinSide, Stack, list[Laid]]) -> Iterator[Item]:
    side, stack, courses = found
    near, order, joints = 0.0, 0, []
    inner, faces = courses[: len(stack.inner)], courses[len(stack.inner) :]
    if isinstance(side, QuoinSide) and stack.laid:
        inner, faces[0] = longest_last(side, stack.laid, inner, faces[0])
    inner = in_order(side, inner, solid=not faces)
    for depth, (offer, course) in _with_depths(inner):
        order += 1
        starts, course = _starts(side, offer, course, depth, joints)
        joints = starts[1:]
        yield from _lay_course(q, lockup, side.side, order, course, starts, near)
        near += _materials(q, course)[0].thickness
    if stack.bearing is None or stack.laid is None or not isinstance(side, QuoinSide):
        return
    bearing, outer = (course for _, course in faces)
    depth = sum(offer.thickness for offer, _ in inner)
    yield from _lay_course(q, lockup, side.side, order + 1, bearing, side.bearing_starts(stack, bearing, depth), near)
    near += _materials(q, bearing)[0].thickness
    outside = _materials(q, outer)[0].thickness
    gap, pattern = lockup.gap(side.side), side.row.pattern
    for start in stack.laid.starts:
        thickness = gap - outside - near
        item = lay(
            lockup.form, side.side, order + 2, "quoin",
            thickness=thickness, length=pattern.length, low=start / 200, near=near,
        )  # fmt: skip
        yield replace(item, pattern=pattern.name)
    starts = side.outer_starts(stack, outer, depth + faces[0][0].thickness)
    yield from _lay_course(q, lockup, side.side, order + 3, outer, starts, gap - outside)


def longest_last(side: QuoinSide, laid: RowLaid, inner: list[Laid], bearing: Laid) -> tuple[list[Laid], Laid]:
    """Let quoins that bear on any wood bear on the longest stick that may lie there; return what is inside, and it."""
    if laid.pair or side.row.pattern.bears_on == "reglet":
        return inner, bearing
    every = [*inner, bearing]
    deep = sum(offer.thickness for offer, _ in every)
    for one in sorted(every, key=lambda one: -one[1].length):
        offer, course = one
        if offer.ends > 1 or not offer.wooden:
            continue
        others = [other for other in every if other is not one]
        wishes = side.standing.on_one(laid, deep - offer.thickness, offer.thickness)
        fits = wishes is not None and wishes[0].low <= course.length <= wishes[0].high
        if fits and _lies(side, in_order(side, others, solid=False), solid=False):
            return others, one
    return inner, bearing


def in_order(side: SolidSide | QuoinSide, courses: Sequence[Laid], *, solid: bool) -> list[Laid]:
    """Return inner courses from the form outward: shorter ones inside where that goes, with no joint by a joint."""
    ascending = sorted(courses, key=lambda one: (one[1].length, one[0].ends))
    if _lies(side, ascending, solid=solid):
        return ascending
    return side.ordered(courses)


def _lies(side: SolidSide | QuoinSide, courses: Sequence[Laid], *, solid: bool) -> bool:
    if solid and not courses[-1][0].wooden:
        return False
    return all(
        not offer.wooden or offer.ends > 1 or course.length <= side.longest(depth)
        for depth, (offer, course) in _with_depths(courses)
    )


def _with_depths(courses: Sequence[Laid]) -> Iterator[tuple[int, Laid]]:
    depth = 0
    for one in courses:
        yield depth, one
        depth += one[0].thickness


def _starts(
    side: SolidSide | QuoinSide, offer: Offer, course: Course, depth: int, joints: Sequence[int]
) -> tuple[list[int], Course]:
    """Return where the sticks of an inner course start; of two ends the order and place that break the joint inside."""
    if offer.ends == 1:
        low, high = side.starts(course.length, depth if offer.wooden else 0)
        return [min(max((side.length - course.length) // 2, low), high)], course
    ways = []
    for first, second in dict.fromkeys((course.lengths, course.lengths[::-1])):
        starts = side.place.starts(first, second)
        if starts is None:
            continue
        low, high = starts
        middle = min(max((side.length - first - second) // 2, low), high)
        for start in (middle, low, high):
            apart = min((abs(start + first - joint) for joint in joints), default=_BROKEN)
            ways.append((min(apart, _BROKEN), start == middle, start, first, second))
    _, _, start, first, second = max(ways)
    return [start, start + first], Course(course.key, (first, second))


def _lay_course(
    q: Question, lockup: Lockup, side: Side, order: int, course: Course, starts: Sequence[int], near: float
) -> Iterator[Item]:
    for m, start in zip(_materials(q, course), starts, strict=True):
        yield lay(lockup.form, side, order, m.kind, thickness=m.thickness, length=m.length, low=start / 100, near=near)
