"""The *chosen* panel: which questions a class is asked, and one number for all if a demonstration wants it."""

from __future__ import annotations

from typing import Any

from ipywidgets import HTML, Button, Checkbox, Text, VBox

from stonework.exercises import LESSONS, QUESTIONS
from stonework.exercises.chosen import EVERYTHING, Chosen, keep_chosen, read_chosen, read_number
from stonework.panels.asking import NAMED, button, row, set_quietly
from stonework.panels.common import FAILED, OLD, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.people import work_folder

_KEEP = "Keep this for the class"


class ChosenPanel(VBox):
    """A box for the number, a box to tick for every question, and buttons that keep it for the class."""

    def __init__(self) -> None:
        self._number = Text("", placeholder="none", description="One number for all", style=NAMED)
        self._asked = {
            name: Checkbox(True, description=question.title, indent=False, layout={"width": "auto"})
            for name, question in QUESTIONS.items()
        }
        self._status = HTML()
        buttons = [button(_KEEP, self._keep), button("Ask everything again", self._ask_all)]
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
        for control in (self._number, *self._asked.values()):
            control.observe(self._changed, "value")
        self._take_up(read_chosen(work_folder()))

    def __repr__(self) -> str:
        return "<questions of one's own>"  # of whichever class: the page is saved and compared without one

    def _column(self, lesson: str, titled: str) -> VBox:
        asked = [box for name, box in self._asked.items() if QUESTIONS[name].lesson == lesson]
        return VBox([HTML(f"<strong>{titled}</strong>"), *asked], layout={"width": "16.8rem"})

    def _take_up(self, chosen: Chosen, told: str = "") -> None:
        number = "" if chosen.number is None else str(chosen.number)
        boxes = [(box, name not in chosen.left_out) for name, box in self._asked.items()]
        set_quietly([(self._number, number), *boxes], self._changed)
        left_out = len(QUESTIONS) - len(chosen.asked(QUESTIONS.values()))
        asks = f"{len(QUESTIONS) - left_out} of {len(QUESTIONS)} questions are asked"
        number = "everyone's own number" if chosen.number is None else f"number {chosen.number} for all"
        words = chosen.said or f"{told} {asks}, with {number}.".lstrip()
        self._status.value = status(words, REFUSED if chosen.said else "")
        self._kept = (self._on_page(), self._status.value)

    def _on_page(self) -> tuple[str, frozenset[str]]:
        """Return the number as it is typed, and the questions left out."""
        return self._number.value.strip(), frozenset(name for name, box in self._asked.items() if not box.value)

    @guarded
    def _changed(self, _change: Any) -> None:
        """Say whether what the page shows is kept, and nothing of what it showed before."""
        kept, told = self._kept
        self._status.value = told if self._on_page() == kept else status(f"Not kept yet: press “{_KEEP}”.", OLD)

    @guarded
    def _keep(self, _button: Button) -> None:
        typed, left_out = self._on_page()
        try:
            self._save(Chosen(read_number(typed), left_out))
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
