"""The paper of a plan: a button for each sheet, and the file that it makes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from html import escape

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.drawing.class_sheets import buying_sheet, class_sheet, stock_sheet, student_sheets
from stonework.drawing.class_sheets_words import advice_words
from stonework.drawing.paper import PAPERS, no_type_words
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, details, guarded
from stonework.panels.offering import link
from stonework.panels.thinking import Stop, Thinking
from stonework.planning import Advice, Plan
from stonework.shop import Shop

_Draw = Callable[[Plan, Shop, str], bytes]


class PlanPaper(VBox):
    """Buttons that make PDFs of the plan that is shown; hidden while there is none."""

    def __init__(self) -> None:
        self._plan: Plan | None = None
        self._shop: Shop | None = None
        self._advice: Advice | None = None
        self._paper = Dropdown(options=list(PAPERS), description="Paper", style=NAMED)
        self._file = HTML()
        self._thinking = Thinking(self.tell_failure)
        sheets: dict[str, tuple[str, _Draw]] = {
            "Who has what": ("who-has-what.pdf", class_sheet),
            "Each student's sheet": ("student-sheets.pdf", student_sheets),
            "Sheet for taking stock": ("taking-stock.pdf", stock_sheet),
            "What to buy": ("what-to-buy.pdf", self._buying),
        }
        made = [button(words, partial(self._make, name, draw)) for words, (name, draw) in sheets.items()]
        super().__init__([row([self._paper, *made], "stonework-buttons"), self._file])
        self._paper.observe(self._clear, "value")
        self.offer(None, None, None)

    def offer(self, plan: Plan | None, shop: Shop | None, advice: Advice | None) -> None:
        """Offer the sheets of a plan, or none; a file made of another is taken away."""
        if plan is not self._plan:
            self._clear()
        self._plan, self._shop, self._advice = plan, shop, advice
        self.layout.display = "" if plan else "none"

    def _buying(self, plan: Plan, shop: Shop, paper: str) -> bytes:
        advice = self._advice
        if plan.score.shifts == 1:
            return buying_sheet(["All work at once with what there is."], {}, shop, paper)
        if advice is None or advice.borrow is None:
            stopped = (
                "What would let all work at once wasn't found yet: let the page look longer, and print this again."
            )
            return buying_sheet([stopped, *(advice_words(advice, plan) if advice else ())], None, shop, paper)
        return buying_sheet(advice_words(advice, plan), advice.borrow.borrowed, shop, paper)

    @guarded
    def _clear(self, _change: object = None) -> None:
        self._thinking.forget()
        self._file.value = ""

    @guarded
    def _make(self, name: str, draw: _Draw, _button: Button) -> None:
        if self._plan is None or self._shop is None:
            return
        drawn = partial(self._drawn, name, partial(draw, self._plan, self._shop, self._paper.value))
        self._thinking.ask(drawn, waiting=partial(self._say, "Drawing the paper …"))

    def _drawn(self, name: str, draw: Callable[[], bytes], _stop: Stop, _beside: bool) -> Iterator[Callable[[], None]]:
        """Yield what is said of a file: a link to it, or why there is none."""
        try:
            names = "".join(f"{one.task.name}{one.task.job}" for one in self._plan.given) if self._plan else ""
            said = f"{link(name, draw())}, and print it. {escape(no_type_words(names))}".rstrip()
        except ValueError as error:
            said = escape(str(error))
        yield partial(self._say, said)

    def _say(self, said: str) -> None:
        self._file.value = f'<p role="status">{said}</p>'

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._file.value = f"<p>{escape(FAILED)}</p>{details(trace)}"
