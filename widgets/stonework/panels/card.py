"""The *card* panel: what to do at the stone, in order, for one lockup."""

from __future__ import annotations

from ipywidgets import HTML, VBox

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.card import card_page
from stonework.exercises.turning import Turning
from stonework.form import Form
from stonework.panels.common import REFUSED, STYLE, chase_of, status
from stonework.shop import Shop
from stonework.tightening import Card, advise, card
from stonework.units import read_length


class CardPanel(VBox):
    """The tightening card of a form in a chase, to read or to print."""

    def __init__(self, shop: Shop, width: str, height: str, chase: str) -> None:
        form = Form(read_length(width), read_length(height))
        self._card: Card | None = None
        try:
            turning = Turning(choose_lockup(form, chase_of(shop, chase), shop))
        except NoLockup as error:
            page = status(f"This shop has no lockup for a form {width} wide and {height} high. {error}", REFUSED)
        else:
            self._card = card(turning.lockup, turning.tightening.turns)
            page = card_page(self._card, advise(turning.tightening))
        super().__init__([HTML(STYLE), HTML(page)])
        self.add_class("stonework-panel")

    def __repr__(self) -> str:
        if self._card is None:
            return "<tightening card: no lockup>"
        turns = sum(step.quoin is not None for step in self._card.steps)
        return f"<tightening card: {len(self._card.quoins)} quoins, at most {turns} quarter turns>"
