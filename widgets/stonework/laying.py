"""Laying a lockup by hand: the pieces put down so far, side by side, and the record they make.

Knows nothing of controls: a panel or a test lays pieces, takes them back, and asks for the record.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from stonework.form import Form
from stonework.lockup import (
    CLEAR,
    NO_JOB,
    SIDES,
    SLACK,
    TOLERANCE,
    Block,
    Intent,
    Item,
    Job,
    Kind,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    lay,
    pattern_of,
    quarters_from,
)
from stonework.shop import Chase, Material, Placing, Quoin, Shop
from stonework.units import write_length

BY_HAND = "by hand"
Lean = Literal["low", "middle", "high"]


@dataclass(frozen=True, slots=True)
class Laid:
    """One layer of a side: a piece, two end to end, or a row of quoins. Lengths are points.

    ``lows`` says where along the side each piece of the layer begins, from the form's lower or left corner. Where the
    pieces aren't all of one ``length``, ``lengths`` has that of each. ``pattern`` names the quoins' pattern.
    """

    kind: Kind
    thickness: float
    length: float
    lows: tuple[float, ...]
    lengths: tuple[float, ...] = ()
    pattern: str | None = None

    @property
    def pieces(self) -> tuple[tuple[float, float], ...]:
        """Where each piece begins, and how long it is."""
        return tuple(zip(self.lows, self.lengths or (self.length,) * len(self.lows), strict=True))

    def moved(self, by: float) -> Laid:
        """Return the layer moved along its side."""
        return replace(self, lows=tuple(low + by for low in self.lows))


Stacks = dict[Side, tuple[Laid, ...]]
_BARE: Stacks = {side: () for side in SIDES}


@dataclass(frozen=True, slots=True)
class _Stone:
    """All that may be taken back: what is on the stone, and what is wanted of it."""

    form: Form
    chase: Chase
    solid: tuple[Side, Side]
    tolerance: float
    off: tuple[float, float]
    wish: Intent | None = None
    block: Block | None = None
    head: Side = "top"
    job: Job = NO_JOB
    stacks: Stacks = field(default_factory=lambda: dict(_BARE))


class Bench:
    """A form and its chase on the stone, and what has been laid between them.

    Each side's layers are kept from the form outward. Once a solid side's layers come within the tolerance of
    filling its gap, the form is slid against them, as on the stone. What lies outside a row of quoins is
    pushed against the chase, and the quoins are opened to fill the room left. The form may be turned, so that its
    ``head`` points to another side of the chase.
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
        off: tuple[float, float] = (0.0, 0.0),
        head: Side = "top",
        job: Job = NO_JOB,
    ) -> None:
        self.shop = shop
        self.quoin = quoin or shop.quoins[0]
        wish = Intent(*target, tolerance) if target else None
        self._now = _Stone(form, chase, solid, tolerance, off, wish, head=head, job=job)
        self._before: list[_Stone] = []

    @property
    def form(self) -> Form:
        """The form as it was measured, its head at the top."""
        return self._now.form

    @property
    def chase(self) -> Chase:
        """The chase on the stone."""
        return self._now.chase

    @property
    def solid(self) -> tuple[Side, Side]:
        """The two sides that hold no quoins."""
        return self._now.solid

    @property
    def head(self) -> Side:
        """The side of the chase to which the form's head points."""
        return self._now.head

    @property
    def job(self) -> Job:
        """Whose lockup it is."""
        return self._now.job

    @property
    def block(self) -> Block | None:
        """How the form on the stone was built up, if it was."""
        return self._now.block

    @property
    def lying(self) -> Form:
        """The form as it lies in the chase: turned, if its head points to a side."""
        return self.form if along_x(self.head) else Form(self.form.height, self.form.width)

    @property
    def wish(self) -> Intent:
        """Where the form's lower left corner should stand: off the middle as custom has it, or as told."""
        right, up = self._now.off
        x, y = (self.chase.width - self.lying.width) / 2 + right, (self.chase.height - self.lying.height) / 2 + up
        return self._now.wish or Intent(x, y, self._now.tolerance)

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

    def lean(self, side: Side, low: float, length: float) -> Lean:
        """Return how what begins at ``low`` along a side, so long, would be laid here: the lean that comes nearest."""
        lows = self._lows(side, length)
        return min(lows, key=lambda lean: abs(lows[lean] - low))

    def _lows(self, side: Side, length: float) -> dict[Lean, float]:
        """Return where along a side a piece begins for each lean."""
        s = self._length(side)
        return {"middle": (s - length) / 2, "low": s - CLEAR - length, "high": CLEAR}

    def put(self, side: Side, layer: Laid) -> None:
        """Put a whole layer, as one was taken off, outside what lies on a side."""
        self._change(stacks={**self._now.stacks, side: (*self._now.stacks[side], layer)})

    def lay_ends(self, side: Side, first: Material, second: Material, lean: Lean = "middle") -> None:
        """Lay two pieces of one kind and thickness end to end, the first at the low end; they lean as one would.

        Raises ``ValueError`` with a sentence if they aren't of one kind and thickness.
        """
        if (first.kind, round(first.thickness, 2)) != (second.kind, round(second.thickness, 2)):
            raise ValueError(
                "Two pieces laid end to end are of one kind and thickness; "
                f"{first.kind} {write_length(first.thickness)} and {second.kind} {write_length(second.thickness)} "
                "were chosen."
            )
        low = self._lows(side, first.length + second.length)[lean]
        lengths = (first.length, second.length)
        self.put(side, Laid(first.kind, first.thickness, max(lengths), (low, low + first.length), lengths))

    def lay_quoins(self, side: Side, quoin: Quoin | None = None, number: int | None = None) -> None:
        """Lay a row of quoins outside what lies on a side, in its middle.

        They are of the bench's own pattern and as many as that side needs, unless told otherwise.
        """
        s, quoin = self._length(side), quoin or self.quoin
        number = number or math.ceil(s / quoin.span)
        step = quoin.length + quoin.gap
        first = (s - (number * step - quoin.gap)) / 2
        lows = tuple(first + n * step for n in range(number))
        self.put(side, Laid("quoin", quoin.closed, quoin.length, lows, pattern=quoin.name))

    def move_along(self, side: Side, by: float) -> Laid | None:
        """Move the outermost layer of a side along it, toward the right or the head for more than 0 points.

        Returns the layer, or ``None`` if nothing lies there.
        """
        if not self._now.stacks[side]:
            return None
        *rest, outermost = self._now.stacks[side]
        moved = outermost.moved(by)
        self._change(stacks={**self._now.stacks, side: (*rest, moved)})
        return moved

    def take_off(self, side: Side) -> Laid | None:
        """Take the outermost layer off a side and return it; ``None`` if nothing lies there."""
        if not self._now.stacks[side]:
            return None
        *rest, outermost = self._now.stacks[side]
        self._change(stacks={**self._now.stacks, side: tuple(rest)})
        return outermost

    def take_back(self) -> None:
        """Undo the last thing done; nothing happens if there is none."""
        if self._before:
            self._now = self._before.pop()

    def clear(self) -> None:
        """Take everything off; ``take_back`` brings it back."""
        self._change(stacks=dict(_BARE))

    def begin(self, form: Form, chase: Chase) -> None:
        """Put another form on the stone, or take another chase; ``take_back`` brings all back as it was."""
        self._change(form=form, block=None, chase=chase, wish=None, stacks=dict(_BARE))

    def turn(self, head: Side) -> None:
        """Turn the form so that its head points to a side.

        What lay round it is taken off, unless it lies as wide and as high as before.
        """
        block = self.block and self.block.turned(quarters_from(self.head, head))
        if along_x(head) == along_x(self.head):
            self._change(head=head, block=block)
        else:
            self._change(head=head, block=block, wish=None, stacks=dict(_BARE))

    def keep_solid(self, sides: tuple[Side, Side]) -> None:
        """Let two sides that meet be those without quoins, against which the form is slid."""
        self._change(solid=sides)

    def take_press(self, press: str, custom: Placing) -> None:
        """Write down for which press the lockup is, and go by its custom from here on."""
        self._change(
            job=replace(self.job, press=press),
            solid=custom.guides,
            tolerance=custom.tolerance,
            off=(custom.right, custom.up),
        )

    def open(self, lockup: Lockup) -> None:
        """Put a whole lockup on the stone, with where its form was wanted; ``take_back`` brings all back as it was."""
        form = lockup.form
        upright = along_x(lockup.head)
        solid = self.solid
        if quoins := lockup.quoin_sides:
            solid = ("top" if "bottom" in quoins else "bottom", "right" if "left" in quoins else "left")
        self._change(
            form=Form(form.width, form.height) if upright else Form(form.height, form.width),
            chase=lockup.chase,
            solid=solid,
            wish=lockup.intent or Intent(form.x, form.y, self._now.tolerance),
            block=lockup.block,
            head=lockup.head,
            job=lockup.job,
            stacks={side: self._layers(lockup, side) for side in SIDES},
        )

    def finish(self, plan: Lockup) -> None:
        """Lay a whole plan in place of what lies here; ``take_back`` brings that back."""
        self._change(stacks={side: self._layers(plan, side) for side in SIDES})

    def next_from(self, plan: Lockup) -> str:
        """Lay the next piece of a plan and say so; where what lies here differs from it, say that and lay nothing."""
        for side in (*self.solid, *(side for side in SIDES if side not in self.solid)):
            here, there = self._now.stacks[side], self._layers(plan, side)
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
        wish, lying = self.wish, self.lying
        x, y = wish.x, wish.y
        for side in self.solid:
            made = sum(layer.thickness for layer in self._now.stacks[side])
            room = {
                "left": made,
                "right": self.chase.width - lying.width - made,
                "bottom": made,
                "top": self.chase.height - lying.height - made,
            }[side]
            if along_x(side) and abs(room - y) <= wish.tolerance + SLACK:
                y = room
            elif not along_x(side) and abs(room - x) <= wish.tolerance + SLACK:
                x = room
        form = PlacedForm(x, y, lying.width, lying.height)
        block = self.block and self.block.moved(x - self.block.outline.x, y - self.block.outline.y)
        bare = Lockup(self.chase, form, BY_HAND, (), wish, block, self.head, self.job)
        return replace(bare, items=tuple(item for side in SIDES for item in self._items(bare, side)))

    def _items(self, bare: Lockup, side: Side) -> Iterator[Item]:
        layers, gap = self._now.stacks[side], bare.gap(side)
        row = next((n for n, layer in enumerate(layers) if layer.kind == "quoin"), len(layers))
        outside = sum(layer.thickness for layer in layers[row + 1 :])
        near = 0.0
        for n, layer in enumerate(layers):
            thickness = layer.thickness
            if n == row and outside and gap - near - outside > 0:
                thickness = gap - near - outside
            for low, length in layer.pieces:
                item = lay(bare.form, side, n + 1, layer.kind, thickness=thickness, length=length, low=low, near=near)
                yield replace(item, pattern=layer.pattern) if layer.pattern else item
            near += thickness

    def _layers(self, plan: Lockup, side: Side) -> tuple[Laid, ...]:
        found = []
        for row in plan.layers(side):
            pattern = pattern_of(row[0], self.shop.quoins) if row[0].kind == "quoin" else None
            thickness = (pattern or self.quoin).closed if row[0].kind == "quoin" else row[0].thickness
            lengths = tuple(item.length for item in row)
            found.append(
                Laid(
                    row[0].kind,
                    thickness,
                    max(lengths),
                    tuple(plan.seen_from(side, item).low for item in row),
                    lengths if len(set(lengths)) > 1 else (),
                    pattern.name if pattern else None,
                )
            )
        return tuple(found)

    def _length(self, side: Side) -> float:
        return self.lying.width if along_x(side) else self.lying.height

    def _change(self, **parts: Any) -> None:
        self._before.append(self._now)
        self._now = replace(self._now, **parts)
