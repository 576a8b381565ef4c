"""Moving a form by exchanging wood between two opposite sides, and turning it with strips at one end of each side.

Moved, a form has as much more wood here as it has less there. Thicknesses are points, in whole hundredths.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, combinations_with_replacement
from typing import Literal, NamedTuple

from stonework.lockup import Lockup, Side, opposite
from stonework.shop import Shop


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
    ways = _exchanges(*(tuple(map(_grid, side)) for side in (here, there)), _grid(by), _stock(spare), most)
    best = min(ways, key=lambda way: (way.handled, sum(map(sum, way)), way), default=None)
    return best and Exchange(*(tuple(size / 100 for size in part) for part in best))


def _exchanges(
    here: Sequence[int], there: Sequence[int], by: int, spare: Counter[int], most: int
) -> Iterator[Exchange]:
    made: dict[int, list[tuple[int, ...]]] = {}
    for n in range(most + 1):
        for sizes in combinations_with_replacement(sorted({*spare, *here, *there}), n):
            made.setdefault(sum(sizes), []).append(sizes)
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
        stock[_grid(size)] += count
    return stock


def _grid(points: float) -> int:
    return round(100 * points)


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
    for material, count in (Counter(shop.stock) - Counter(item.material for item in lockup.wood)).items():
        if lengths and min(lengths) <= material.length <= max(lengths):
            spare[material.thickness] += count
    return spare


class Strip(NamedTuple):
    """A strip laid between a form and its wood, at one end of a side: how thick it is, in points."""

    side: Side
    end: Side
    thickness: float


def turning_strips(
    low: Literal["left", "right"], by: float, run: float, width: float, height: float
) -> tuple[Strip, ...]:
    """Return the strips, one a side, that turn a form of this size until it prints straight. All lengths are points.

    ``low`` is the end at which a printed line lies nearer the foot, as the sheet is read, and ``by`` how much nearer
    than at its other end, ``run`` away. A strip is to its side as ``by`` is to ``run``: similar triangles. What lies in
    on one side is given back at the other end of the side opposite, so the wood outside stays straight.
    """
    # On the stone it is the other end of the line that is low: the form is the sheet's mirror image.
    foot, head = ("left", "right") if low == "right" else ("right", "left")
    across, up = by * width / run, by * height / run
    return (
        Strip("bottom", foot, across),
        Strip("top", head, across),
        Strip(foot, "top", up),
        Strip(head, "bottom", up),
    )
