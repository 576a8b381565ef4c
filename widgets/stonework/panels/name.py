"""The *name* panel: who works here, given once and changed here, and where their work is kept."""

from __future__ import annotations

from functools import partial
from typing import Any

from ipywidgets import HTML, Box, Button, Text, VBox

from stonework.exercises import AnswerSheet
from stonework.panels.asking import NAMED, button, row, when_entered
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import say_again, whose
from stonework.people import here, read_name


class NamePanel(VBox):
    """A box for one's name. All lessons at this seat turn to it; one much like a known name is asked about."""

    def __init__(self, sheet: AnswerSheet) -> None:
        self._sheet, self._here = sheet, here()
        self._name = Text(self._here.name, placeholder="as you write it", description="Your name", style=NAMED)
        self._name.add_class("stonework-own")
        self._meant: Box = row([], "stonework-buttons")
        self._status = HTML()
        asked = row([self._name, button("This is my name", self._turn)], "stonework-controls")
        super().__init__([HTML(STYLE), asked, self._status, self._meant, whose()])
        self.add_class("stonework-panel")
        when_entered(self._name, self._turn)
        self._name.observe(self._typed, "value")
        sheet.follow(self._follow)
        self._say()

    def __repr__(self) -> str:
        return f"<name: {self._here.name or 'none given yet'}>"

    def _say(self) -> None:
        self._meant.children = ()
        wrong = bool(self._sheet.said)
        ask = "" if self._here.name else "Write your name, and everything is kept under it. "
        words = f"{ask}{self._here.said} {self._sheet}".replace("  ", " ").strip()
        self._status.value = status(words, REFUSED if wrong else "")

    @guarded
    def _follow(self) -> None:
        self._name.value = self._here.name
        self._say()

    @guarded
    def _turn(self, _button: Button | Any = None) -> None:
        try:
            meant = self._here.meant(self._name.value)
            name = read_name(self._name.value)
        except ValueError as error:
            self._refuse(str(error))
            return
        if not meant:
            self._become(name)
            return
        say_again()
        known = " or ".join(f"“{one}”" for one in meant)
        self._status.value = status(f"There is {known} already. Are you that, or is “{name}” someone new?", REFUSED)
        ways = [*((f"I am {one}", one) for one in meant), (f"I am new: {name}", name)]
        self._meant.children = tuple(button(words, partial(self._choose, one)) for words, one in ways)

    @guarded
    def _typed(self, _change: Any) -> None:
        """Forget what was asked about another name."""
        if self._meant.children:
            self._meant.children, self._here.asked = (), ""
            self._status.value = status("Press Enter, or “This is my name”.")
            say_again()

    @guarded
    def _choose(self, name: str, _button: Button) -> None:
        self._become(name)

    def _become(self, name: str) -> None:
        try:
            self._here.turn_to(name)
        except ValueError as error:
            self._refuse(str(error))

    def _refuse(self, words: str) -> None:
        still = f" The name is still “{self._here.name}”." if self._here.name else ""
        self._meant.children = ()
        self._status.value = status(f"{words}{still}", REFUSED)

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
