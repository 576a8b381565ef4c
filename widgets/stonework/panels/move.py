"""The *move* panel: the printing is so far out on the sheet; which pieces are exchanged on the stone."""

from __future__ import annotations

from html import escape

from ipywidgets import Dropdown, Text

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.place_words import WAYS, exchange_words, stacks_words
from stonework.exchanging import between, exchange, inner_wood
from stonework.form import Form
from stonework.lockup import opposite
from stonework.panels.common import NAMED, LivePanel, chase_of, length_box
from stonework.shop import Shop
from stonework.units import read_length, write_length


class MovePanel(LivePanel):
    """A lockup from the cabinet, and by how much what it prints is to move on the sheet."""

    def __init__(self, shop: Shop, width: str = "18 picas", height: str = "24 picas", chase: str | None = None) -> None:
        self._shop, self._lockup, self._none = shop, None, ""
        try:
            self._lockup = choose_lockup(
                Form(read_length(width), read_length(height)), chase_of(shop, chase), shop, solid=shop.placing.guides
            )
        except NoLockup as error:
            self._none = f"This shop has no lockup for a form {width} wide and {height} high. {error}"
        self._way = Dropdown(options=list(WAYS), description="Move the print", style=NAMED)
        self._by: Text = length_box("6 pt", "By how much")
        super().__init__([self._way, self._by], None, "move")

    def __repr__(self) -> str:
        return f"<move: {self._way.value}, by {self._by.value}>"

    def answer(self) -> None:
        """Say which pieces are exchanged."""
        if self._lockup is None:
            raise ValueError(self._none)
        by, grows = read_length(self._by.value), WAYS[self._way.value]
        here, there = inner_wood(self._lockup, grows), inner_wood(self._lockup, opposite(grows))
        found = exchange(here, there, by, between(self._lockup, self._shop, grows))
        if found is None:
            raise ValueError(
                f"No wood of this cabinet makes {write_length(by)} by exchanging a few pieces; its steps are those of "
                "its reglet. Leads give finer ones, by hand at the stone: no panel lays them. Or move the guides."
            )
        words = exchange_words(found, grows)
        self.show(words, f"<p>{escape(stacks_words(self._lockup, grows, here, there))}</p>")
