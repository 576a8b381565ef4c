"""A quoin in a plan, told by its shape and not by colour: a slant between two wedges, or a round nut in one piece.

The daylight between its halves is the drawing's, the same however far it is open, so that it shows in a small print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from stonework.drawing.picture import Corner, Segment
from stonework.lockup import Item, PlacedForm, along_x
from stonework.shop import Quoin

_DAYLIGHT = 0.18  # between the halves, and how thick a wedge is at its two ends: parts of the quoin's thickness
_BROAD, _THIN = 0.72, 0.28
_NUT = 0.34  # its radius, as a part of the thickness


def quoin_parts(item: Item, pattern: Quoin | None) -> list[list[Corner]]:
    """Return the halves of a quoin as closed shapes; a quoin whose pattern isn't known is one plain body."""
    length, thick = item.length, item.thickness
    broad, thin = {"two wedges": (_BROAD, _THIN), "one piece": (0.5, 0.5)}[pattern.kind] if pattern else (1.0, 1.0)
    slit = _DAYLIGHT / 2 if pattern else 0.0
    inner = [(0.0, 0.0), (length, 0.0), (length, (thin - slit) * thick), (0.0, (broad - slit) * thick)]
    other = [(length - u, thick - v) for u, v in inner] if pattern else []
    return [_lying(item, half) for half in (inner, other) if half]


def quoin_nut(item: Item, pattern: Quoin | None) -> list[list[Corner]]:
    """Return the nut in the middle of a quoin of one piece, as a closed shape; nothing for any other."""
    if pattern is None or pattern.kind != "one piece":
        return []
    radius, turns = _NUT * item.thickness, [n * math.pi / 8 for n in range(16)]
    middle = (item.length / 2, item.thickness / 2)
    return [_lying(item, [(middle[0] + radius * math.cos(a), middle[1] + radius * math.sin(a)) for a in turns])]


def quoin_marks(item: Item, pattern: Quoin | None) -> list[Segment]:
    """Return the lines that tell a quoin's kind within its outline: a slant, or a nut where its jaws meet."""
    if pattern is None:
        return []
    length, thick = item.length, item.thickness
    if pattern.kind == "two wedges":
        (start, stop) = _lying(item, [(0.0, _BROAD * thick), (length, _THIN * thick)])
        return [(start, stop)]
    (nut,), half, radius = quoin_nut(item, pattern), thick / 2, _NUT * thick
    low, near, far, high = _lying(item, [(u, half) for u in (0.0, length / 2 - radius, length / 2 + radius, length)])
    return [(low, near), (far, high), *pairwise([*nut, nut[0]])]


def quoin_room(item: Item, pattern: Quoin | None) -> PlacedForm:
    """Return where on a quoin words stand clear of its nut: all of it, or the half toward its left or lower end."""
    length = item.length if not quoin_nut(item, pattern) else item.length / 2 - _NUT * item.thickness
    if along_x(item.side):
        return PlacedForm(item.x, item.y, length, item.thickness)
    return PlacedForm(item.x, item.y, item.thickness, length)


def _lying(item: Item, points: Iterable[Corner]) -> list[Corner]:
    """Carry points, along a quoin and across it, to where it lies."""
    return [(item.x + u, item.y + v) if along_x(item.side) else (item.x + v, item.y + u) for u, v in points]
