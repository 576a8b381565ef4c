"""The *card* panel: what to do at the stone, in order, for one lockup."""

from __future__ import annotations

from ipywidgets import HTML, Button, VBox

from stonework.drawing.card import card_page
from stonework.exercises.turning import Turning
from stonework.lockup import Lockup
from stonework.panels.asking import first_lockup, name_box, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.lockups import opened
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.rounds import card_of
from stonework.shop import Shop
from stonework.tightening import Card, advise
from stonework.units import write_length


class CardPanel(VBox):
    """The tightening card of a form in a chase, or of a lockup saved under a name, to read or to print."""

    def __init__(self, shop: Shop, width: str, height: str, chase: str) -> None:
        self._shop = shop
        self._card: Card | None = None
        self._name, opening = name_box("a saved lockup", "Open it", self._open)
        self._status, self._page = HTML(), HTML()
        asked = row([self._name, opening], "stonework-buttons")
        super().__init__([HTML(STYLE), asked, self._status, self._page, whose()])
        self.add_class("stonework-panel")
        try:
            self._show(first_lockup(shop, width, height, chase))
        except ValueError as error:
            self._status.value = status(
                f"This shop has no lockup to tighten for a form {width} wide and {height} high. {error}", REFUSED
            )

    def __repr__(self) -> str:
        if self._card is None:
            return "<tightening card: no lockup>"
        card = self._card
        return f"<tightening card: {len(card.quoins)} quoins, about {card.wanted} rounds, room for {card.room}>"

    def _show(self, lockup: Lockup, changed: str = "") -> None:
        turning = Turning(lockup, self._shop)
        self._card = card_of(lockup, self._shop)
        form = lockup.form
        size = f"{write_length(round(form.width, 1))} × {write_length(round(form.height, 1))}"
        self._status.value = status(f"Tightening card: form {size}, chase {lockup.chase.name}. {changed}".rstrip())
        self._page.value = card_page(self._card, advise(turning.tightening))

    @guarded
    def _open(self, _button: Button) -> None:
        try:
            self._show(*opened(self._shop, self._name.value))
        except ValueError as error:
            still = " The card is still that of the lockup before." if self._card else ""
            self._status.value = status(f"{error}{still}", REFUSED)

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
