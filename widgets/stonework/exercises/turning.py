"""A lockup being tightened: a small turn at a time, either way, with every step to be undone or played."""

from __future__ import annotations

from collections.abc import Sequence

from stonework.lockup import Lockup
from stonework.pressing import ASSUMED, PressedForm, Rail, State, chase_frame, lift, weight_of_type
from stonework.readiness import readiness
from stonework.rounds import RISES, pushes, rise, rounds
from stonework.shop import Shop
from stonework.tightening import Order, Tightening, Walk, quoin_names

# Modulus × depth³ × thickness / 12 of a bar of 3/4 inch each way, N·mm²: iron of 80 000 MPa, assumed.
_BAR_RIGIDITY = 80_000 * 19.05**4 / 12

OWN = "the turns so far"


class Turning:
    """A lockup's quoins, finger-tight to begin with, and every small turn given to them since.

    ``rounds`` says how many each is likely to want, and how many it has room for: it gets no more. Orders end where
    the trial lift is likely to pass. ``ValueError``, a sentence, for a lockup that isn't ready to be tightened, or
    whose quoins haven't room for as much as the lift asks for.
    """

    def __init__(self, lockup: Lockup, shop: Shop) -> None:
        if unready := readiness(lockup, shop).words:
            raise ValueError(unready)
        self.lockup, self.rounds = lockup, rounds(lockup, shop)
        if self.rounds.refusal:
            raise ValueError(self.rounds.refusal)
        self.tightening = Tightening(PressedForm.of(lockup, quoins=shop.quoins), self.rounds.wanted)
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
        """Whether every quoin has had as many small turns as the trial lift is likely to ask for."""
        return all(turned == self.rounds.wanted for turned in self.turned)

    @property
    def held(self) -> float:
        """How many times its own weight friction at its sides could hold the form; lines drop, not forms."""
        form = self.lockup.form
        hold = lift(self.state.forces, weight_of_type(form.width, form.height))
        return hold.hold / (hold.wanted / ASSUMED.margin)

    @property
    def rise(self) -> float:
        """How far the form's middle rises under the harder of its two pushes, in points."""
        return rise(self.lockup, self.state)

    @property
    def rises(self) -> bool:
        """Whether the form rises by as much as a sheet of paper is thick."""
        return self.rise >= RISES

    @property
    def bow(self) -> float:
        """How far the chase's rails bow at most, in points, if they are iron bars of 3/4 inch; both assumed."""
        chase, (up, across) = self.lockup.chase, pushes(self.lockup, self.state)
        return max(chase_frame(Rail(chase.width, up), Rail(chase.height, across), _BAR_RIGIDITY).bows)

    def turn(self, quoin: int, by: int = 1) -> bool:
        """Give a quoin a small turn, tighter (1) or looser (-1); say whether it went."""
        if not 0 <= self.turned[quoin] + by <= self.rounds.room[quoin]:
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
