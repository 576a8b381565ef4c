"""How many rounds of small turns a lockup wants before its trial lift can be passed, and how many it has room for.

What is wanted is the model's: good to a factor of two or three. What there is room for is the quoins' own travel.
"""

from __future__ import annotations

from dataclasses import dataclass

from stonework.lockup import Item, Lockup, Side, along_x, pattern_of
from stonework.pressing import ASSUMED, Assumptions, PressedForm, State, lift, press_lines, spring_rise, weight_of_type
from stonework.shop import Quoin, Shop
from stonework.tightening import SMALL_TURN, SNUG, Card, card, key_words, too_little_room
from stonework.units import PICA

RISES = 0.25
"""From how many points on a form is said to rise: about the thickness of a sheet of paper. This workbook's own."""

OFF = 1.0
"""From how many points on a row of quoins is said to stand off the middle of its side. This workbook's own."""

_SQUARE = 0.005  # points of skew that are as good as none
_MOST = 60  # rounds; what wants more isn't held by tightening


@dataclass(frozen=True, slots=True)
class Rounds:
    """How a lockup is tightened from finger-tight.

    After ``wanted`` rounds the model expects the trial lift to pass. ``room`` says how many small turns each quoin can
    have before it is a point from its last notch. At round ``rising`` the form begins to rise, if it does so before
    either ends.
    ``keys`` says of each pattern how its key moves for a small turn. ``off`` has the rows that don't stand in the
    middle of their side, with how many points to the right or up; ``skew`` is how the model has the form end when all
    quoins have had the rounds that are wanted, or have room for, in points: see ``State.skew``.
    """

    wanted: int
    room: tuple[int, ...]
    rising: int | None
    keys: tuple[str, ...]
    off: tuple[tuple[Side, float], ...] = ()
    skew: float = 0.0

    @property
    def refusal(self) -> str:
        """Why nobody should begin: a sentence, or nothing if there is room for what is wanted."""
        return too_little_room(min(self.room), self.wanted) if min(self.room) < self.wanted else ""

    @property
    def askew(self) -> str:
        """What rows off the middle leave in the form at the end, in sentences; nothing if none is off."""
        if not self.off:
            return ""
        rows = " ".join(f"The quoins on the {side} stand {_off_words(side, by)}." for side, by in self.off)
        if abs(self.skew) < _SQUARE:
            return f"{rows} By the model the form ends square all the same."
        way = "anticlockwise" if self.skew > 0 else "clockwise"
        return (
            f"{rows} However evenly they are tightened, by the model the form ends about {abs(self.skew):.2f} points "
            f"cocked over its longer side, turned {way}; that is good to a factor of two or three. Quoins in the "
            "middle of a side leave it square."
        )


def rounds(lockup: Lockup, shop: Shop, assumed: Assumptions = ASSUMED) -> Rounds:
    """Reckon a finished lockup's rounds.

    Raises ``ValueError``, a sentence, if it can't be pressed: quoins not on two sides that meet, or open past their
    travel, or a pattern that the shop hasn't.
    """
    form = PressedForm.of(lockup, assumed, shop.quoins)
    room = tuple(_small_turns(item, shop) for side in lockup.quoin_sides for item in _row(lockup, side))
    unbounded = PressedForm.of(lockup, assumed)
    wanted, rising = _MOST, None
    for n in range(1, _MOST):
        if wanted < n > min(room):
            break  # nobody goes on beyond both
        state = unbounded.state([SNUG + SMALL_TURN * n] * len(form.quoins))
        if rising is None and rise(lockup, state, assumed) >= RISES:
            rising = n
        if wanted == _MOST and _lifts(lockup, state, assumed):
            wanted = n
    patterns = dict.fromkeys(_pattern(item, shop) for item in lockup.items if item.kind == "quoin")
    keys = tuple(f"{one.name}, {key_words(one.turn)}" for one in patterns)
    turns = min(wanted, *room)
    skew = unbounded.state([SNUG + SMALL_TURN * turns] * len(form.quoins)).skew
    rows = ((side, form.off_middle(side)) for side in lockup.quoin_sides)
    return Rounds(wanted, room, rising, keys, tuple((side, by) for side, by in rows if abs(by) >= OFF), skew)


def card_of(lockup: Lockup, shop: Shop) -> Card:
    """Write the tightening card of a lockup that has been judged; ``ValueError`` as ``rounds``, or for want of room."""
    todo = rounds(lockup, shop)
    sides = tuple(side for side in lockup.quoin_sides for _ in lockup.quoins(side))
    return card(sides, todo.keys, todo.wanted, min(todo.room), todo.rising, lockup.head, todo.askew)


def rise(lockup: Lockup, state: State, assumed: Assumptions = ASSUMED) -> float:
    """Return how far the form's middle rises under the harder of its two pushes, in points; see ``spring_rise``."""
    form = lockup.form
    up, across = pushes(lockup, state)
    return max(spring_rise(up, form.height, form.width, assumed), spring_rise(across, form.width, form.height, assumed))


def pushes(lockup: Lockup, state: State) -> tuple[float, float]:
    """Return the whole push of the quoins above or below the form, and of those beside it, in newtons."""
    sides = [side for side in lockup.quoin_sides for _ in lockup.quoins(side)]
    pushed = list(zip(sides, state.forces, strict=True))
    up = sum(force for side, force in pushed if along_x(side))
    return up, sum(force for _, force in pushed) - up


def _lifts(lockup: Lockup, state: State, assumed: Assumptions) -> bool:
    """Say whether friction holds the form, and lines a pica deep of which one is a little short of the others."""
    form = lockup.form
    weight = weight_of_type(form.width, form.height)
    upright = along_x(lockup.head)
    lines = max(2, round((form.height if upright else form.width) / PICA))
    short = [0.0] * (lines - 1) + [assumed.line_short]
    up, across = pushes(lockup, state)
    ends = across if upright else up  # what presses on the lines' ends
    return lift(state.forces, weight, assumed).enough and not press_lines(ends, short, weight / lines, assumed).dropped


def _off_words(side: Side, by: float) -> str:
    low, high = ("to the left of", "to the right of") if along_x(side) else ("below", "above")
    return f"{abs(by):.0f} points {high if by > 0 else low} the middle of their side"


def _row(lockup: Lockup, side: Side) -> list[Item]:
    """Return a side's quoins from left to right, or from the bottom up."""
    return sorted(lockup.quoins(side), key=lambda item: (item.x, item.y))


def _pattern(item: Item, shop: Shop) -> Quoin:
    pattern = pattern_of(item, shop.quoins)
    if pattern is None:
        raise ValueError(f"A quoin on the {item.side} is none of this shop's: use one of those that its file names.")
    return pattern


def _small_turns(item: Item, shop: Shop) -> int:
    """Return how many small turns a quoin can have from finger-tight, before it is a point from its last notch."""
    pattern = _pattern(item, shop)
    left = pattern.most_tight - (item.thickness - pattern.closed) - SNUG
    return max(0, int(left / SMALL_TURN + 1e-6))
