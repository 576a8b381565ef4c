"""Chases that differ from what a record or a lesson says: measured anew, or of another shop."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from stonework.lockup import SLACK, Item, Lockup, Side
from stonework.shop import Chase, Shop
from stonework.units import POINTS_PER_INCH, write_length

MOST = POINTS_PER_INCH / 2
"""By how much, in points, a chase of one name may measure otherwise and be the same chase; this workbook's own figure.
"""

_IN_INCHES = re.compile(r"([0-9.]+) ?[×x] ?([0-9.]+)")


class Found(NamedTuple):
    """A lockup in a shop's chase, and in words what that changed; no words if nothing did."""

    lockup: Lockup
    words: str


def in_this_shop(lockup: Lockup, shop: Shop) -> Found:
    """Return a lockup in this shop's chase of its name, as that measures now.

    Raises ``ValueError`` with a sentence if the shop has no such chase, or one of quite another size.
    """
    if lockup.chase in shop.chases:
        return Found(replace(lockup, chase=next(one for one in shop.chases if one == lockup.chase)), "")
    chase = next((one for one in shop.chases if one.name == lockup.chase.name.removeprefix("the ")), None)
    if chase is None:
        have = ", ".join(f"“{one.name}”" for one in shop.chases)
        raise ValueError(
            f"That lockup lies in a chase “{lockup.chase.name}”, which this shop doesn't have; it has {have}."
        )
    wider, higher = chase.width - lockup.chase.width, chase.height - lockup.chase.height
    if max(abs(wider), abs(higher)) > MOST:
        raise ValueError(
            f"That lockup lies in a chase “{chase.name}” of {_size(lockup.chase)}; this shop's measures "
            f"{_size(chase)}, which is another chase. Lay the form up anew."
        )
    moved = _moved(lockup, chase, wider, higher)
    changes = [
        f"{write_length(abs(round(by, 2)))} {more if by > 0 else less}"
        for by, more, less in ((wider, "wider", "narrower"), (higher, "higher", "lower"))
        if abs(by) > SLACK
    ]
    if not changes:
        return Found(moved, "")
    return Found(
        moved,
        f"The {chase.name} chase now measures {' and '.join(changes)} than when this was laid. The wood stays against "
        "its solid sides; the quoins open to fill what is left, and it is judged anew.",
    )


def _size(chase: Chase) -> str:
    return f"{write_length(round(chase.width, 1))} × {write_length(round(chase.height, 1))}"


def _moved(lockup: Lockup, chase: Chase, wider: float, higher: float) -> Lockup:
    """Return the lockup in a chase so much wider and higher: what is pushed to the right or the top goes with it."""
    quoins = lockup.quoin_sides
    right = wider if "left" in quoins and "right" not in quoins else 0.0
    up = higher if "bottom" in quoins and "top" not in quoins else 0.0
    form = replace(lockup.form, x=lockup.form.x + right, y=lockup.form.y + up)
    block = lockup.block and lockup.block.moved(right, up)
    by: dict[Side, float] = {"bottom": up, "top": higher - up, "left": right, "right": wider - right}
    items = []
    for one in lockup.items:
        item = replace(one, x=one.x + right, y=one.y + up)
        outside = [other.order for other in lockup.quoins(item.side)]
        more = by[item.side] if outside else 0.0
        if outside and item.order > max(outside):  # it lies against the iron
            away = {"bottom": (0, -more), "top": (0, more), "left": (-more, 0), "right": (more, 0)}[item.side]
            item = replace(item, x=item.x + away[0], y=item.y + away[1])
        elif item.kind == "quoin" and abs(more) > 0 and item.thickness + more > 0:
            item = _opened(item, item.side, more)
        items.append(item)
    return replace(lockup, chase=chase, form=form, items=tuple(items), block=block)


def _opened(item: Item, side: Side, more: float) -> Item:
    """Return a quoin opened so much further, away from the form."""
    thick = item.thickness + more
    if side in ("bottom", "top"):
        return replace(item, thickness=thick, height=thick, y=item.y - more * (side == "bottom"))
    return replace(item, thickness=thick, width=thick, x=item.x - more * (side == "left"))


def nearest_chase(chases: Sequence[Chase], name: str) -> Chase:
    """Return the chase of a name; if there is none, that nearest in size to the inches in the name, or else the first.

    Sizes are compared by the ratio of their sides, so that twice too wide is as far as half as wide.
    """
    for chase in chases:
        if chase.name == name.removeprefix("the "):
            return chase
    inches = _IN_INCHES.search(name)
    if inches is None or not all(float(side) > 0 for side in inches.groups()):
        return chases[0]
    short, long = sorted(float(side) * POINTS_PER_INCH for side in inches.groups())

    def far(chase: Chase) -> float:
        one, other = sorted((chase.width, chase.height))
        return math.hypot(math.log(one / short), math.log(other / long))

    return min(chases, key=far)
