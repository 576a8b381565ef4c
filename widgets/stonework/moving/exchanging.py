"""Moving a form by exchanging wood between two opposite sides, and turning it with strips at one end of each side.

Moved, a form has as much more wood here as it has less there. Thicknesses are points, in whole hundredths.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, combinations_with_replacement
from typing import Literal, NamedTuple

from stonework.lockup import Lockup, Side, opposite, turned_side
from stonework.shop import Shop
from stonework.stacking import grid

CARD = 1.0
"""The most that paper or card may make up, in points: thicker there are leads. This workbook's own figure."""

_LEADS = 3  # of one thickness; more would be a slug


class Exchange(NamedTuple):
    """What is taken out on two opposite sides and what is put in there instead: thicknesses in points."""

    out_here: tuple[float, ...]
    in_here: tuple[float, ...]
    out_there: tuple[float, ...]
    in_there: tuple[float, ...]

    @property
    def handled(self) -> int:
        """How many pieces are handled; one that only changes sides counts once."""
        changing = Counter(self.out_here) & Counter(self.in_there)
        changing += Counter(self.out_there) & Counter(self.in_here)
        return sum(map(len, self)) - changing.total()


def exchange(
    here: Sequence[float], there: Sequence[float], by: float, spare: Mapping[float, int], most: int = 3
) -> Exchange | None:
    """Return how to make one side thicker by so many points and the other thinner, with the fewest pieces handled.

    ``here`` and ``there`` are the wood on the two sides and ``spare`` what lies in the cabinet, by thickness. Every
    piece is taken to have a length that suits; nothing here looks at it. No more than ``most`` pieces go out of a side
    or into one. Among equals the least wood is handled. ``None`` if there is no way.
    """
    ways = _exchanges(*(tuple(map(grid, side)) for side in (here, there)), grid(by), _stock(spare), most)
    best = min(ways, key=lambda way: (way.handled, sum(map(sum, way)), way), default=None)
    return best and Exchange(*(tuple(size / 100 for size in part) for part in best))


class Moved(NamedTuple):
    """How a form is moved: what is exchanged at its solid side and what, if anything, at the quoins opposite.

    ``opening`` is how far the quoins then stand open when finger-tight, and ``left_over`` how many points of the way
    are left for paper or card.
    """

    out_solid: tuple[float, ...]
    in_solid: tuple[float, ...]
    out_quoins: tuple[float, ...]
    in_quoins: tuple[float, ...]
    opening: float
    left_over: float

    @property
    def handled(self) -> int:
        """How many pieces are handled; one that only changes sides counts once."""
        return Exchange(*self[:4]).handled


def move_form(
    solid: Sequence[float],
    inside: Sequence[float],
    by: float,
    spare: Mapping[float, int],
    opening: float,
    most_open: float,
    most: int = 3,
) -> Moved | None:
    """Return how to make the wood at the solid side thicker by so many points, or thinner for less than 0.

    ``solid`` is the wood there and ``inside`` that inside the quoins opposite, which stand ``opening`` points open and
    may stand ``most_open``: what they take up needs no exchange. What comes nearest is first, up to ``CARD`` short;
    then the fewest pieces handled, then the least change of the quoins. No more than ``most`` pieces go out of a side
    or into one. ``None`` if there is no way.
    """
    here, there = tuple(map(grid, solid)), tuple(map(grid, inside))
    stock, wanted, sign = _stock(spare), grid(abs(by)), 1 if by >= 0 else -1
    made = _made((here, there), stock, most)
    sums = sorted(made)
    best: tuple[int, int, int, tuple[tuple[int, ...], ...]] | None = None
    for way in range(wanted, max(-1, wanted - grid(CARD) - 1), -1):
        low, high = (grid(opening) - sign * way - end for end in (grid(most_open), 0))
        for out, into in _ways(here, made, sign * way, sign * way, sums, most):
            for out_there, into_there in _ways(there, made, low, high, sums, most):
                if Counter(into) + Counter(into_there) <= stock + Counter(out) + Counter(out_there):
                    found = (out, into, out_there, into_there)
                    change = sum(into_there) - sum(out_there)
                    rank = (Exchange(*found).handled, abs(sign * way + change), sum(map(sum, found)), found)
                    best = min(best, rank) if best else rank
        if best:
            change = sum(best[3][3]) - sum(best[3][2])
            sizes = (tuple(size / 100 for size in part) for part in best[3])
            return Moved(*sizes, (grid(opening) - sign * way - change) / 100, (wanted - way) / 100)
    return None


