"""Small geometry of rectangles and their extents, and their names in a finding."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from stonework.lockup import (
    SLACK,
    Extent,
    Filling,
    Item,
    Lockup,
    PlacedForm,
    Rectangle,
    Side,
    along_x,
)
from stonework.shop import Material, Shop
from stonework.units import write_length


def overlaps(one: Rectangle, other: Rectangle) -> tuple[float, float]:
    """Return how far two rectangles overlap in x and in y; negative where they stand apart."""
    return (
        min(one.x + one.width, other.x + other.width) - max(one.x, other.x),
        min(one.y + one.height, other.y + other.height) - max(one.y, other.y),
    )


def beyond(one: Rectangle | Filling, outline: Rectangle) -> tuple[float, float, float, float]:
    """Return how far a rectangle reaches beyond an outline at left, foot, right and head; less than 0 if short."""
    return (
        outline.x - one.x,
        outline.y - one.y,
        one.x + one.width - outline.x - outline.width,
        one.y + one.height - outline.y - outline.height,
    )


def turned_to(side: Side, one: PlacedForm | Filling, other: PlacedForm | Filling) -> Extent:
    """Return where another rectangle lies as one looks out of one side of a rectangle; ``near`` and ``far`` outward."""
    if along_x(side):
        low, high = other.x - one.x, other.x + other.width - one.x
    else:
        low, high = other.y - one.y, other.y + other.height - one.y
    left, foot, right, head = beyond(other, one)
    far = {"left": left, "bottom": foot, "right": right, "top": head}[side]
    return Extent(low, high, far - (other.height if along_x(side) else other.width), far)


def rails(lockup: Lockup, side: Side) -> tuple[float, float]:
    """Return where the two rails at the ends of a side lie, as one stands at it."""
    form, chase = lockup.form, lockup.chase
    return (-form.x, chase.width - form.x) if along_x(side) else (-form.y, chase.height - form.y)


def faces_of(piece: Filling) -> list[tuple[Side, Side]]:
    """Return the two long faces of a piece; a square one has two such pairs."""
    up: tuple[Side, Side] = ("bottom", "top")
    across: tuple[Side, Side] = ("left", "right")
    if abs(piece.width - piece.height) <= SLACK:
        return [up, across]
    return [up] if piece.width > piece.height else [across]


def room_before(inside: Sequence[PlacedForm | Filling], outline: PlacedForm, piece: Filling, side: Side) -> float:
    """Return how far one end of a piece is from the next thing in its block, or from the block's edge."""
    there = [turned_to(side, piece, other) for other in inside if other is not piece]
    size = piece.width if along_x(side) else piece.height
    before = [e.near for e in there if e.near > -SLACK and min(e.high, size) - max(e.low, 0.0) > SLACK]
    return max(0.0, min([*before, turned_to(side, piece, outline).far]))


def shared(one: Extent, other: Extent) -> float:
    """Return how much of the side two extents share."""
    return min(one.high, other.high) - max(one.low, other.low)


def bare_stretch(wood: Sequence[Extent], low: float, high: float) -> float:
    """Return the longest stretch from low to high that no wood covers."""
    reached, bare = low, 0.0
    for start, stop in sorted((extent.low, extent.high) for extent in wood):
        bare, reached = max(bare, min(start, high) - reached), max(reached, stop)
    return max(bare, high - reached)


def meets(inner: Extent, outer: Extent) -> bool:
    """Say whether the inner one's far face touches the outer one's near face."""
    return abs(inner.far - outer.near) <= SLACK and shared(inner, outer) > SLACK


SLUG = 6.0


def rounded(material: Material) -> Material:
    """Return the size to the hundredth of a point, so that sizes read from two files compare."""
    return Material(material.kind, round(material.thickness, 2), round(material.length, 2))


def stock_of(shop: Shop) -> Counter[Material]:
    """Return how many there are of each size of wood and metal furniture, to the hundredth of a point."""
    there: Counter[Material] = Counter()
    for material, count in (*shop.stock.items(), *shop.metal.items()):
        there[rounded(material)] += count
    return there


def written(points: float) -> str:
    """Write a distance as finely as anyone can set wood."""
    return write_length(round(points, 1))


def strip_kind(thickness: float) -> str:
    """Return what a strip so thick is called: from 6 points on a slug (MacKellar p. 384: nonpareil and thicker)."""
    return "slug" if thickness >= SLUG - SLACK else "lead"


def size_words(material: Material) -> str:
    """Name a size, with its kind."""
    kind = strip_kind(material.thickness) if material.kind == "lead" else material.kind
    return f"{kind} {write_length(material.thickness)} × {write_length(material.length)}"


def name_of(rectangle: Rectangle) -> str:
    """Name the form, a quoin by its side, or a piece by its side, order and size."""
    if not isinstance(rectangle, Item):
        return "the form"
    if rectangle.kind == "quoin":
        return f"{rectangle.side} quoin"
    return f"{rectangle.side} {rectangle.order}, {size_words(rectangle.material)}"
