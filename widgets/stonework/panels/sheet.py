"""The *sheet* panel: whose answers are kept, where, and with which number."""

from __future__ import annotations

from typing import Any

from ipywidgets import HTML, Text, VBox

from stonework.exercises import AnswerSheet
from stonework.panels.asking import NAMED, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE


class SheetPanel(VBox):
    """The name of the answer sheet; type another, and every question on the page turns to it."""

    def __init__(self, sheet: AnswerSheet) -> None:
        self._sheet = sheet
        self._name = Text(sheet.name, description="Name of your answer sheet", continuous_update=False, style=NAMED)
        self._status = HTML()
        controls = row([self._name], "stonework-controls")
        super().__init__([HTML(STYLE), controls, self._status])
        self.add_class("stonework-panel")
        self._name.observe(self._turn, "value")
        self._say()

    def __repr__(self) -> str:
        return f"{self._sheet!r}"

    def _say(self) -> None:
        self._status.value = status(str(self._sheet), REFUSED if self._sheet.said else "")

    @guarded
    def _turn(self, _change: Any) -> None:
        try:
            self._sheet.turn_to(self._name.value)
        except ValueError as error:
            self._status.value = status(f"{error} The sheet is still “{self._sheet.name}”.", REFUSED)
        else:
            self._say()

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
