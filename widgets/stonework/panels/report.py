"""The *report* panel: what a class got wrong, from its folder for work or from a zip."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, Dropdown, FileUpload, Text, VBox

from stonework.drawing.paper import PAPERS
from stonework.exercises import QUESTIONS
from stonework.exercises.chosen import read_chosen
from stonework.exercises.report import (
    SAFE,
    ClassReport,
    Gathered,
    by_question,
    by_student,
    class_report,
    read_folder,
    read_zip,
)
from stonework.exercises.report.page import class_page, class_plot
from stonework.panels.asking import NAMED, button, row, when_entered
from stonework.panels.common import FAILED, NUMBERS, OLD, REFUSED, details, guarded, status
from stonework.panels.offering import link
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.people import work_folder
from stonework.shop import Shop, ShopFileError


class ReportPanel(VBox):
    """A class's sheets read, judged again and counted: what each student does next, a picture, and files to save."""

    def __init__(self, shop_file: str | Path) -> None:
        self._shop_file = shop_file
        self._report: ClassReport | None = None
        self._shop_name = ""
        self._folder = Text(str(work_folder()), description="Folder of the sheets", style=NAMED)
        self._folder.layout.width = "34rem"
        self._zip = FileUpload(accept=".zip", multiple=False, description="Read a zip", layout={"width": "auto"})
        self._zip.icon, self._zip.tooltip = "", "a class's sheets in one file"
        self._paper = Dropdown(options=list(PAPERS), description="Paper", style=NAMED)
        self._status, self._said, self._files, self._page = HTML(), HTML(), HTML(), HTML()
        asked = [self._folder, button("Read the folder", self._read), self._zip]
        printed = [
            self._paper,
            button("Page to print", self._print),
            button("Tables to save", self._tables),
            self._files,
        ]
        rows = [row(asked, "stonework-buttons"), row(printed, "stonework-buttons")]
        super().__init__([HTML(STYLE), *rows, self._status, self._said, self._page, whose()])
        self.add_class("stonework-panel")
        self.add_class("stonework-report")
        when_entered(self._folder, self._read)
        self._zip.observe(self._unpack, "value")
        self._read()

    def __repr__(self) -> str:
        return "<class report>"  # of whichever class: the page is saved and compared without one

    @guarded
    def _read(self, _button: Button | Any = None) -> None:
        self._show(read_folder(self._folder.value))

    @guarded
    def _unpack(self, _change: Any) -> None:
        if self._zip.value:
            self._show(read_zip(bytes(self._zip.value[0]["content"])))

    def _show(self, gathered: Gathered) -> None:
        self._report = None
        self._page.value = self._said.value = self._files.value = ""
        try:
            shop = Shop.load(self._shop_file)
        except ShopFileError as error:
            self._status.value = status(f"The shop file can't be used: {error}", REFUSED)
            return
        count = len(gathered.sheets)

        def told(done: int) -> None:
            self._status.value = status(f"Judging the answers: {done} of {count} sheets …", OLD)

        report = class_report(gathered, QUESTIONS.values(), shop, read_chosen(work_folder()), told)
        self._said.value = _list(report.said)
        if not count:
            self._status.value = status("There are no sheets to count here yet.")
            return
        self._report, self._shop_name, self._page.value = report, shop.name, _page(report)
        sheets = "1 sheet" if count == 1 else f"{count} sheets"
        self._status.value = status(f"{sheets}: every kept answer was judged again.")

    @guarded
    def _print(self, _button: Button) -> None:
        if self._report is None:
            self._files.value = "There is nothing to print yet."
            return
        page = class_page(self._report, self._shop_name, date.today(), self._paper.value)
        self._files.value = link("class-report.pdf", page)

    @guarded
    def _tables(self, _button: Button) -> None:
        if self._report is None:
            self._files.value = "There is nothing to save yet."
            return
        tables = {"by-question.csv": by_question(self._report), "by-student.csv": by_student(self._report)}
        links = ", ".join(link(name, data) for name, data in tables.items())
        self._files.value = f"{links}. {escape(SAFE)}"

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)


def _page(report: ClassReport) -> str:
    """Return the students with what isn't right yet, the picture, and all that is counted of each question, as HTML."""
    view = class_plot(report, f"class-{next(NUMBERS)}")
    students = _table(
        "By student: what isn't right yet, with what went wrong; or else what is next",
        ("Name", "Number", "Right", "Not yet", "What isn't right yet, or is next"),
        [
            (one.name, str(one.number), f"{one.right} of {one.asked}", str(one.not_yet), "\n".join(one.told))
            for one in report.students
        ],
    )
    questions = _table(
        "By question: students who took hints or saw the solution, and all that went wrong, right by now or not",
        ("Question", "Hints", "Solution", "What went wrong, how often, and with whom"),
        [
            (
                one.question.title,
                *(str(one.hints), str(one.solutions)),
                "\n".join(f"{slip.words}, {slip.times}: {', '.join(slip.names)}" for slip in one.slips),
            )
            for one in report.questions
        ],
    )
    words = f"<details><summary>The picture in words</summary><p>{escape(view.words)}</p></details>"
    counted = f"<details><summary>Who made which mistake, and all that is counted</summary>{questions}</details>"
    return f'{students}<div class="stonework-plot">{view.svg()}</div>{words}{counted}'


def _table(caption: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in head)
    body = "".join(
        f'<tr><th scope="row">{escape(first)}</th>{"".join(f"<td>{_lines(cell)}</td>" for cell in rest)}</tr>'
        for first, *rest in rows
    )
    return (
        f'<div class="stonework-wide"><table class="stonework-table"><caption>{escape(caption)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _lines(cell: str) -> str:
    return "<br>".join(map(escape, cell.split("\n")))


def _list(said: Sequence[str]) -> str:
    entries = "".join(f"<li>{escape(words)}</li>" for words in said)
    return f'<ul class="stonework-findings">{entries}</ul>' if said else ""
