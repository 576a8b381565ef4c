"""Where the labels of a plan stand: each along its piece, clear of other labels, and over as little else as can be."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from stonework.drawing.picture import LABEL, Corner
from stonework.lockup import Filling, Item, PlacedForm, along_x

Reach = tuple[float, float, float, float]
"""What something covers of the drawing: left, foot, right, head, in points."""

LINE = 1.5 * LABEL  # how high a line of a label is with the paper behind it, in points of the picture


class Spot(NamedTuple):
    """A label at a place, written upward if it is turned."""

    at: Corner
    label: str
    turned: bool = False

    def reach(self, scale: float) -> Reach:
        """Return about what it covers, at so many points of the picture for each point drawn."""
        lines = self.label.count("\n") + 1
        width, height = wide(self.label) / scale, lines * LINE / scale
        if self.turned:
            width, height = height, width
        return (self.at[0] - width / 2, self.at[1] - height / 2, self.at[0] + width / 2, self.at[1] + height / 2)


def wide(label: str) -> float:
    """Return about how wide a label is, in points of the picture."""
    return 0.62 * LABEL * max(map(len, label.split("\n"))) + 6


def outline(piece: Item | PlacedForm | Filling) -> Reach:
    """Return what a piece covers."""
    return (piece.x, piece.y, piece.x + piece.width, piece.y + piece.height)


def covered(one: Reach, other: Reach) -> float:
    """Return how much of one lies over the other, in square points."""
    across, up = (min(one[n + 2], other[n + 2]) - max(one[n], other[n]) for n in (0, 1))
    return max(0.0, across) * max(0.0, up)


def clearest(spots: Iterable[Spot], scale: float, labels: Iterable[Reach], bodies: Iterable[Reach] = ()) -> Spot:
    """Return the spot that hides least, and other labels least of all; the first of those as good."""
    labels, bodies = list(labels), list(bodies)

    def hidden(spot: Spot) -> tuple[float, float]:
        reach = spot.reach(scale)
        return sum(covered(reach, one) for one in labels), sum(covered(reach, one) for one in bodies)

    return min(spots, key=hidden)


def spots_along(item: Item, label: str, inside: Corner, scale: float) -> list[Spot]:
    """Return where a label may stand on a piece, its middle first, or past its ends: never on the iron.

    ``inside`` is how wide and how high the chase is within, in points.
    """
    flat = along_x(item.side)
    (start, across), (room, deep) = ((item.x, item.y), inside) if flat else ((item.y, item.x), inside[::-1])
    long, thick = wide(label) / scale, LINE / scale
    level = max(thick / 2, min(deep - thick / 2, across + item.thickness / 2))
    middle, free = start + item.length / 2, max(0.0, item.length - long) / 2
    along = [middle + sign * n / 10 * free for n in range(11) for sign in (1, -1)]
    along += [start + item.length + long / 2 + 2, start - long / 2 - 2]
    along = [at for at in along if long / 2 <= at <= room - long / 2] or [room / 2]
    return [Spot((at, level) if flat else (level, at), label, not flat) for at in along]
