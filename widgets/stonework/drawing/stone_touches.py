"""What can be touched on the stone: the room left on each side, and what lies outermost there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stonework.drawing.touching import Touch
from stonework.drawing.words import piece_name
from stonework.lockup import SLACK, Item, Lockup, Side, along_x

ROOM, LAYER, PIECE = "room", "layer", "piece"
"""The first word of what is told of a touch; the side follows, or a piece's number."""

_OFF = 24.0  # points of the picture: what is dragged so far from the form is taken off


def stone_touches(lockup: Lockup, side: Side, chosen: str) -> Iterator[Touch]:
    """Yield the outermost layer of a side, and the room outside it, where what is ``chosen`` can be laid."""
    layers, form = lockup.layers(side), lockup.form
    reached = max((lockup.seen_from(side, item).far for item in lockup.on(side)), default=0.0)
    if layers:
        yield _layer(side, layers[-1])
    left = lockup.gap(side) - reached
    if left <= SLACK:
        return
    flat = along_x(side)
    start, long = (form.x, form.width) if flat else (form.y, form.height)
    inner = {
        "bottom": form.y - reached - left,
        "top": form.y + form.height + reached,
        "left": form.x - reached - left,
        "right": form.x + form.width + reached,
    }[side]
    box = (start, inner, long, left) if flat else (inner, start, left, long)
    yield Touch(f"{ROOM} {side}", f"Lay {chosen} on the {side}", *box)


def _layer(side: Side, layer: tuple[Item, ...]) -> Touch:
    left, foot = min(item.x for item in layer), min(item.y for item in layer)
    right, top = max(item.x + item.width for item in layer), max(item.y + item.height for item in layer)
    what = "The quoins" if layer[0].kind == "quoin" else " and ".join(piece_name(item) for item in layer)
    ways = "left and right" if along_x(side) else "up and down"
    label = f"{what}, outermost on the {side}. Arrow keys slide {ways}; Delete takes off"
    return Touch(f"{LAYER} {side}", label, left, foot, right - left, top - foot, slides=True)


def pieces_to_choose(order: Sequence[Item]) -> Iterator[Touch]:
    """Yield every piece of a plan but its quoins, to be chosen by its number."""
    for n, item in enumerate(order, 1):
        if item.kind != "quoin":
            label = f"Piece {n}: {piece_name(item)}, on the {item.side}"
            yield Touch(f"{PIECE} {n}", label, item.x, item.y, item.width, item.height)


def dragged_off(side: Side, right: float, up: float) -> bool:
    """Say whether a drag leads outward from the form far enough to take a piece off."""
    return {"bottom": -up, "top": up, "left": -right, "right": right}[side] > _OFF
