"""The order in which quoins are tightened: ways to do it, how crooked the form sits on the way, and a card to work by.

An order is a sequence of quoin numbers, one for each *small turn* of the key. All of them open a quoin alike, and how
far the key moves for that depends on the quoin. A *round* is one small turn to every quoin. Quoins are numbered side by
side, along each from left to right or from the bottom up. How a form lies depends only on how often each quoin has been
turned, so a search among those states is a search among all orders.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from numbers import Real
from typing import NamedTuple, Protocol

from stonework.lockup import Side, along_x
from stonework.saying import shown_value

Order = tuple[int, ...]

SMALL_TURN = 0.5
"""How far a small turn of the key opens a quoin, in points; this workbook's own figure."""
SNUG = 0.5
"""How far beyond touching a finger-tight quoin presses, in points: assumed."""

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
    """Turn each quoin home before the next is touched. Of a chase with bars, MacKellar warns of bringing one quarter to
    full tightness first (p. 260).
    """
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
    opposite sides in turn, and of a chase with bars no quarter wholly first (MacKellar pp. 148, 260). The pair of one
    side and then the other: common practice, no source.
    """
    return each_home(sides, 1) * turns


ROTATION = "small turns in rotation"
WAYS: Mapping[str, Callable[[Sequence[Side], int], Order]] = {
    "each home in turn": each_home,
    "diagonal in turn": diagonal,
    "half passes": half_passes,
    ROTATION: alternating,
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
    one turn opens a quoin, in points. ``ValueError`` for a figure that can't be, and from the form where a quoin would
    open past its travel.
    """

    def __init__(self, form: Pressed, turns: int = 4, *, snug: float = SNUG, turn: float = SMALL_TURN) -> None:
        for name, points in (("finger-tight opening", snug), ("opening of one turn", turn)):
            if not (isinstance(points, Real) and 0 < points < math.inf):
                raise ValueError(f"The {name} was read as {shown_value(points)} pt; it must be a number above nothing.")
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
        raise ValueError(
            f"The turns were read as {shown_value(turns)}; a whole number from 1 to {_MOST_TURNS} is needed."
        )
    return turns


def _steps_to(at: tuple[int, ...]) -> list[tuple[int, tuple[int, ...]]]:
    """Return each quoin that may have been turned last, and the state before."""
    return [(n, (*at[:n], turned - 1, *at[n + 1 :])) for n, turned in enumerate(at) if turned]


class Advice(NamedTuple):
    """The order to use, and why."""

    order: Order
    reason: str


def advise(tightening: Tightening) -> Advice:
    """Recommend small turns in rotation, with what the model makes of them, of each quoin home in turn and of its best.

    The best isn't recommended: in a reckoning with friction, which isn't part of this package, up to a quarter of a
    point of skew stayed in the form after it, and hardly any after plain rotation.
    """
    walks = tightening.compare()
    plain, home, best = (walks.get(name) for name in (ROTATION, "each home in turn", BEST))
    reason = (
        "Give every quoin of one side a small turn, then every quoin of the other, and so round again. By this model "
        f"the form then sits at most {plain.worst:.2f} pt cocked on the way, and {home.worst:.2f} pt if each quoin is "
        "driven home before the next."
    )
    if best is not None and best.worst < plain.worst:
        reason += (
            f" The least for any order is {best.worst:.2f} pt. But the model leaves out friction, which keeps some of "
            "the skew in the form: an order that is best without it suffers more from it than plain turns in rotation."
        )
    return Advice(plain.order, f"{reason} These figures are good to a factor of two or three.")


# --- a card to work by ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Card:
    """What to do at the stone, in order, and what to mind.

    ``quoins`` are their names by number and ``order`` the numbers of one round. By the model the trial lift may pass
    after ``wanted`` rounds; the quoins have room for ``room`` and no more.
    """

    quoins: tuple[str, ...]
    order: Order
    wanted: int
    room: int
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


CAUTIONS = (
    "The rules of your print room and a trained instructor come before this card.",
    "Tightened quoins are wedges under load: keep face and fingers from above them, use only the key made for them, "
    "and never strike it or lengthen it.",
    "Never drive a quoin to its last notch, which endangers chase and quoin: slacken it and put in more wood.",
    "Tighten no more than the trial lift asks for: too tight, a form springs off the stone and an old chase may break.",
    "Keep your hands from under a raised form, and lift a heavy one together; wash your hands after handling type.",
)


