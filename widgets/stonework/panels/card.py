"""The *card* panel: what to do at the stone, in order, for one lockup."""

from __future__ import annotations

from ipywidgets import HTML, Button, Text, VBox

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.card import card_page
from stonework.exercises.turning import Turning
from stonework.form import Form
from stonework.lockup import Lockup
from stonework.panels.common import (
    FAILED,
    NAMED,
    REFUSED,
    STYLE,
    button,
    chase_of,
    details,
    guarded,
    opened_whole,
    row,
    status,
)
from stonework.shop import Shop
from stonework.tightening import Card, advise, card
from stonework.units import read_length, write_length


class CardPanel(VBox):
    """The tightening card of a form in a chase, or of a lockup saved under a name, to read or to print."""

    def __init__(self, shop: Shop, width: str, height: str, chase: str) -> None:
        self._shop = shop
        form = Form(read_length(width), read_length(height))
        self._card: Card | None = None
        self._name = Text("", placeholder="a saved lockup", description="Name of the lockup", style=NAMED)
        self._status, self._page = HTML(), HTML()
        asked = row([self._name, button("Open it", self._open)], "stonework-buttons")
        super().__init__([HTML(STYLE), asked, self._status, self._page])
        self.add_class("stonework-panel")
        try:
            self._show(choose_lockup(form, chase_of(shop, chase), shop))
        except NoLockup as error:
            self._status.value = status(
                f"This shop has no lockup for a form {width} wide and {height} high. {error}", REFUSED
            )

    def __repr__(self) -> str:
        if self._card is None:
            return "<tightening card: no lockup>"
        turns = sum(step.quoin is not None for step in self._card.steps)
        return f"<tightening card: {len(self._card.quoins)} quoins, at most {turns} quarter turns>"

    def _show(self, lockup: Lockup) -> None:
        turning = Turning(lockup)
        self._card = card(turning.lockup, turning.tightening.turns)
        form = lockup.form
        size = f"{write_length(round(form.width, 1))} × {write_length(round(form.height, 1))}"
        self._status.value = status(f"Tightening card: form {size}, chase {lockup.chase.name}.")
        self._page.value = card_page(self._card, advise(turning.tightening))

    @guarded
    def _open(self, _button: Button) -> None:
        try:
            lockup = opened_whole(self._shop, self._name.value)
        except ValueError as error:
            self._status.value = status(f"{error} The card is still that of the lockup before.", REFUSED)
        else:
            self._show(lockup)

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
