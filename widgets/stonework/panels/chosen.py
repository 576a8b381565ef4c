"""The *chosen* panel: which questions a class is asked, and one number for all if a demonstration wants it."""

from __future__ import annotations

from typing import Any

from ipywidgets import HTML, Button, Checkbox, Text, VBox

from stonework.exercises import LESSONS, QUESTIONS
from stonework.exercises.chosen import EVERYTHING, Chosen, keep_chosen, read_chosen, read_number
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.people import work_folder


class ChosenPanel(VBox):
    """A box for the number, a box to tick for every question, and buttons that keep it for the class."""

    def __init__(self) -> None:
        self._number = Text("", placeholder="none", description="One number for all", style=NAMED)
        self._asked = {
            name: Checkbox(True, description=question.title, indent=False, layout={"width": "auto"})
            for name, question in QUESTIONS.items()
        }
        self._status = HTML()
        buttons = [button("Keep this for the class", self._keep), button("Ask everything again", self._ask_all)]
        columns = [self._column(lesson, titled) for lesson, titled in LESSONS.items()]
        super().__init__(
            [
                HTML(STYLE),
                row([self._number], "stonework-controls"),
                row(columns, "stonework-stage"),
                row(buttons, "stonework-buttons"),
                *(self._status, whose()),
            ]
        )
        self.add_class("stonework-panel")
        self._take_up(read_chosen(work_folder()))

    def __repr__(self) -> str:
        return "<questions of one's own>"  # of whichever class: the page is saved and compared without one

    def _column(self, lesson: str, titled: str) -> VBox:
        asked = [box for name, box in self._asked.items() if QUESTIONS[name].lesson == lesson]
        return VBox([HTML(f"<strong>{titled}</strong>"), *asked], layout={"width": "16.8rem"})

    def _take_up(self, chosen: Chosen, told: str = "") -> None:
        self._number.value = "" if chosen.number is None else str(chosen.number)
        for name, box in self._asked.items():
            box.value = name not in chosen.left_out
        left_out = len(QUESTIONS) - len(chosen.asked(QUESTIONS.values()))
        asks = f"{len(QUESTIONS) - left_out} of {len(QUESTIONS)} questions are asked"
        number = "everyone's own number" if chosen.number is None else f"number {chosen.number} for all"
        words = chosen.said or f"{told} {asks}, with {number}.".lstrip()
        self._status.value = status(words, REFUSED if chosen.said else "")

    @guarded
    def _keep(self, _button: Button) -> None:
        try:
            number = read_number(self._number.value)
            left_out = frozenset(name for name, box in self._asked.items() if not box.value)
            self._save(Chosen(number, left_out))
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)

    @guarded
    def _ask_all(self, _button: Button | Any) -> None:
        try:
            self._save(EVERYTHING)
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)

    def _save(self, chosen: Chosen) -> None:
        keep_chosen(work_folder(), chosen)
        self._take_up(chosen, "Kept, for every lesson that is started from now on:")

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
