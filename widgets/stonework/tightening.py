"""The order in which quoins are tightened: ways to do it, how crooked the form sits on the way, and a card to work by.

An order is a sequence of quoin numbers, one for each turn of the key: a quarter turn, or any stroke that is the same
every time. Quoins are numbered side by side, along each from left to right or from the bottom up. How a form lies
depends only on how often each quoin has been turned, so a search among those states is a search among all orders.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from numbers import Real
from typing import NamedTuple, Protocol

from stonework.lockup import Lockup, Side, along_x

Order = tuple[int, ...]

_MOST_TURNS = 100  # far beyond any quoin
_MOST_STATES = 50_000  # a few seconds' work
_FINEST = 9  # decimals of a point; skews alike to this count as one


class Lying(Protocol):
    """How a form lies."""

    @property
    def skew(self) -> float:
        """How far it sits cocked, in points."""

    @property
    def loose(self) -> bool:
        """Say whether anything is loose."""


class Pressed(Protocol):
    """A form between quoins, such as ``pressing.PressedForm``."""

    @property
    def sides(self) -> tuple[Side, ...]:
        """The side that each quoin lies on."""

    def state(self, openings: Sequence[float]) -> Lying:
        """Return how it lies with each quoin opened so many points beyond touching."""


# --- ways to do it ----------------------------------------------------------------------------------------
# Each takes the side of every quoin and how many turns each shall have. Quoins above or below the form come before
# those beside it: feet before sides (MacKellar, *The American Printer*, 1893, p. 148).


def each_home(sides: Sequence[Side], turns: int) -> Order:
    """Turn each quoin home before the next is touched: what the books warn of (MacKellar p. 260)."""
    return tuple(n for row in _rows(sides) for n in row for _ in range(turns))


def diagonal(sides: Sequence[Side], turns: int) -> Order:
    """Turn each quoin home, every next one across the form: along one side away from the quoins' corner, along the
    other toward it.
    """
    rows = _rows(sides)
    for away, row, other in ((True, *rows), (False, *rows[::-1])):
        corner_is_high = sides[other[0]] in ("top", "right")
        if away == corner_is_high:
            row.reverse()
    longest = max(map(len, rows))
    return tuple(row[n] for n in range(longest) for row in rows if n < len(row) for _ in range(turns))


def half_passes(sides: Sequence[Side], turns: int) -> Order:
    """Turn each quoin half way home, one after another, and then each the rest of the way."""
    half = (turns + 1) // 2
    return each_home(sides, half) + each_home(sides, turns - half)


def alternating(sides: Sequence[Side], turns: int) -> Order:
    """Turn each quoin of one side once, then each of the other, and so round again.

    A small turn to each in succession (S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912, pp. 33–34);
    opposite sides in turn, and never one quarter wholly first (MacKellar pp. 148, 260). By quarter turns, the pair of
    one side and then the other: common practice, no source.
    """
    return each_home(sides, 1) * turns


WAYS: Mapping[str, Callable[[Sequence[Side], int], Order]] = {
    "each home in turn": each_home,
    "diagonal in turn": diagonal,
    "half passes": half_passes,
    "alternating quarter turns": alternating,
}
BEST = "best by the model"


def _rows(sides: Sequence[Side]) -> list[list[int]]:
    """Return the quoins of the top or bottom, then those of the left or right."""
    rows = [[n for n, side in enumerate(sides) if along_x(side) == across] for across in (True, False)]
    if not all(rows) or len(set(sides)) != 2:
        raise ValueError(f"Quoins were read on {list(sides)}; they must lie on two sides that meet.")
    return rows


# --- what a form makes of them ----------------------------------------------------------------------------


class Walk(NamedTuple):
    """An order, the form's skew after each turn of it in points, and after how many of them something is loose."""

    order: Order
    skews: tuple[float, ...]
    loose: int

    @property
    def worst(self) -> float:
        """The most that the form sits cocked on the way, in points, either way."""
        return max(map(abs, self.skews), default=0.0)

    @property
    def total(self) -> float:
        """The sum of all skews on the way, in points, either way."""
        return math.fsum(map(abs, self.skews))


