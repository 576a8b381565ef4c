"""The *quoin* panel: what a turn of the key does, and when to put in wood instead."""

from __future__ import annotations

import math
from html import escape
from typing import Any

from ipywidgets import Dropdown

from stonework.drawing.wedge import WedgeView, wedge_words
from stonework.drawing.words import in_points
from stonework.lockup import SLACK
from stonework.panels.asking import NAMED, length_box, set_quietly
from stonework.panels.common import NUMBERS, LivePanel, guarded
from stonework.panels.numbers import NumberBox
from stonework.pressing import Wedge
from stonework.shop import AS_GOOD_AS_SHUT, Quoin, Shop
from stonework.tightening import SMALL_TURN, key_words
from stonework.units import read_length, write_length

_FACES = {"reglet on both faces": True, "bare furniture": False}


def wedge_force(wedge: Wedge) -> str:
    """Return what a taper makes of the key's force, and whether the wedge holds by itself, as HTML."""
    holds = "It holds by itself" if wedge.self_locking else "It would slip back by itself"
    told = (
        f"{holds}: iron on iron and iron on wood don't slip until {_slope(wedge)}, by frictions that are assumed.",
        f"For every pound of push along each wedge about {1 / wedge.drive(1):.1f} come out across; without friction it "
        f"would be {1 / wedge.taper:g}.",
    )
    return "".join(f"<p>{escape(words)}</p>" for words in told)


def _slope(wedge: Wedge) -> str:
    """Return the steepest taper that still holds, as 1 in so much."""
    return f"a taper of about 1 in {1 / math.tan(math.atan(wedge.inner) + math.atan(wedge.outer)):.1f}"


class WedgePanel(LivePanel):
    """One of the shop's quoins, the room it lies in, and small turns of its key."""

    def __init__(self, shop: Shop, room: str = "2 picas 3 pt", quoin: str | None = None) -> None:
        self._shop = shop
        names = [one.name for one in shop.quoins]
        chosen = quoin if quoin in names else names[0]
        self._quoin = Dropdown(options=names, value=chosen, description="Quoin", style=NAMED)
        self._room = length_box(room, "Room for it, fingers only")
        self._turns = NumberBox(0, 0, 60, "Small turns")
        self._a_turn = length_box(_measured(shop.quoin(chosen)), "A quarter turn opens it by")
        self._taper = NumberBox(10, 4, 40, "Taper, 1 in")
        self._faces = Dropdown(options=list(_FACES), description="Between", style=NAMED)
        self._wedge_view = WedgeView(f"wedge-{next(NUMBERS)}")
        super().__init__(
            [self._quoin, self._room, self._turns, self._a_turn, self._taper, self._faces], self._wedge_view, "quoin"
        )
        self._quoin.observe(self._other, "value")

    def __repr__(self) -> str:
        return f"<quoin: {self._quoin.value} in {self._room.value}, {self._turns.value} small turns>"

    @guarded
    def _other(self, _change: Any) -> None:
        """Take the figures of another quoin: what its quarter turn does, and the room it rests best in."""
        quoin = self._shop.quoin(self._quoin.value)
        values = (
            (self._a_turn, _measured(quoin)),
            (self._room, write_length(quoin.closed + quoin.rest)),
            (self._turns, "0"),
        )
        set_quietly(values, self._ask)
        self._ask()

    def answer(self) -> None:
        """Draw the quoin and say how it stands."""
        quoin = self._shop.quoin(self._quoin.value)
        room, a_turn = read_length(self._room.value), read_length(self._a_turn.value)
        if room < quoin.closed:
            raise ValueError(
                f"The room is {write_length(room)}, and shut this quoin is {write_length(quoin.closed)} thick: it "
                "doesn't go in. Take out wood."
            )
        if a_turn <= 0:
            raise ValueError("A quarter turn that opens nothing was typed; measure yours as heading 3 says.")
        fingers = room - quoin.closed
        opening = fingers + self._turns.number * SMALL_TURN
        quoin.allow(opening)
        bare = not _FACES[self._faces.value] and quoin.bears_on == "reglet"
        self._taper.disabled = quoin.kind != "two wedges"
        self._wedge_view.draw(quoin, opening, _FACES[self._faces.value])
        words, refused = standing_words(quoin, fingers, opening)
        if bare:
            words += " This one also bears on bare furniture, and bruises it: lay reglet on both faces."
        force = wedge_force(Wedge(1 / self._taper.number)) if quoin.kind == "two wedges" else ""
        self.show(
            f"Open {write_length(round(opening, 2))}. {words}",
            f"<p>{escape(wedge_words(quoin, opening))}</p><p>{escape(key_facts(a_turn))}</p>{force}",
            refused=refused or bare,
        )


def _measured(quoin: Quoin) -> str:
    return write_length(quoin.turn) if quoin.turn else write_length(SMALL_TURN)


def standing_words(quoin: Quoin, fingers: float, opening: float) -> tuple[str, bool]:
    """Say how a quoin stands that was open so far with fingers only, and whether something is wrong; in points."""
    end = "last notch" if quoin.kind == "two wedges" else "end of its travel"
    if fingers > quoin.most_open + SLACK:
        return (
            f"Finger-tight it is open more than {in_points(quoin.most_open)}: too little of its travel is left for "
            "tightening. Put in more wood.",
            True,
        )
    if opening > quoin.most_tight - SMALL_TURN + SLACK:
        return f"It gets no more turns: the {end} is near. If the form isn't tight, put in more wood.", True
    left = int((quoin.most_tight - opening) / SMALL_TURN + 1e-6)
    turns = f"{left} small turn{'s' * (left != 1)} left before the {end} is near."
    if opening > fingers:
        return f"Tightened, with {turns}", False
    if fingers < AS_GOOD_AS_SHUT:
        return f"Shut, or as good as shut: it can't be slackened. {turns[:1].upper()}{turns[1:]}", True
    return f"Good, finger-tight: it can be slackened, and there are {turns}", False


def key_facts(a_turn: float) -> str:
    """Say what a measured quarter turn makes of a small turn, and where to write the figure."""
    return (
        f"Where a quarter turn opens {write_length(round(a_turn, 2))} with nothing pressing, a small turn, which opens "
        f'half a point, is {key_words(a_turn)}. In the shop\'s file, under this quoin: turn = "{write_length(a_turn)}".'
    )
