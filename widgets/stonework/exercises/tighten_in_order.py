"""The questions of lesson 5: what goes loose, an order that keeps the form square, and a cocked form put right."""

from __future__ import annotations

import re
from dataclasses import dataclass

from stonework.choosing import choose_lockup
from stonework.drawing.picture import Picture
from stonework.drawing.pressure import PressureView
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Misreading, Variant, of_lesson
from stonework.exercises.turning import Turning
from stonework.form import Form
from stonework.saying import shown
from stonework.shop import Shop
from stonework.tightening import ROTATION
from stonework.units import PICA, write_length

LESSON, VERSION = "05-tightening-order", 2

_FEWEST_ROUNDS = 3  # with fewer, every order is nearly alike


@dataclass(frozen=True, slots=True)
class TurnOrder:
    """An order of quoins by their numbers in the picture, such as ``1 2 3 4 1 2 3 4``; or one round of it.

    ``turns`` is how many small turns each quoin has in all.
    """

    quoins: int
    turns: int
    label: str = "Quoins in order, by number"

    def read(self, text: str) -> tuple[int, ...]:
        """Return the quoins, counted from 0; one round stands for as many as there are turns."""
        numbers = [int(number) for number in re.findall(r"\d" if text.strip().isdecimal() else r"\d+", text)]
        if re.sub(r"[\d\s,;-]", "", text) or not numbers or not all(1 <= n <= self.quoins for n in numbers):
            raise ValueError(
                f"“{shown(text)}” isn't an order of quoins; write their numbers from 1 to {self.quoins}, as in "
                f"{' '.join(map(str, range(1, self.quoins + 1)))}."
            )
        order = tuple(n - 1 for n in numbers)
        return order * self.turns if sorted(order) == list(range(self.quoins)) else order

    def alike(self, one: tuple[int, ...], other: tuple[int, ...]) -> bool:
        """Say whether it is the same order."""
        return one == other

    def say(self, value: tuple[int, ...]) -> str:
        """Return the numbers."""
        return " ".join(str(quoin + 1) for quoin in value)


def _turning(numbers: Numbers, shop: Shop) -> Turning | None:
    """Return a form with two quoins on either side, finger-tight."""
    chase = max(shop.chases, key=lambda chase: chase.width * chase.height)
    form = Form(PICA * numbers.whole(22, 38), PICA * numbers.whole(22, 34))
    try:
        turning = Turning(choose_lockup(form, chase, shop), shop)
    except ValueError:  # no lockup, or one whose quoins have too little room
        return None
    return turning if len(turning.names) == 4 and turning.rounds.wanted >= _FEWEST_ROUNDS else None


def _size(turning: Turning) -> str:
    form = turning.lockup.form
    return f"{write_length(form.width)} wide and {write_length(form.height)} high"


def _picture_of(turning: Turning, name: str) -> Picture:
    view = PressureView(name)
    view.draw(turning.lockup, turning.state, turning.names)
    return view


def _what_goes_loose(numbers: Numbers, shop: Shop) -> Variant | None:
    turning = _turning(numbers, shop)
    if turning is None:
        return None
    home = numbers.whole(1, 3)  # the lesson has told what quoin 1 does
    finger_tight = turning.state
    while not turning.state.loose_quoins and turning.turn(home):
        pass
    loose = turning.state.loose_quoins
    if len(loose) != 1:
        return None
    names = [f"{n}: {name}" for n, name in enumerate(turning.names, 1)]
    right = names[loose[0]]
    others = [n for n in range(4) if n not in (home, loose[0])]

    def picture(name: str) -> Picture:
        view = PressureView(name)
        view.draw(turning.lockup, finger_tight, turning.names)
        return view

    return Variant(
        task=f"All quoins of this form, {_size(turning)}, are finger-tight. Now someone gives quoin {names[home]}, "
        f"{turning.turned[home]} small turns before the others have had one. Which quoin goes loose?",
        reader=Choice(tuple(names)),
        right=right,
        why="A quoin that runs ahead takes the push off its neighbour. What you tighten next starts from nothing, on a "
        "form that sits cocked.",
        hints=(
            "The quoin that runs ahead pushes its end of the form away. What happens to the wood beside it?",
            "Think of a board on a soft bed: press one end of it, and look at the other end of the same side.",
        ),
        solution=f"Quoin {right}. It lies on the same side: the form is pushed down under its neighbour, and away from "
        "it.",
        misreadings=(
            Misreading(
                names[home],
                "That is the one that runs ahead: it pushes hardest of all.",
                "named the one driven home",
            ),
            *(
                Misreading(
                    names[n],
                    f"Quoin {n + 1} lies on the other side of the form. It feels the turn a little, but it is the "
                    "neighbour on the same side that loses its push.",
                    "named one on another side",
                )
                for n in others
            ),
        ),
        picture=picture,
        facts={"width": turning.lockup.form.width, "height": turning.lockup.form.height},
    )