class Tightening:
    """A form with all quoins finger-tight, to be tightened by equal turns; it remembers every state it has met.

    ``turns`` is how many each quoin shall have, ``snug`` how far finger-tight is beyond touching and ``turn`` how far
    one turn opens a quoin, in points. All are assumed: measure the turn with a caliper, as quoins differ tenfold.
    ``ValueError`` for a figure that can't be.
    """

    def __init__(self, form: Pressed, turns: int = 4, *, snug: float = 0.5, turn: float = 0.5) -> None:
        for name, points in (("finger-tight opening", snug), ("opening of one turn", turn)):
            if not (isinstance(points, Real) and 0 < points < math.inf):
                raise ValueError(f"The {name} was read as {points!r} pt; it must be a number above nothing.")
        self.form, self.turns, self.snug, self.turn = form, _whole(turns), snug, turn
        self._states: dict[tuple[int, ...], Lying] = {}
        self._count = (self.turns + 1) ** len(form.sides)

    def state(self, turned: Sequence[int]) -> Lying:
        """Return how the form lies once each quoin has been turned so many times."""
        key = tuple(turned)
        if key not in self._states:
            self._states[key] = self.form.state([self.snug + self.turn * n for n in key])
        return self._states[key]

    def walk(self, order: Sequence[int]) -> Walk:
        """Follow an order, whole or in part. ``ValueError`` if it turns a quoin that isn't there, or too often."""
        turned = [0] * len(self.form.sides)
        states = []
        for quoin in order:
            if quoin not in range(len(turned)) or turned[quoin] == self.turns:
                raise ValueError(
                    f"The order was read as {list(order)}; give quoins from 0 to {len(turned) - 1}, none more than "
                    f"{self.turns} times."
                )
            turned[quoin] += 1
            states.append(self.state(turned))
        return Walk(tuple(order), tuple(state.skew for state in states), sum(state.loose for state in states))

    def best(self) -> Walk:
        """Return, of all orders of least worst skew, one of least total skew: exactly, by dynamic programming.

        Every state comes after those that lead to it. The first pass finds the least worst skew on any way there;
        the second, keeping to that of the last state, the least total. ``ValueError`` if there are too many states.
        """
        quoins = len(self.form.sides)
        if self._count > _MOST_STATES:
            raise ValueError(f"{quoins} quoins by {self.turns} turns make {self._count} states; use fewer turns.")
        start, *states = product(range(self.turns + 1), repeat=quoins)
        skews = {at: round(abs(self.state(at).skew), _FINEST) for at in states}
        worst = {start: 0.0}
        for at in states:
            worst[at] = max(skews[at], min(worst[before] for _, before in _steps_to(at)))
        total = {start: (0.0, -1, start)}
        for at in states:
            ways = [(total[before][0], quoin, before) for quoin, before in _steps_to(at) if before in total]
            if ways and skews[at] <= worst[states[-1]]:
                least, quoin, before = min(ways)
                total[at] = (least + skews[at], quoin, before)
        order, at = [], states[-1]
        while at != start:
            _, quoin, at = total[at]
            order.append(quoin)
        return self.walk(order[::-1])

    @property
    def ways(self) -> tuple[str, ...]:
        """The names of ``WAYS``, and the ``BEST`` unless there are too many states to search."""
        return (*WAYS, BEST) if self._count <= _MOST_STATES else tuple(WAYS)

    def compare(self) -> dict[str, Walk]:
        """Follow each of ``WAYS``, and the ``BEST`` unless there are too many states to search."""
        walks = {name: self.walk(way(self.form.sides, self.turns)) for name, way in WAYS.items()}
        return {**walks, BEST: self.best()} if BEST in self.ways else walks


def _whole(turns: int) -> int:
    if not (isinstance(turns, int) and 1 <= turns <= _MOST_TURNS):
        raise ValueError(f"The turns were read as {turns!r}; a whole number from 1 to {_MOST_TURNS} is needed.")
    return turns


def _steps_to(at: tuple[int, ...]) -> list[tuple[int, tuple[int, ...]]]:
    """Return each quoin that may have been turned last, and the state before."""
    return [(n, (*at[:n], turned - 1, *at[n + 1 :])) for n, turned in enumerate(at) if turned]


class Advice(NamedTuple):
    """The order to use, and why."""

    order: Order
    reason: str


