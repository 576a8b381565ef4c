"""The *ledger* panel: what stands in the shop, whose it is, and the register and slips to print."""

from __future__ import annotations

import base64
from collections.abc import Callable
from datetime import date
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.drawing.paper import PAPERS, no_type_words
from stonework.drawing.register import register, register_table, slips
from stonework.ledger import look
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.shop import Shop


class LedgerPanel(VBox):
    """Who holds what in a shop, or in the one that a function returns; looked at anew whenever it's asked."""

    def __init__(self, shop: Shop | Callable[[], Shop | None]) -> None:
        self._of = shop if callable(shop) else lambda: shop
        self._paper = Dropdown(options=list(PAPERS), description="Paper", style=NAMED)
        self._status, self._page, self._print = HTML(), HTML(), HTML()
        asked = [
            button("Look again", self._look_again),
            self._paper,
            button("Register", self._register),
            button("Galley slips", self._slips),
        ]
        super().__init__([HTML(STYLE), row(asked, "stonework-buttons"), self._status, self._print, self._page, whose()])
        self.add_class("stonework-panel")
        self._look()

    def __repr__(self) -> str:
        shop = self._of()
        return f"<ledger: {len(look(shop).forms) if shop else 'no'} forms stand>"

    @property
    def _shop(self) -> Shop:
        shop = self._of()
        if shop is None:
            raise ValueError("The shop's file can't be read: put it right first.")
        return shop

    def _look(self) -> None:
        try:
            found = look(self._shop)
        except ValueError as error:
            self._status.value, self._page.value, self._print.value = status(str(error), REFUSED), "", ""
            return
        count = len(found.forms)
        words = f"{count} form{'' if count == 1 else 's'} stand{'s' if count == 1 else ''} in {self._shop.name}."
        self._status.value = status(f"{words} {found.said}".rstrip(), REFUSED if found.said else "")
        self._page.value, self._print.value = register_table(found.forms, self._shop), ""

    @guarded
    def _look_again(self, _button: Button | Any = None) -> None:
        self._look()

    @guarded
    def _register(self, _button: Button) -> None:
        today = date.today().isoformat()
        self._offer("register", lambda: register(look(self._shop).forms, self._shop, today, self._paper.value))

    @guarded
    def _slips(self, _button: Button) -> None:
        if self._of() and not look(self._shop).forms:
            self._look()
            self._print.value = "<p>Nothing stands, so there is no slip to print.</p>"
            return
        self._offer("galley-slips", lambda: slips(look(self._shop).forms, self._shop, self._paper.value))

    def _offer(self, name: str, draw: Callable[[], bytes]) -> None:
        self._look()
        if self._of() is None:
            return
        data = base64.b64encode(draw()).decode()
        told = no_type_words("".join(f"{form.person}{form.name}" for form in look(self._shop).forms))
        self._print.value = (
            f'<p><a download="{name}.pdf" href="data:application/pdf;base64,{data}">Save {escape(name)}.pdf</a>, then '
            f"open it and print it. {escape(told)}</p>"
        )

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
