"""The *start* panel: is the workbook in order, and how far have I come?"""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, VBox

from stonework.exercises import LESSONS, QUESTIONS, AnswerSheet
from stonework.exercises.chosen import chosen_for
from stonework.exercises.progress import Checked, Progress, check_workbook, progress
from stonework.panels.asking import button, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.shop import Shop, ShopFileError

_STANDINGS = ("right", "not yet", "not attempted")


class StartPanel(VBox):
    """What the workbook needs, checked; and every lesson with its questions and how they stand."""

    def __init__(self, shop_file: str | Path, sheet: AnswerSheet) -> None:
        self._shop_file, self._sheet = shop_file, sheet
        self._status, self._page = HTML(), HTML()
        again = row([button("Look again", self._look_again)], "stonework-buttons")
        super().__init__([HTML(STYLE), again, self._status, self._page, whose()])
        self.add_class("stonework-panel")
        self._found: list[Checked] = []
        self._look()
        sheet.follow(self._look)

    def __repr__(self) -> str:
        wrong = sum(not checked.well for checked in self._found)
        return f"<workbook: {wrong} of {len(self._found)} not in order>" if wrong else "<workbook: all is in order>"

    @guarded
    def _look_again(self, _button: Button | Any = None) -> None:
        self._look()

    def _look(self) -> None:
        self._found = check_workbook(self._shop_file, self._sheet)
        wrong = [checked for checked in self._found if not checked.well]
        self._status.value = status(
            "Something is not in order." if wrong else "All is in order.", REFUSED if wrong else ""
        )
        checks = "".join(f"<li>{'✓' if one.well else '✗ Not yet:'} {escape(one.words)}</li>" for one in self._found)
        chosen = escape(str(chosen_for(self._sheet)))
        told = f'<p class="stonework-note">{chosen}</p>' if chosen else ""
        self._page.value = f'<ul class="stonework-findings">{checks}</ul>{told}{self._lessons()}'

    def _lessons(self) -> str:
        """Return the table of lessons with their links and how the questions stand, as HTML."""
        try:
            shop = Shop.load(self._shop_file)
        except ShopFileError:
            return ""
        rows = ""
        for one in progress(QUESTIONS.values(), shop, self._sheet):
            stands = {kind: [title for title, standing in one.questions if standing == kind] for kind in _STANDINGS}
            named = [f"{kind.capitalize()}: {'; '.join(titles)}" for kind, titles in stands.items() if titles]
            titles = ". ".join(named).replace("?. ", "? ")
            rows += (
                f'<tr><th scope="row"><a href="{one.lesson}.ipynb">{escape(LESSONS[one.lesson])}</a></th>'
                f"<td>{_told(one)}</td><td><small>{escape(titles)}</small></td></tr>"
            )
        head = "".join(f'<th scope="col">{name}</th>' for name in ("Lesson", "Answered", "Questions"))
        return (
            '<table class="stonework-table"><caption>How far you have come</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
        )

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)


def _told(one: Progress) -> str:
    return f"{one.right} of {len(one.questions)} right" if one.questions else "nothing is asked"