def card(
    sides: Sequence[Side],
    keys: Sequence[str],
    wanted: int,
    room: int,
    rising: int | None = None,
    head: Side = "top",
    askew: str = "",
) -> Card:
    """Write the card for quoins on these sides: rounds of small turns, with the trial lift between them.

    ``keys`` says of each pattern of quoin how its key moves for a small turn (``key_words``). ``rising`` is the round
    at which the model has the form rise, if it does by then. Head and foot come before the sides of the form, whose
    ``head`` points to that side of the chase. ``askew`` says what rows off the middle leave in it. ``ValueError`` if
    there is no room for the rounds that are wanted.

    S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912, pp. 32–34: the notch, fingers first, each in succession,
    trial lift, springing. MacKellar pp. 148, 260, 269: one planing, sides first when unlocking, slacken what has
    sprung. W. Savage, *Dictionary*, 1841, “Plane down”: never while locked tight. That the trial lift says when to
    stop, and to thin a quoin or add a reglet, is common practice.
    """
    if room < wanted:
        raise ValueError(too_little_room(room, wanted))
    names, order = quoin_names(sides), alternating(sides, 1)
    last = "sides before top and bottom"
    if not along_x(head):  # a page laid sideways has its head and foot at the sides of the chase
        order = tuple(sorted(order, key=lambda quoin: along_x(sides[quoin])))
        last = "top and bottom before the sides"
    later = rising is not None and wanted < rising <= room
    risen = f"By the model it begins to rise at round {rising}: stop before that. " if later else ""
    several = "rounds" if wanted > 1 else "round"
    steps = [
        "Push every quoin up with your fingers only, until all the wood meets. If one ends up nearly shut, take out a "
        "reglet; if too far open, add one. Two wedges that won't go in are thinned by drawing them apart.",
        "Plane lightly: set the planer flat, tap it, and lift it before you move it on.",
        f"A round: {'; '.join(names[quoin] for quoin in order)}. Each has one small turn ({'; '.join(keys)}).",
        "After each round look along the edges, and under them. Stop at once if a quoin turns hard or comes near its "
        "last notch, or if the form begins to rise from the stone: slacken all, and find out why.",
        f"After {wanted} {several} at the latest, try the lift: raise one side of the chase very slightly, prop it on "
        "a spare quoin, pat the type lightly and look for anything that moves or drops.",
        "If nothing drops, stop. You are done, whatever this card says.",
        f"If all of it is a little loose, lower it and give another round; never more than {room} in all, for then a "
        f"quoin is a point before its last notch. {risen}If single lines drop, slacken all quoins and have those "
        "lines made good: a tighter lockup doesn't mend a short line.",
        "Plane again only if a letter stands high; first slacken all quoins to finger-tight, a little each in turn, "
        f"{last}. Then plane lightly, and begin the rounds again.",
    ]
    if rising is not None and rising <= wanted:
        steps.insert(
            4,
            f"By the model this form begins to rise at round {rising}, before the lift is likely to pass. Look under "
            "it after every round; the better its lines are justified, the less it needs.",
        )
    if askew:
        steps.insert(0, askew)
    return Card(names, order, wanted, room, tuple(steps), CAUTIONS)


def too_little_room(room: int, wanted: int) -> str:
    """Say, before anyone begins, that quoins can't be tightened as far as the lift is likely to ask for."""
    have = f"only {room} round{'s' * (room != 1)}" if room else "not a single round"
    return (
        f"By the model the trial lift wants about {wanted} round{'s' * (wanted != 1)} of small turns, and these quoins "
        f"have room for {have} before their last notch. Put in more wood, so that they start thinner."
    )


_PARTS = {
    1 / 20: "a twentieth of",
    1 / 16: "a sixteenth of",
    1 / 14: "a fourteenth of",
    1 / 12: "a twelfth of",
    1 / 10: "a tenth of",
    1 / 8: "an eighth of",
    1 / 6: "a sixth of",
    1 / 4: "a quarter of",
    1 / 3: "a third of",
    1 / 2: "half",
    2 / 3: "two thirds of",
    3 / 4: "three quarters of",
    1.0: "",
}


def key_words(turn: float | None, opens: float = SMALL_TURN) -> str:
    """Say how far a key moves to open its quoin by some points, a quarter turn of it opening ``turn`` points.

    That is measured with nothing pressing: under load wood gives way, and the key feels it.
    """
    if turn is None:
        return "as little as opens it half a point; measure your key first, as lesson 4 says"
    share = opens / turn
    if share > 1.25:
        return f"about {round(2 * share) / 2:g} quarter turns"
    if share < min(_PARTS) / 1.1:
        return "a nudge, less than a twentieth of a quarter turn"
    part = _PARTS[min(_PARTS, key=lambda known: abs(math.log(known / share)))]
    return f"{'a nudge, ' * (share <= 1 / 4)}about {f'{part} a quarter turn' if part else 'a quarter turn'}"


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