def _keep_it_square(numbers: Numbers, shop: Shop) -> Variant | None:
    turning = _turning(numbers, shop)
    if turning is None:
        return None
    walks, turns = turning.walks, turning.rounds.wanted
    alternating, halves = walks[ROTATION], walks["half passes"]
    if halves.worst < 1.3 * alternating.worst:
        return None
    given = (alternating.worst + halves.worst) / 2

    def sound(order: tuple[int, ...]) -> str:
        if any(order.count(quoin) != turns for quoin in range(4)):
            return f"Every quoin has {turns} small turns in all: write each number {turns} times, or once for a round."
        walk = turning.tightening.walk(order)
        if walk.worst > given:
            return f"On the way the form sits {walk.worst:.2f} points cocked."
        if walk.loose:
            return "It stays square enough, but on the way something goes loose, and what is loose can drop or shift."
        return ""

    def remark(order: tuple[int, ...]) -> str:
        return f"At worst it sits {turning.tightening.walk(order).worst:.2f} points cocked."

    def as_text(name: str) -> str:
        return " ".join(str(quoin + 1) for quoin in walks[name].order)

    return Variant(
        task=f"Give each of these four quoins {turns} small turns, so that the form never sits more than "
        f"{given:.2f} points cocked on the way, and nothing goes loose. Write the quoins' numbers in the order of "
        "your turns; one round, such as 4 3 2 1, stands for all its rounds.",
        reader=TurnOrder(4, turns),
        right=as_text(ROTATION),
        why="A little at a time and in turn: no quoin runs ahead, so none goes loose, and the form stays where it is.",
        hints=(
            "What runs ahead, cocks. How little can you give one quoin before the next has its turn?",
            "Go round: one small turn to each quoin of one side, then to each of the other, and begin again.",
        ),
        solution=f"One way is small turns in rotation: {as_text(ROTATION)}. At worst the form "
        f"sits {alternating.worst:.2f} points cocked. By the model other orders do as well or a little better; with "
        "the friction it leaves out, plain rotation is the safest.",
        misreadings=(
            Misreading(
                as_text("each home in turn"),
                "That drives each quoin home before the next: the first one cocks the form, and its neighbour goes "
                "loose.",
                "drove each home in turn",
            ),
            Misreading(
                as_text("diagonal in turn"),
                "Across the corners sounds fair, but these two turn the form the same way: it sits more cocked than "
                "by any other order here.",
                "went across the corners",
            ),
            Misreading(
                as_text("half passes"),
                "Two passes of half are far better than one, and still each quoin runs two turns ahead. Make the "
                "steps smaller.",
                "gave half the turns at once",
            ),
        ),
        picture=lambda name: _picture_of(turning, name),
        sound=sound,
        remark=remark,
        facts={"width": turning.lockup.form.width, "height": turning.lockup.form.height},
    )


_CURES = (
    Misreading(
        "tighten the other quoins until the form is square again",
        "The push evens out, but friction has hold of the type: part of the twist stays in the lines, and everything "
        "is tighter than it need be.",
        "tightened the others too",
    ),
    Misreading(
        "plane hard while it is locked, until the type gives",
        "Type that is locked tight can't move under the planer; its face and its feet can be spoilt. Slacken first, "
        "then plane, and lightly.",
        "planed it while locked",
    ),
    Misreading(
        "loosen only the quoin that was driven home",
        "Then the form is held by quoins that were laid against its crooked edges. Let all of it come free, so that "
        "it can settle.",
        "loosened one quoin only",
    ),
)


def _put_it_right(numbers: Numbers, shop: Shop) -> Variant | None:
    turning = _turning(numbers, shop)
    if turning is None:
        return None
    home = numbers.whole(0, 3)
    for _ in range(turning.rounds.wanted):
        turning.turn(home)
    right = "loosen all quoins to finger-tight, plane lightly, and begin again in turn"
    return Variant(
        task=f"In this form, {_size(turning)}, quoin {home + 1}, {turning.names[home]}, was driven home while the "
        "others were finger-tight. The form sits cocked. What do you do?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in _CURES)))),
        right=right,
        why="A form that has come free settles by itself on a clean stone; one that is forced keeps the twist.",
        hints=(
            "What holds the form in its crooked place?",
            "Before type can move back, nothing may press on it. Before it is pressed again, it must stand flat.",
        ),
        solution="Loosen every quoin to finger-tight, a little each in turn; plane lightly; then begin again with "
        "small turns in rotation.",
        misreadings=_CURES,
        picture=lambda name: _picture_of(turning, name),
        facts={"width": turning.lockup.form.width, "height": turning.lockup.form.height},
    )


TIGHTENING = of_lesson(
    LESSON,
    VERSION,
    ("what-goes-loose", "What goes loose?", _what_goes_loose),
    ("keep-it-square", "Keep it square", _keep_it_square),
    ("put-it-right", "Put it right", _put_it_right),
)
