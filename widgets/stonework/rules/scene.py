"""What a rule may look at: the lockup, the shop and the wish, seen from each side."""

from __future__ import annotations

from dataclasses import dataclass

from stonework.lockup import SLACK, Extent, Filling, Intent, Item, Lockup, PlacedForm, Side, letter
from stonework.rules.geometry import turned_to
from stonework.shop import Shop
from stonework.units import write_length

Layer = tuple[tuple[Item, Extent], ...]


@dataclass(frozen=True, slots=True)
class Scene:
    """What a rule may look at."""

    lockup: Lockup
    shop: Shop
    intent: Intent

    def seen(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return one side's items as seen from there, nearest the form first."""
        items = [(item, self.lockup.seen_from(side, item)) for item in self.lockup.on(side)]
        return sorted(items, key=lambda pair: pair[1].near)

    def row(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return one side's quoins as seen from there."""
        return [(item, extent) for item, extent in self.seen(side) if item.kind == "quoin"]

    def layers(self, side: Side) -> list[Layer]:
        """Return one side's layers as seen from there, from the form outward; what begins as far out is one."""
        layers: list[list[tuple[Item, Extent]]] = []
        for item, extent in self.seen(side):
            if layers and extent.near - layers[-1][0][1].near <= SLACK:
                layers[-1].append((item, extent))
            else:
                layers.append([(item, extent)])
        return [tuple(sorted(layer, key=lambda pair: pair[1].low)) for layer in layers]

    def closes(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return what moves toward the form as this side's quoins are tightened: quoins, and all inside them."""
        row = self.row(side)
        if not row:
            return []
        edge = max(extent.far for _, extent in row)
        return [(item, extent) for item, extent in self.seen(side) if extent.near < edge - SLACK]

    @property
    def inside(self) -> tuple[PlacedForm | Filling, ...]:
        """What is in the block, if the form is one."""
        return self.lockup.block.content if self.lockup.block else ()

    def named(self, one: PlacedForm | Filling) -> str:
        """Name a form or a piece of the block, the pieces by their letters in the picture."""
        if isinstance(one, PlacedForm):
            number = next(n for n, form in enumerate(self.lockup.block.forms, 1) if form is one)
            return f"form {number} of the block"
        n = next(n for n, piece in enumerate(self.lockup.block.pieces) if piece is one)
        return f"{letter(n)} of the block, {one.kind} {write_length(one.thickness)} × {write_length(one.length)}"

    def faces(self, one: PlacedForm | Filling, side: Side) -> tuple[float, list[Extent]]:
        """Return how long one side of what is in the block is, and what it presses on there, from its low end on.

        Where it lies at the block's outline it presses on the wood outside, which the rules for forms look after.
        """
        extents = {id(other): turned_to(side, one, other) for other in (*self.inside, self.lockup.form)}
        outline, own = extents.pop(id(self.lockup.form)), extents.pop(id(one))
        size = own.high - own.low
        if outline.far <= SLACK:
            return size, [Extent(0.0, size, 0.0, 1.0)]
        return size, [e for e in extents.values() if abs(e.near) <= SLACK and min(e.high, size) - max(e.low, 0) > SLACK]
