"""The *key* panel: every question worked, for any number or any student of the class."""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, Dropdown, Text, VBox

from stonework.drawing.paper import PAPERS
from stonework.exercises import LESSONS, QUESTIONS
from stonework.exercises.chosen import read_chosen, read_number
from stonework.exercises.key import Worked, answer_key, key_page
from stonework.exercises.report import read_folder
from stonework.panels.asking import NAMED, button, row, set_quietly
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.offering import link
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.people import work_folder
from stonework.shop import Shop, ShopFileError

_NOBODY, _ALL = "", "all lessons"


class KeyPanel(VBox):
    """A number, typed or that of a student chosen by name, and its answers to one lesson or to all."""

    def __init__(self, shop_file: str | Path) -> None:
        self._shop_file = shop_file
        self._worked: list[Worked] = []
        self._student = Dropdown(options=self._students(), description="Student", style=NAMED)
        self._number = Text("1", description="Number", continuous_update=False, style=NAMED)
        lessons = [*((titled, name) for name, titled in LESSONS.items()), (_ALL, _ALL)]
        self._lesson = Dropdown(options=lessons, description="Lesson", style=NAMED)
        self._paper = Dropdown(options=list(PAPERS), description="Paper", style=NAMED)
        self._status, self._file, self._page = HTML(), HTML(), HTML()
        asked = row([self._student, self._number, self._lesson], "stonework-controls")
        buttons = [button("Look for students again", self._look_again), self._paper]
        printed = row([*buttons, button("Key to print", self._print), self._file], "stonework-buttons")
        super().__init__([HTML(STYLE), asked, printed, self._status, self._page, whose()])
        self.add_class("stonework-panel")
        self._student.observe(self._chosen, "value")
        self._number.observe(self._typed, "value")
        self._lesson.observe(self._changed, "value")
        self._changed()

    def __repr__(self) -> str:
        return "<answer key>"  # of whichever class: the page is saved and compared without one

    def _students(self) -> list[tuple[str, Any]]:
        sheets = read_folder(work_folder()).sheets
        return [("any", _NOBODY), *((sheet.name, (sheet.name, sheet.number)) for sheet in sheets)]

    @guarded
    def _look_again(self, _button: Button) -> None:
        self._student.options = self._students()

    @guarded
    def _chosen(self, _change: Any) -> None:
        if self._student.value:
            set_quietly([(self._number, str(self._student.value[1]))], self._typed)
        self._work()

    @guarded
    def _typed(self, _change: Any) -> None:
        set_quietly([(self._student, _NOBODY)], self._chosen)
        self._work()

    @guarded
    def _changed(self, _change: Any = None) -> None:
        self._work()

    def _work(self) -> None:
        """Work the questions asked for, or say why that can't be."""
        self._worked, self._page.value, self._file.value = [], "", ""
        try:
            number, shop = self._asked(), Shop.load(self._shop_file)
        except ShopFileError as error:
            self._status.value = status(f"The shop file can't be used: {error}", REFUSED)
            return
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)
            return
        wanted = [one for one in QUESTIONS.values() if self._lesson.value in (_ALL, one.lesson)]
        chosen = read_chosen(work_folder())
        self._worked = answer_key(number, wanted, shop, chosen)
        self._page.value = "".join(map(_section, self._worked))
        note = f" But number {chosen.number} is set for all." if chosen.number not in (None, number) else ""
        self._status.value = status(f"Worked for number {number}.{note}")

    def _asked(self) -> int:
        number = self._student.value[1] if self._student.value else read_number(self._number.value)
        if number is None:
            raise ValueError("Choose a student, or write a number.")
        return number

    @guarded
    def _print(self, _button: Button) -> None:
        self._work()  # what the class is asked may have changed since
        if not self._worked:
            self._file.value = "There is nothing to print yet."
            return
        whose_number = self._student.value[0] if self._student.value else ""
        shop = Shop.load(self._shop_file)
        self._file.value = link(
            "answer-key.pdf", key_page(self._asked(), whose_number, self._worked, shop.name, self._paper.value)
        )

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)


def _section(one: Worked) -> str:
    told = (("Right", one.right), ("Working", one.working), ("Why", one.why)) if one.right else ()
    lines = "".join(f"<dt>{name}</dt><dd>{escape(words)}</dd>" for name, words in told)
    title = escape(one.title)
    return f'<section class="stonework-task"><strong>{title}</strong>{escape(one.task)}<dl>{lines}</dl></section>'
