"""A lockup being tightened: a quarter turn at a time, either way, with every step to be undone or played."""

from __future__ import annotations

from collections.abc import Sequence

from stonework.lockup import Lockup, Side, along_x
from stonework.pressing import (
    ASSUMED,
    PressedForm,
    Rail,
    State,
    chase_frame,
    lift,
    spring_rise,
    weight_of_type,
)
from stonework.tightening import Order, Tightening, Walk, quoin_names

# Modulus × depth³ × thickness / 12 of a bar of 3/4 inch each way, N·mm²: iron of 80 000 MPa, assumed.
_BAR_RIGIDITY = 80_000 * 19.05**4 / 12

OWN = "the turns so far"
SNUG, TURN, TURNS = 0.5, 0.5, 4
"""How far finger-tight is beyond touching, how far a quarter turn opens a quoin (points), and how many turns each
has: all assumed, for practice. Quoins differ tenfold; lesson 4 says how to measure yours."""


class Turning:
    """A lockup's quoins, finger-tight to begin with, and every turn given to them since.

    A quoin can be loosened to finger-tight and tightened by ``TURNS`` quarter turns, no further.
    """

    def __init__(self, lockup: Lockup) -> None:
        self.lockup = lockup
        self.tightening = Tightening(PressedForm.of(lockup), TURNS, snug=SNUG, turn=TURN)
        self.names = quoin_names(self.tightening.form.sides)
        self.turned = [0] * len(self.names)
        self.done: list[tuple[int, int]] = []
        self._walks: dict[str, Walk] | None = None

    @property
    def state(self) -> State:
        """How the form lies now."""
        return self._state(self.turned)

    @property
    def skews(self) -> list[float]:
        """How far the form sat cocked after each turn so far, in points."""
        turned, skews = [0] * len(self.names), []
        for quoin, by in self.done:
            turned[quoin] += by
            skews.append(self._state(turned).skew)
        return skews

    @property
    def worst(self) -> float:
        """The most that it sat cocked so far, in points, either way."""
        return max(map(abs, self.skews), default=0.0)

    @property
    def home(self) -> bool:
        """Whether every quoin has had all its turns."""
        return all(turned == TURNS for turned in self.turned)

    @property
    def held(self) -> float:
        """How many times its own weight friction at its sides could hold the form; lines drop, not forms."""
        form = self.lockup.form
        hold = lift(self.state.forces, weight_of_type(form.width, form.height))
        return hold.hold / (hold.wanted / ASSUMED.margin)

    @property
    def rise(self) -> float:
        """How far the form's middle rises under the harder of its two pushes, in points."""
        form = self.lockup.form
        up, across = (self._push(side) for side in self.lockup.quoin_sides)
        if not along_x(self.lockup.quoin_sides[0]):
            up, across = across, up
        return max(spring_rise(up, form.height, form.width), spring_rise(across, form.width, form.height))

    @property
    def bow(self) -> float:
        """How far the chase's rails bow at most, in points, if they are iron bars of 3/4 inch; both assumed."""
        chase = self.lockup.chase
        rails = [
            Rail(chase.width if along_x(side) else chase.height, self._push(side)) for side in self.lockup.quoin_sides
        ]
        return max(chase_frame(*rails, _BAR_RIGIDITY).bows)

    def _push(self, side: Side) -> float:
        """Return the whole push of one side's quoins, in newtons."""
        of = zip(self.tightening.form.sides, self.state.forces, strict=True)
        return sum(force for one, force in of if one == side)

    def turn(self, quoin: int, by: int = 1) -> bool:
        """Give a quoin a quarter turn, tighter (1) or looser (-1); say whether it went."""
        if not 0 <= self.turned[quoin] + by <= TURNS:
            return False
        self.turned[quoin] += by
        self.done.append((quoin, by))
        return True

    def undo(self) -> bool:
        """Take the last turn back; say whether there was one."""
        if not self.done:
            return False
        quoin, by = self.done.pop()
        self.turned[quoin] -= by
        return True

    def begin_again(self) -> None:
        """Loosen all to finger-tight and forget the turns."""
        self.turned, self.done = [0] * len(self.names), []

    def play(self, order: Sequence[int]) -> bool:
        """Give the next turn of an order, and say if one was left; other turns given before are undone first."""
        so_far = [quoin for quoin, by in self.done if by == 1]
        if len(so_far) != len(self.done) or list(order[: len(so_far)]) != so_far:
            self.begin_again()
            so_far = []
        return len(so_far) < len(order) and self.turn(order[len(so_far)])

    def order(self, name: str) -> Order:
        """Return one of the named ways to tighten these quoins, or the turns given so far."""
        return tuple(quoin for quoin, _ in self.done) if name == OWN else self.walks[name].order

    @property
    def walks(self) -> dict[str, Walk]:
        """Every named way, and what the form makes of it; worked out when first asked for."""
        if self._walks is None:
            self._walks = self.tightening.compare()
        return self._walks

    def _state(self, turned: Sequence[int]) -> State:
        return self.tightening.state(turned)
