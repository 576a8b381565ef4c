"""Lockups drawn up for tests: form, chase and four sides of layers, written as one would say them at the stone.

A layer is a list of pieces, each ``(kind, thickness, length, low)``; ``low`` is where it begins along its side, from
the form's lower or left corner. Quoins open to fill what is left. Lengths are points.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from stonework.lockup import SIDES, Intent, Item, Lockup, PlacedForm, Side, along_x, lay
from stonework.shop import Chase, Material, Quoin, Shop

Piece = tuple[str, float, float, float]
Layer = Sequence[Piece]

WEDGE = Quoin("wedge", length=36, closed=18, travel=12, reserve=4, rest=3, gap=12, span=240)
LONG = Quoin(
    "long one", length=120, closed=21, travel=9, reserve=3, rest=1, gap=12, span=360, kind="one piece",
    bears_on="any wood",
)  # fmt: skip


def wood(thickness: float, length: float, low: float, kind: str = "furniture") -> Piece:
    return (kind, thickness, length, low)


def drawn(size: tuple[float, float], sides: Mapping[Side, Sequence[Layer]], opened: float = 21.0) -> Lockup:
    """Return a lockup of a form of that size, in a chase just as large as its sides make it.

    Quoins lie ``opened`` points thick, unless their layer says another thickness than 0.
    """
    width, height = size
    depth = {side: sum(layer[0][1] or opened for layer in sides[side]) for side in SIDES}
    chase = Chase("drawn", depth["left"] + width + depth["right"], depth["bottom"] + height + depth["top"])
    form = PlacedForm(depth["left"], depth["bottom"], width, height)
    items: list[Item] = []
    for side in SIDES:
        near = 0.0
        for order, layer in enumerate(sides[side], 1):
            for kind, thickness, length, low in layer:
                item = lay(form, side, order, kind, thickness=thickness or opened, length=length, low=low, near=near)
                items.append(replace(item, pattern=None))
            near += layer[0][1] or opened
    return Lockup(chase, form, "by hand", tuple(items), Intent(form.x, form.y, 6.0))


def shop_of(lockup: Lockup, *quoins: Quoin) -> Shop:
    """Return a shop that owns just what lies in a lockup."""
    stock = Counter(item.material for item in lockup.wood)
    metal = Counter(item.material for item in lockup.items if item.kind == "metal")
    strips = Counter(Material("lead", item.thickness, item.length) for item in lockup.items if item.kind == "lead")
    return Shop("drawn", (lockup.chase,), stock, quoins or (WEDGE, LONG), metal=metal, strips=strips)


def plain(size: tuple[float, float]) -> dict[Side, list[Layer]]:
    """Return four sides that nobody would find fault with: a piece on each solid one, a row of wedges on the others.

    The pieces run past one corner each and stop 3 points short at the other.
    """
    sides: dict[Side, list[Layer]] = {}
    for side in SIDES:
        length = size[0] if along_x(side) else size[1]
        low = -3.0 if side in ("bottom", "right") else 3.0
        reglet = [wood(6, length, low, "reglet")]
        count = -(-length // WEDGE.span)
        step = length / count
        row = [wood(0, 36, step * (n + 0.5) - 18, "quoin") for n in range(int(count))]
        body = [[wood(36, length, low)]]
        sides[side] = body if side in ("bottom", "left") else [*body, reglet, row, reglet]
    return sides
