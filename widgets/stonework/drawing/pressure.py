"""A lockup under its quoins: where the form is pressed, where it is loose, and how it sits, many times enlarged."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from stonework.drawing.picture import (
    BRASS,
    BRASS_EDGE,
    INK,
    IRON,
    IRON_EDGE,
    LABEL,
    LEAD,
    MAPLE,
    NOW,
    PALE,
    PAPER,
    SAWN,
    STONE,
    TYPE,
    WRONG,
    Corner,
    Picture,
    Segment,
    box,
    corners,
    rounded_box,
    shapes,
    strokes,
    turned,
)
from stonework.drawing.plan import head_edge
from stonework.lockup import Filling, Item, Lockup, PlacedForm, Side, along_x, as_read
from stonework.pressing import BedPressure, State
from stonework.rounds import RISES
from stonework.units import write_length

TIMES = 20.0
"""How many times larger than it is the picture draws what is cocked."""

Place = Callable[[float, float], Corner]

_MOST = (9.6, 6.8)  # the most the picture takes, in inches
_RAIL = 30.0
_NAMED = 4  # forms of a block whose heads are named
_INKS = {"furniture": MAPLE, "reglet": PALE, "metal": LEAD, "lead": TYPE}
_DEEP = 44.0  # how deep the hardest pressure is drawn, in points
_ARROW = 40.0  # how long the hardest push is drawn


class PressureView(Picture):
    """A lockup, its form cocked as the quoins leave it, the pressure along its sides and the push of each quoin."""

    def __init__(self, name: str = "pressure") -> None:
        super().__init__(name)
        self._chase = self.area(IRON, IRON_EDGE, 1.2, 1)
        self._stone = self.area(STONE, IRON_EDGE, 1.0, 2)
        self._furniture = self.area(MAPLE, SAWN, 0.8, 3, alpha=0.55)
        self._reglet = self.area(PALE, SAWN, 0.8, 3)
        self._metal = self.area(LEAD, INK, 0.8, 4)
        self._quoins = self.area(BRASS, BRASS_EDGE, 1.2, 4, hatch="////")
        self._slack = self.area(PAPER, WRONG, 2.2, 4, linestyle=(0, (3, 1.4)))
        self._true = self.area("none", NOW, 1.2, 5, linestyle=(0, (5, 3)))
        self._block = self.area(STONE, INK, 1.6, 6)  # for blocks only, as what is within it
        self._within = {kind: self.area(ink, SAWN, 0.8, 6) for kind, ink in _INKS.items()}
        self._form = self.area(LEAD, INK, 1.6, 6, alpha=0.92)
        self._lines = self.area("none", TYPE, 2.0, 7)
        self._pressure = self.area(NOW, NOW, 1.0, 8, alpha=0.35)
        self._pushes = self.area(NOW, NOW, 1.0, 8)
        self._gaps = self.area("none", WRONG, 3.0, 8, linestyle=(0, (3, 1.4)))
        self._rising = self.area("none", WRONG, 2.0, 8, linestyle=(0, (1, 1.6)))

    def draw(self, lockup: Lockup, state: State, names: Sequence[str], rise: float = 0.0) -> None:
        """Draw a state of a lockup; ``names`` are its quoins', in the order of the state's forces.

        ``rise`` is how many points the middle of the form has risen off the stone.
        """
        chase, form = lockup.chase, lockup.form
        self.frame(-_RAIL, -_RAIL - 26, chase.width + _RAIL, chase.height + _RAIL, _MOST)
        self._chase.set_path(rounded_box(-_RAIL, -_RAIL, chase.width + 2 * _RAIL, chase.height + 2 * _RAIL, _RAIL / 3))
        self._stone.set_path(shapes([corners(0, 0, chase.width, chase.height)]))
        wood = {kind: [box(item) for item in lockup.wood if item.kind == kind] for kind in ("furniture", "reglet")}
        self._metal.set_path(shapes(box(item) for item in lockup.pieces if item.kind in ("metal", "lead")))
        self._furniture.set_path(shapes(wood["furniture"]))
        self._reglet.set_path(shapes(wood["reglet"]))
        self._true.set_path(shapes([box(form)]))
        at = _cocked(lockup, state)
        self._draw_form(lockup, at)
        hardest = max((max(bed.low, bed.high) for bed in state.beds), default=0.0) or 1.0
        self._pressure.set_path(shapes(_profile(lockup, bed, _DEEP / hardest, at) for bed in state.beds))
        self._gaps.set_path(strokes(_lifted(lockup, bed, at) for bed in state.beds if bed.loose))
        self._draw_quoins(lockup, state)
        x, y = form.x + form.width / 2, form.y + form.height / 2
        middle = [corners(x - form.width / 5, y - form.height / 5, 0.4 * form.width, 0.4 * form.height)]
        self._rising.set_path(shapes(middle if rise >= RISES else []))
        if rise >= RISES:
            self.write(x, y, f"rises {rise:.1f} pt", LABEL, pill=True)
        told = f"what is cocked is drawn {TIMES:.0f} times larger; the broader the band, the harder it is pressed"
        self.write(chase.width / 2, -_RAIL - 6, told, LABEL, va="top")
        quoins = "; ".join(f"{n}, {name}" for n, name in enumerate(names, 1))
        self.finish(
            f"A form {write_length(form.width)} wide and {write_length(form.height)} high in the {chase.name} chase, "
            f"with quoins {quoins}. {state_words(state, names, rise)}"
        )

    def _draw_form(self, lockup: Lockup, at: Place) -> None:
        """Draw the form as it sits, its lines of type and its head; of a block every form, and what lies between."""
        whole, block = lockup.form, lockup.block
        forms, pieces = (block.forms, block.pieces) if block else ((whole,), ())

        def sits(piece: PlacedForm | Filling) -> list[Corner]:
            left, foot = piece.x - whole.x, piece.y - whole.y
            return [at(x, y) for x, y in corners(left, foot, piece.width, piece.height)]

        self._block.set_path(shapes([sits(whole)] if block else []))
        for kind, artist in self._within.items():
            artist.set_path(shapes(sits(piece) for piece in pieces if piece.kind == kind))
        self._form.set_path(shapes(sits(form) for form in forms))
        self._lines.set_path(strokes(line for form in forms for line in _lines(form, lockup.head, whole, at)))
        for form in forms[:_NAMED]:
            (x, y), (far, high) = head_edge(form, lockup.head, 9.0)
            turned = 0 if along_x(lockup.head) else 90
            self.write((x + far) / 2, (y + high) / 2, "HEAD", LABEL, weight="bold", rotation=turned, pill=True)

    def _draw_quoins(self, lockup: Lockup, state: State) -> None:
        """Draw each quoin, numbered, with an arrow as long as it pushes; a loose one has a broken frame."""
        items = numbered_quoins(lockup)
        loose = set(state.loose_quoins)
        hardest = max(state.forces, default=0.0) or 1.0
        self._quoins.set_path(shapes(box(item) for n, item in enumerate(items) if n not in loose))
        self._slack.set_path(shapes(box(item) for n, item in enumerate(items) if n in loose))
        arrows = []
        for n, (item, force) in enumerate(zip(items, state.forces, strict=True)):
            arrows.append(_arrow(lockup, item, _ARROW * force / hardest))
            x, y = item.x + item.width / 2, item.y + item.height / 2
            self.write(x, y, f"{n + 1} loose" if n in loose else str(n + 1), LABEL, weight="bold", pill=True)
        self._pushes.set_path(shapes(arrow for arrow in arrows if arrow))


def _lines(form: PlacedForm, head: Side, whole: PlacedForm, at: Place) -> Iterator[Segment]:
    """Yield lines of type across a form, as they lie with its head."""
    wide, high = as_read(form, head)
    rows = max(3, int(high / 24))
    for n in range(1, rows):
        (x, y), (far, up) = turned([(0.06 * wide, high * n / rows), (0.94 * wide, high * n / rows)], form, head)
        yield at(x - whole.x, y - whole.y), at(far - whole.x, up - whole.y)


def numbered_quoins(lockup: Lockup) -> list[Item]:
    """Return the quoins as the model numbers them: side by side, along each from left to right or from the bottom."""
    return [
        item
        for side in lockup.quoin_sides
        for item in sorted(lockup.quoins(side), key=lambda item: lockup.seen_from(side, item).low)
    ]


def state_words(state: State, names: Sequence[str], rise: float = 0.0) -> str:
    """Say how the form sits, what is loose or has risen, and which quoin pushes hardest."""
    told = [cocked_words(state)]
    loose = [names[n] for n in state.loose_quoins]
    if loose:
        told.append(f"Loose: {'; '.join(loose)}.")
    for bed in state.beds:
        if bed.loose:
            end = ends_of(bed.side)[0 if bed.low < bed.high else 1]
            told.append(f"The {bed.side} has lifted off its wood toward {end}.")
        elif abs(bed.high - bed.low) > 0.1 * max(bed.low, bed.high):
            end = ends_of(bed.side)[0 if bed.low > bed.high else 1]
            told.append(f"The {bed.side} is pressed hardest toward {end}.")
        else:
            told.append(f"The {bed.side} is pressed evenly.")
    hardest = [n for n, force in enumerate(state.forces) if force > 0.98 * max(state.forces)]
    if len(hardest) == 1:
        told.append(f"Hardest pushes {names[hardest[0]]}.")
    if rise >= RISES:
        told.append(f"I{rise_words(rise)[1:]}")
    return " ".join(told)


def rise_words(rise: float) -> str:
    """Say that the form has risen, in a sentence without its capital."""
    return f"its middle rises off the stone, by the model about {rise:.1f} points."


def cocked_words(state: State) -> str:
    """Say how far and which way the form sits cocked."""
    if abs(state.skew) < 0.005:
        return "The form sits square."
    way = "anticlockwise" if state.skew > 0 else "clockwise"
    return f"The form sits {abs(state.skew):.2f} points cocked over its longer side, turned {way}."


def ends_of(side: Side) -> tuple[str, str]:
    """Return what the two ends of a side are called, low one first."""
    return ("the left", "the right") if along_x(side) else ("the bottom", "the top")


def _cocked(lockup: Lockup, state: State) -> Place:
    """Return where a place of the form, from its lower left corner, lies as it is drawn."""
    form = lockup.form
    cx, cy = form.x + form.width / 2, form.y + form.height / 2
    turn = TIMES * state.turned
    cos, sin = math.cos(turn), math.sin(turn)

    def at(x: float, y: float) -> Corner:
        dx, dy = x - form.width / 2, y - form.height / 2
        return cx + dx * cos - dy * sin, cy + dx * sin + dy * cos

    return at


def _edge(lockup: Lockup, side: Side, share: float, inward: float) -> Corner:
    """Return a place of the form by how far along a side it lies, and how far in from it."""
    form = lockup.form
    if along_x(side):
        return share * form.width, inward if side == "bottom" else form.height - inward
    return inward if side == "left" else form.width - inward, share * form.height


def _span(lockup: Lockup, bed: BedPressure) -> tuple[float, float]:
    """Return which share of a side is pressed, from where to where."""
    share = min(1.0, bed.contact / lockup.side_length(bed.side))
    return (0.0, share) if bed.low >= bed.high else (1.0 - share, 1.0)


def _profile(lockup: Lockup, bed: BedPressure, scale: float, at: Place) -> list[Corner]:
    """Return the pressure along a side as a shape inside the form's edge."""
    start, stop = _span(lockup, bed)
    places = ((start, 0.0), (stop, 0.0), (stop, bed.high * scale), (start, bed.low * scale))
    return [at(*_edge(lockup, bed.side, share, inward)) for share, inward in places]


def _lifted(lockup: Lockup, bed: BedPressure, at: Place) -> Segment:
    """Return the part of a side's edge that nothing presses."""
    start, stop = _span(lockup, bed)
    ends = (stop, 1.0) if start == 0.0 else (0.0, start)
    one, other = (at(*_edge(lockup, bed.side, share, 0.0)) for share in ends)
    return one, other


def _arrow(lockup: Lockup, item: Item, length: float) -> list[Corner]:
    """Return an arrow from a quoin toward the form."""
    if length < 1:
        return []
    side, half = item.side, 5.0
    seen = lockup.seen_from(side, item)
    along, near = (seen.low + seen.high) / 2, seen.near
    outline = ((-half / 2, 0), (half / 2, 0), (half / 2, -length), (half, -length), (0, -length - 9), (-half, -length))
    outline = (*outline, (-half / 2, -length))
    return [_place(lockup, side, along + a, near + out) for a, out in outline]


def _place(lockup: Lockup, side: Side, along: float, out: float) -> Corner:
    """Return where a place along a side and out from it lies in the chase."""
    form = lockup.form
    if along_x(side):
        return form.x + along, form.y + form.height + out if side == "top" else form.y - out
    return form.x + form.width + out if side == "right" else form.x - out, form.y + along