def _ways(
    side: tuple[int, ...], made: Mapping[int, list[tuple[int, ...]]], low: int, high: int, sums: list[int], most: int
) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Yield what to take out of a side and put in for it to grow by an amount from low to high."""
    for out in _taken(side, most):
        start, stop = bisect_left(sums, sum(out) + low), bisect_right(sums, sum(out) + high)
        for total in sums[start:stop]:
            for into in made[total]:
                if not set(out) & set(into):
                    yield out, into


def _made(sides: tuple[tuple[int, ...], ...], spare: Counter[int], most: int) -> dict[int, list[tuple[int, ...]]]:
    """Return what can be made of no more than so many pieces, by its sum."""
    made: dict[int, list[tuple[int, ...]]] = {}
    for n in range(most + 1):
        for sizes in combinations_with_replacement(sorted({*spare, *sides[0], *sides[1]}), n):
            made.setdefault(sum(sizes), []).append(sizes)
    return made


def _exchanges(
    here: Sequence[int], there: Sequence[int], by: int, spare: Counter[int], most: int
) -> Iterator[Exchange]:
    made = _made((tuple(here), tuple(there)), spare, most)
    for out_here in _taken(here, most):
        for out_there in _taken(there, most):
            there_is = spare + Counter(out_here) + Counter(out_there)
            for in_here in made.get(sum(out_here) + by, ()):
                for in_there in made.get(sum(out_there) - by, ()):
                    if Counter(in_here) + Counter(in_there) <= there_is:
                        yield Exchange(out_here, in_here, out_there, in_there)


def _taken(side: Sequence[int], most: int) -> set[tuple[int, ...]]:
    """Return every choice of so many pieces or fewer."""
    return {tuple(sorted(taken)) for n in range(most + 1) for taken in combinations(side, n)}


def _stock(spare: Mapping[float, int]) -> Counter[int]:
    stock: Counter[int] = Counter()
    for size, count in spare.items():
        stock[grid(size)] += count
    return stock


def inner_wood(lockup: Lockup, side: Side) -> tuple[float, ...]:
    """Return the thicknesses of the wood on a side that may be exchanged, from the form outward.

    Where there are quoins, the piece they bear on and all outside it stay.
    """
    layers = lockup.on(side)
    quoins = [n for n, item in enumerate(layers) if item.kind == "quoin"]
    return tuple(item.thickness for item in (layers[: quoins[0]][:-1] if quoins else layers))


def between(lockup: Lockup, shop: Shop, side: Side) -> Counter[float]:
    """Return what the cabinet has left for a side and the one opposite, by thickness.

    Only pieces are counted that are no shorter and no longer than those that lie there already. Whether one of them
    suits the place where it would go isn't asked.
    """
    lengths = [item.length for where in (side, opposite(side)) for item in lockup.on(where) if item.kind != "quoin"]
    spare: Counter[float] = Counter()
    used = Counter(item.material for item in lockup.pieces)
    for material, count in (Counter({**shop.stock, **shop.strips}) - used).items():
        if lengths and min(lengths) <= material.length <= max(lengths):
            spare[material.thickness] += count
    return spare


def with_leads(spare: Counter[float], shop: Shop) -> Counter[float]:
    """Return what the cabinet has left and, beside it, as many leads as a side may want, cut from the shop's strips."""
    return spare + Counter(dict.fromkeys((one for one in shop.leads if one not in spare), _LEADS))


class Strip(NamedTuple):
    """A strip laid between a form and its wood, at one end of a side: how thick it is, in points."""

    side: Side
    end: Side
    thickness: float


def turning_strips(
    low: Literal["left", "right"], by: float, run: float, width: float, height: float, head: Side = "top"
) -> tuple[Strip, ...]:
    """Return the strips, one a side, that turn a form of this size until it prints straight. All lengths are points.

    ``low`` is the end at which a printed line lies nearer the foot, as the sheet is read, and ``by`` how much nearer
    than at its other end, ``run`` away. A strip is to its side as ``by`` is to ``run``: similar triangles. What lies in
    on one side is given back at the other end of the side opposite, so the wood outside stays straight. Width and
    height are as one reads the form; its ``head`` points to that side of the chase.
    """
    # On the stone it is the other end of the line that is low: the form is the sheet's mirror image.
    nearer, farther = ("left", "right") if low == "right" else ("right", "left")
    across, up = by * width / run, by * height / run
    strips = (
        Strip("bottom", nearer, across),
        Strip("top", farther, across),
        Strip(nearer, "top", up),
        Strip(farther, "bottom", up),
    )
    return tuple(Strip(turned_side(one.side, head), turned_side(one.end, head), one.thickness) for one in strips)
