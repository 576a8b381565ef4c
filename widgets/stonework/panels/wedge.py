"""The *quoin* panel: what a turn of the key does, and when to put in wood instead."""

from __future__ import annotations

import math
from html import escape

from ipywidgets import BoundedIntText, Dropdown

from stonework.drawing.wedge import WedgeView, wedge_words
from stonework.lockup import SLACK
from stonework.panels.common import NAMED, NUMBERS, LivePanel, length_box
from stonework.pressing import Wedge
from stonework.shop import Shop
from stonework.units import read_length, write_length

_FACES = {"reglet on both faces": True, "bare furniture": False}


def wedge_force(wedge: Wedge) -> str:
    """Return what a taper makes of the key's force, and whether the wedge holds by itself, as HTML."""
    holds = "It holds by itself" if wedge.self_locking else "It would slip back by itself"
    told = (
        f"{holds}: iron on iron and iron on wood don't slip until {_slope(wedge)}, by frictions that are assumed.",
        f"For every newton along each wedge the quoin pushes with about {1 / wedge.drive(1):.1f}; without friction it "
        f"would be {1 / wedge.taper:g}.",
    )
    return "".join(f"<p>{escape(words)}</p>" for words in told)


def _slope(wedge: Wedge) -> str:
    """Return the steepest taper that still holds, as 1 in so much."""
    return f"a taper of about 1 in {1 / math.tan(math.atan(wedge.inner) + math.atan(wedge.outer)):.1f}"


class WedgePanel(LivePanel):
    """One of the shop's quoins, the room it lies in, and quarter turns of its key."""

    def __init__(self, shop: Shop, room: str = "2 picas 3 pt", a_turn: str = "0.5 pt") -> None:
        self._shop = shop
        self._quoin = Dropdown(options=[quoin.name for quoin in shop.quoins], description="Quoin", style=NAMED)
        self._room = length_box(room, "Room for it, fingers only")
        self._a_turn = length_box(a_turn, "A quarter turn opens it by")
        self._turns = BoundedIntText(0, min=0, max=24, description="Quarter turns", style=NAMED)
        self._taper = BoundedIntText(10, min=4, max=40, description="Taper, 1 in", style=NAMED)
        self._faces = Dropdown(options=list(_FACES), description="Between", style=NAMED)
        self._wedge_view = WedgeView(f"wedge-{next(NUMBERS)}")
        super().__init__(
            [self._quoin, self._room, self._a_turn, self._turns, self._taper, self._faces], self._wedge_view, "quoin"
        )

    def __repr__(self) -> str:
        return f"<quoin: {self._quoin.value} in {self._room.value}, {self._turns.value} quarter turns>"

    def answer(self) -> None:
        """Draw the quoin and say how it stands."""
        quoin = self._shop.quoin(self._quoin.value)
        room, a_turn = read_length(self._room.value), read_length(self._a_turn.value)
        opening = room - quoin.closed + self._turns.value * a_turn
        if room < quoin.closed:
            raise ValueError(
                f"The room is {write_length(room)}, and shut this quoin is {write_length(quoin.closed)} thick: it "
                "doesn't go in. Take out wood."
            )
        if opening > quoin.travel:
            raise ValueError(
                f"The quoin would have to open {write_length(opening)}, and its travel ends at "
                f"{write_length(quoin.travel)}: it can push no further. Slacken it and put in more wood."
            )
        self._wedge_view.draw(quoin, opening, _FACES[self._faces.value])
        bare = not _FACES[self._faces.value]
        if opening >= quoin.travel - SLACK:
            state = "It is at its last notch: slacken it and put in more wood."
        elif opening >= quoin.most_open - SLACK:
            state = "No turns are left: its reserve begins here. Put in more wood."
        elif opening >= quoin.rest - SLACK:
            state = "Good: it can be slackened and tightened."
        else:
            state = "Hardly open: it can't be slackened much."
        if bare:
            state += " But it bears on bare furniture, and bruises it: lay reglet on both faces."
        tight = opening >= quoin.most_open - SLACK
        self.show(
            f"Open {write_length(round(opening, 2))}. {state}",
            f"<p>{escape(wedge_words(quoin, opening))}</p>{wedge_force(Wedge(1 / self._taper.value))}",
            refused=tight or bare,
        )