def advise(tightening: Tightening) -> Advice:
    """Recommend alternating turns, with what the model makes of them, of each quoin home in turn, and of its own best.

    The best isn't recommended: in a reckoning with friction, which isn't part of this package, up to a quarter of a
    point of skew stayed in the form after it, and hardly any after plain alternation.
    """
    walks = tightening.compare()
    plain, home, best = (walks.get(name) for name in ("alternating quarter turns", "each home in turn", BEST))
    reason = (
        "Give every quoin of one side a small turn, then every quoin of the other, and so round again, as the books "
        f"teach. By this model the form then sits at most {plain.worst:.2f} pt cocked on the way, and {home.worst:.2f} "
        "pt if each quoin is driven home before the next."
    )
    if best is not None and best.worst < plain.worst:
        reason += (
            f" The least for any order is {best.worst:.2f} pt. But the model leaves out friction, which keeps some of "
            "the skew in the form: an order that is best without it suffers more from it than plain turns in rotation."
        )
    return Advice(plain.order, reason)


# --- a card to work by ------------------------------------------------------------------------------------


class Step(NamedTuple):
    """One thing to do, in words. A turn of a quoin has the quoin's number, and ``round`` says how often by then."""

    words: str
    quoin: int | None = None
    round: int | None = None


@dataclass(frozen=True, slots=True)
class Card:
    """What to do at the stone, in order, and what to mind. ``quoins`` are their names by number."""

    quoins: tuple[str, ...]
    steps: tuple[Step, ...]
    cautions: tuple[str, ...]


CAUTIONS = (
    "The rules of your print room and a trained instructor come before this card.",
    "Tightened quoins are wedges under load: keep face and fingers from above them, use only the key made for them, "
    "and never strike it or lengthen it.",
    "Never drive a quoin to its last notch, which endangers chase and quoin: slacken it and put in more wood.",
    "Tighten no more than the trial lift asks for: too tight, a form springs off the stone and an old chase may break.",
    "Keep your hands from under a raised form, and lift a heavy one together; wash your hands after handling type.",
)


def card(lockup: Lockup, turns: int = 4) -> Card:
    """Write the card for a lockup: up to so many rounds of alternating quarter turns.

    Vaughn pp. 32–34: the notch, fingers first, each in succession, trial lift, springing. MacKellar pp. 148, 208,
    260: one planing, sides first when unlocking, none left too slack. W. Savage, *Dictionary*, 1841, “Plane down”:
    never while locked tight.
    """
    sides = tuple(side for side in lockup.quoin_sides for _ in lockup.quoins(side))
    names = quoin_names(sides)
    rounds = [(n, quoin) for n in range(1, _whole(turns) + 1) for quoin in alternating(sides, 1)]
    words = (
        "Push every quoin up with your fingers only, until all the wood meets.",
        "Plane lightly: set the planer flat, tap it, and lift it before you move it on.",
        "Turn the quoins in this order, a quarter turn at most and every turn alike; if your quoins open far in a "
        "quarter turn, make every turn smaller.",
        "Plane again only if a letter stands high. If the form is locked tight, first slacken all quoins to "
        "finger-tight, a little each in turn, sides before top and bottom; then plane lightly and begin the rounds "
        "again.",
        "Trial lift: raise one side of the chase very slightly, prop it on a spare quoin, pat the type lightly and "
        "look for anything that moves or drops.",
        "If something drops, lower the form, slacken it and mend the short line, which a tighter lockup won't cure; "
        "then try again.",
        "Stop as soon as nothing drops, even if turns are left on this card. Stop at once if a quoin turns hard or is "
        "near its last notch, or if the form begins to rise from the stone.",
    )
    turning = (Step(f"Round {n}: {names[quoin]}, a quarter turn.", quoin, n) for n, quoin in rounds)
    return Card(names, (*map(Step, words[:3]), *turning, *map(Step, words[3:])), CAUTIONS)


def quoin_names(sides: Sequence[Side]) -> tuple[str, ...]:
    """Name each quoin as one sees it in the plan: “top, left one”, or “right, the only one”."""
    return tuple(
        f"{side}, {_which(sides[:n].count(side), sides.count(side), along_x(side))}" for n, side in enumerate(sides)
    )


def _which(before: int, of: int, across: bool) -> str:
    first, last = ("left", "right") if across else ("lower", "upper")
    if of == 1:
        return "the only one"
    if before in (0, of - 1):
        return f"{last if before else first} one"
    return "middle one" if of == 3 else f"number {before + 1} from the {'left' if across else 'bottom'}"
