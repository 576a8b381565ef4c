"""Laying a lockup by hand: the pieces put down so far, side by side, and the record they make.

Knows nothing of controls: a panel or a test lays pieces, takes them back, and asks for the record.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from stonework.form import Form
from stonework.lockup import (
    CLEAR,
    SIDES,
    SLACK,
    TOLERANCE,
    Block,
    Intent,
    Item,
    Kind,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    lay,
)
from stonework.shop import Chase, Material, Quoin, Shop
from stonework.units import write_length

BY_HAND = "by hand"
Lean = Literal["low", "middle", "high"]


@dataclass(frozen=True, slots=True)
class Laid:
    """One layer of a side: a piece of wood or a row of quoins. Lengths are points.

    ``lows`` says where along the side each piece of the layer begins, from the form's lower or left corner.
    """

    kind: Kind
    thickness: float
    length: float
    lows: tuple[float, ...]


Stacks = dict[Side, tuple[Laid, ...]]


class Bench:
    """A form and its chase on the stone, and what has been laid between them.

    Each side's layers are kept from the form outward. Once a solid side's layers come within the tolerance of
    filling its gap, the form is slid against them, as on the stone. What lies outside a row of quoins is
    pushed against the chase, and the quoins are opened to fill the room left.
    """

    def __init__(
        self,
        form: Form,
        chase: Chase,
        shop: Shop,
        *,
        quoin: Quoin | None = None,
        solid: tuple[Side, Side] = ("bottom", "left"),
        tolerance: float = TOLERANCE,
        target: tuple[float, float] | None = None,
    ) -> None:
        self.form, self.chase, self.shop, self.solid, self.tolerance = form, chase, shop, solid, tolerance
        self._wish = Intent(*target, tolerance) if target else None
        self._block: Block | None = None
        self.quoin = quoin or shop.quoins[0]
        self._stacks: Stacks = {side: () for side in SIDES}
        self._before: list[tuple[Form, Block | None, Chase, Intent | None, tuple[Side, Side], Stacks]] = []

    @property
    def wish(self) -> Intent:
        """Where the form's lower left corner should stand: in the middle of the chase, unless told otherwise."""
        middle = ((self.chase.width - self.form.width) / 2, (self.chase.height - self.form.height) / 2)
        return self._wish or Intent(*middle, self.tolerance)

    @property
    def can_take_back(self) -> bool:
        """Say whether there is anything to take back."""
        return bool(self._before)

    def lay(self, side: Side, material: Material, lean: Lean = "middle") -> None:
        """Lay one piece outside what lies on a side, leaning toward one of its ends or in the middle.

        A leaning piece stops 3 points inside the form's corner at the far end and runs on past the near one.
        """
        low = self._lows(side, material.length)[lean]
        self.put(side, Laid(material.kind, material.thickness, material.length, (low,)))

    def lean(self, side: Side, item: Item, low: float) -> Lean:
        """Return how a piece that begins at ``low`` along a side would be laid here: the lean that comes nearest."""
        lows = self._lows(side, item.length)
        return min(lows, key=lambda lean: abs(lows[lean] - low))

    def _lows(self, side: Side, length: float) -> dict[Lean, float]:
        """Return where along a side a piece begins for each lean."""
        s = self._length(side)
        return {"middle": (s - length) / 2, "low": s - CLEAR - length, "high": CLEAR}

    def lay_quoins(self, side: Side) -> None:
        """Lay a row of quoins outside what lies on a side: as many as it needs, in its middle."""
        s, quoin = self._length(side), self.quoin
        number = math.ceil(s / quoin.span)
        step = quoin.length + quoin.gap
        first = (s - (number * step - quoin.gap)) / 2
        self.put(side, Laid("quoin", quoin.closed, quoin.length, tuple(first + n * step for n in range(number))))

    def take_off(self, side: Side) -> Laid | None:
        """Take the outermost layer off a side and return it; ``None`` if nothing lies there."""
        if not self._stacks[side]:
            return None
        *rest, outermost = self._stacks[side]
        self._change({**self._stacks, side: tuple(rest)})
        return outermost

    def take_back(self) -> None:
        """Undo the last thing done; nothing happens if there is none."""
        if self._before:
            self.form, self._block, self.chase, self._wish, self.solid, self._stacks = self._before.pop()

    def clear(self) -> None:
        """Take everything off; ``take_back`` brings it back."""
        self._change({side: () for side in SIDES})

    def begin(self, form: Form, chase: Chase) -> None:
        """Put another form on the stone, or take another chase; ``take_back`` brings all back as it was."""
        self.clear()
        self.form, self._block, self.chase, self._wish = form, None, chase, None

    def open(self, lockup: Lockup) -> None:
        """Put a whole lockup on the stone, with where its form was wanted; ``take_back`` brings all back as it was."""
        self.finish(lockup)
        self.form, self.chase = Form(lockup.form.width, lockup.form.height), lockup.chase
        self._block = lockup.block
        self._wish = lockup.intent or Intent(lockup.form.x, lockup.form.y, self.tolerance)
        if quoins := lockup.quoin_sides:
            self.solid = ("top" if "bottom" in quoins else "bottom", "right" if "left" in quoins else "left")

    def finish(self, plan: Lockup) -> None:
        """Lay a whole plan in place of what lies here; ``take_back`` brings that back."""
        self._change({side: self._layers(plan, side) for side in SIDES})

    def next_from(self, plan: Lockup) -> str:
        """Lay the next piece of a plan and say so; where what lies here differs from it, say that and lay nothing."""
        for side in (*self.solid, *(side for side in SIDES if side not in self.solid)):
            here, there = self._stacks[side], self._layers(plan, side)
            for mine, planned in zip(here, there, strict=False):
                if (mine.kind, mine.length) != (planned.kind, planned.length) or (
                    mine.kind != "quoin" and mine.thickness != planned.thickness
                ):
                    return (
                        f"Your {side} side isn't as in the plan I know, so I can't say what comes next. "
                        "Go on yourself; or clear the stone, and ask again from the first piece."
                    )
            if len(here) < len(there):
                piece = there[len(here)]
                self.put(side, piece)
                what = (
                    "the row of quoins"
                    if piece.kind == "quoin"
                    else f"{piece.kind} {write_length(piece.thickness)} × {write_length(piece.length)}"
                )
                return f"Laid {what} on the {side}, the next piece of one good plan."
        return "Nothing is left to lay: this plan is complete."

    def lockup(self) -> Lockup:
        """Return the record of what lies here."""
        wish = self.wish
        x, y = wish.x, wish.y
        for side in self.solid:
            made = sum(layer.thickness for layer in self._stacks[side])
            room = {
                "left": made,
                "right": self.chase.width - self.form.width - made,
                "bottom": made,
                "top": self.chase.height - self.form.height - made,
            }[side]
            if along_x(side) and abs(room - y) <= wish.tolerance + SLACK:
                y = room
            elif not along_x(side) and abs(room - x) <= wish.tolerance + SLACK:
                x = room
        form = PlacedForm(x, y, self.form.width, self.form.height)
        bare = Lockup(self.chase, form, BY_HAND, (), wish)
        items = [item for side in SIDES for item in self._items(bare, side)]
        return Lockup(self.chase, form, BY_HAND, tuple(items), wish, self._block and self._block_at(form))

    @property
    def block(self) -> Block | None:
        """How the form on the stone was built up, if it was."""
        return self._block

    def _block_at(self, form: PlacedForm) -> Block:
        outline = self._block.outline
        return self._block.moved(form.x - outline.x, form.y - outline.y)

    def _items(self, bare: Lockup, side: Side) -> list[Item]:
        layers, gap = self._stacks[side], bare.gap(side)
        row = next((n for n, layer in enumerate(layers) if layer.kind == "quoin"), len(layers))
        outside = sum(layer.thickness for layer in layers[row + 1 :])
        items: list[Item] = []
        near = 0.0
        for n, layer in enumerate(layers):
            thickness = layer.thickness
            if n == row and outside and gap - near - outside > 0:
                thickness = gap - near - outside
            items += [
                lay(
                    bare.form,
                    side,
                    n + 1,
                    layer.kind,
                    thickness=thickness,
                    length=layer.length,
                    low=low,
                    near=near,
                )
                for low in layer.lows
            ]
            near += thickness
        return items

    def _layers(self, plan: Lockup, side: Side) -> tuple[Laid, ...]:
        layers: dict[int, list[Item]] = {}
        for item in plan.on(side):
            layers.setdefault(item.order, []).append(item)
        return tuple(
            Laid(
                row[0].kind,
                self.quoin.closed if row[0].kind == "quoin" else row[0].thickness,
                row[0].length,
                tuple(plan.seen_from(side, item).low for item in row),
            )
            for row in layers.values()
        )

    def _length(self, side: Side) -> float:
        return self.form.width if along_x(side) else self.form.height

    def put(self, side: Side, layer: Laid) -> None:
        """Put a whole layer, as one was taken off, outside what lies on a side."""
        self._change({**self._stacks, side: (*self._stacks[side], layer)})

    def _change(self, stacks: Stacks) -> None:
        self._before.append((self.form, self._block, self.chase, self._wish, self.solid, self._stacks))
        self._stacks = stacks
