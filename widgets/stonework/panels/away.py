"""The *put-away* panel: a lockup taken down, and where each piece of it goes."""

from __future__ import annotations

from typing import Any

from ipywidgets import HTML, Button, VBox

from stonework.choosing import NoLockup
from stonework.drawing.away import loosening_page, put_away_table
from stonework.ledger import free
from stonework.lockup import Lockup
from stonework.panels.asking import button, first_lockup, name_box, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.putting_away import put_away
from stonework.readiness import readiness
from stonework.records import open_lockup
from stonework.shop import Shop


class AwayPanel(VBox):
    """The list for a form's lockup, or for one saved under a name."""

    def __init__(self, shop: Shop, width: str, height: str, chase: str) -> None:
        self._shop = shop
        self._name, opening = name_box("a saved lockup", "Open it", self._open)
        self._status, self._page = HTML(), HTML()
        asked = row([self._name, opening, button("It is put away", self._free)], "stonework-buttons")
        super().__init__([HTML(STYLE), asked, self._status, self._page, whose()])
        self.own_files = [asked]
        self.add_class("stonework-panel")
        self._said = "no lockup"
        try:
            self._show(first_lockup(shop, width, height, chase), f"The lockup of a form {width} by {height}")
        except NoLockup as error:
            self._status.value = status(f"This shop has no lockup for such a form. {error}", REFUSED)

    def __repr__(self) -> str:
        return f"<put away: {self._said}>"

    def _show(self, lockup: Lockup, what: str) -> None:
        away = put_away(lockup, self._shop)
        quoins = sum(count for _, count in away.quoins)
        metal = sum(count for _, count in away.metal)
        self._said = (
            f"{away.pieces} pieces of wood to {len(away.wood)} places, "
            + (f"{metal} of metal to {len(away.metal)}, " if metal else "")
            + f"{quoins} quoins"
        )
        if not lockup.items:
            self._status.value = status(f"{what}: nothing lies in it yet: choose its wood first.", REFUSED)
            self._page.value = ""
            return
        unready = readiness(lockup, self._shop).words  # it goes back all the same
        told = f"{unready} It goes back all the same: {self._said}." if unready else f"{self._said}."
        self._status.value = status(f"{what}: {told}", REFUSED if away.homeless or unready else "")
        self._page.value = f"{loosening_page()}{put_away_table(away)}"

    @guarded
    def _open(self, _button: Button | Any = None) -> None:
        try:
            lockup = open_lockup(self._name.value)
        except ValueError as error:
            self._status.value = status(f"{error} The list still shows the lockup before this.", REFUSED)
        else:
            self.take_up(lockup, self._name.value)

    @guarded
    def _free(self, _button: Button) -> None:
        """Note that a form that stood is put away, and holds nothing any more."""
        try:
            words = free(self._name.value)
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)
        else:
            self._status.value = status(words)

    def take_up(self, lockup: Lockup, name: str) -> None:
        """Show where the pieces of a lockup go, which is known by a name."""
        self._show(lockup, f"“{name.strip()}”")

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
