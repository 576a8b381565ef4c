"""The *shop* panel: a shop file, every mistake in it, what is likely a slip, and all of it to compare."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button

from stonework.drawing.cabinet import CabinetView
from stonework.drawing.shop_words import notes_list, shop_summary
from stonework.panels.asking import button
from stonework.panels.common import NUMBERS, Panel, guarded
from stonework.shop import ShopFile, ShopFileError, read_file


class ShopPanel(Panel):
    """Read a shop file again and again while it is being written; ``shop`` is what it says, or ``None``."""

    def __init__(self, path: str | Path) -> None:
        self._path, self.shop = Path(path), None
        self._cabinet = CabinetView(f"cabinet-{next(NUMBERS)}")
        self._tables = HTML()  # below the picture: they are wide
        again = button("Look again", self._look_again)
        super().__init__([], [again], self._cabinet, "cabinet", after=[self._tables])
        self.add_class("stonework-cabinet")
        self._look()

    def __repr__(self) -> str:
        return f"<shop file {self._path.name}: {self._said}>"

    @guarded
    def _look_again(self, _button: Button | Any = None) -> None:
        self._look()

    def _look(self) -> None:
        self.shop, self._tables.value = None, ""
        try:
            file = read_file(self._path)
        except ShopFileError as error:
            self._said = "it can't be opened"
            self.refuse(str(error))
            return
        if file.shop is None:
            many = f"{len(file.mistakes)} mistake{'s' * (len(file.mistakes) != 1)}"
            self._said = many
            them = "it" if len(file.mistakes) == 1 else "them"
            self.refuse(f"{file.name} holds {many}. Mend {them} in the file, save it, and look again.")
            self._facts.value = notes_list(file.mistakes)
            return
        self._show(file)

    def _show(self, file: ShopFile) -> None:
        self.shop = file.shop
        asked = len(file.questions)
        self._said = f"in order, {asked} question{'s' * (asked != 1)}"
        self._cabinet.draw(file.shop)
        words = "Nothing in it is wrong."
        if asked:
            words += f" {asked} value{'s' * (asked != 1)} may be a slip: see the questions."
        questions = f"<p><strong>Is it so?</strong></p>{notes_list(file.questions)}" if asked else ""
        self.show(f"{file.name} can be used. {words}", questions)
        self._tables.value = f'<div class="stonework-wide">{shop_summary(file.shop)}</div>'
