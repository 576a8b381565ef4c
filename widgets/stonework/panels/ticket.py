"""The *ticket* panel: a job to be done, with its copy and its paper, and how far its lockup has come."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.drawing.form_words import page_sum
from stonework.drawing.page import PageView, parts_words
from stonework.form import Form
from stonework.jobs import Ticket, steps
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, NUMBERS, REFUSED, RIGHT, details, guarded, status
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.shop import Shop
from stonework.units import write_length


class TicketPanel(VBox):
    """The tickets of the day; choose one, do the job with the panels of the lesson, and look how far it has come."""

    chosen: Callable[[str], None] | None = None
    """Hears of another job being chosen."""

    def __init__(self, shop: Shop, jobs: Mapping[str, Ticket]) -> None:
        self._shop, self._jobs = shop, jobs
        self._job = Dropdown(options=list(jobs), description="Job", style=NAMED)
        self._status, self._page, self._steps = HTML(), HTML(), HTML()
        self._view = PageView(f"ticket-{next(NUMBERS)}")
        looking = row([button("Look how far it is", self._look)], "stonework-buttons")
        super().__init__(
            [
                HTML(STYLE),
                row([self._job], "stonework-controls"),
                looking,
                self._status,
                self._steps,
                self._page,
                whose(),
            ]
        )
        self.own_files = [looking, self._status, self._steps]
        self.add_class("stonework-panel")
        self._job.observe(self._turn, "value")
        self._show()

    def __repr__(self) -> str:
        return f"<ticket: {self._job.value}>"

    @property
    def _ticket(self) -> Ticket:
        return self._jobs[self._job.value]

    def _show(self) -> None:
        ticket = self._ticket
        found = steps(ticket, self._jobs, self._shop)
        undone = [step for step in found if not step.done]
        words = (
            f"Next: {undone[0].words}"
            if undone
            else "The lockup is as the ticket says. Next: tighten it, and try the lift."
        )
        self._status.value = status(words, "" if undone else RIGHT)
        told = "".join(f"<li>{'✓' if step.done else '✗ Not yet:'} {escape(step.words)}</li>" for step in found)
        self._steps.value = f'<ul class="stonework-findings">{told}</ul>' if len(found) > 1 else ""
        self._page.value = ticket_page(ticket, self._shop, self._view)

    @guarded
    def _turn(self, _change: Any) -> None:
        self._show()
        if self.chosen:
            self.chosen(self._job.value)

    def offer(self, jobs: Mapping[str, Ticket], job: str) -> None:
        """Offer other jobs, and show one of them."""
        self._jobs = jobs
        self._job.unobserve(self._turn, "value")
        self._job.options = list(jobs)
        self._job.value = job
        self._job.observe(self._turn, "value")
        self._show()

    @guarded
    def _look(self, _button: Button) -> None:
        self._show()

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)


def ticket_page(ticket: Ticket, shop: Shop, view: PageView) -> str:
    """Return a ticket as HTML: what is wanted, its copy and its paper; the sum of its size behind a fold."""
    rows = [
        ("Copy", " / ".join(ticket.copy)),
        ("Set as" if ticket.content else "Form", parts_words(ticket.content) if ticket.content else _size(ticket.form)),
        ("Side by side", f"{ticket.abreast}, with {_length(ticket.gutter)} between" if ticket.abreast > 1 else ""),
        ("Paper", f"{_length(ticket.sheet.width)} wide, {_length(ticket.sheet.height)} high"),
        ("Margins, as read", f"left {_length(ticket.left)}, head {_length(ticket.head)}"),
        ("Chase", ticket.chase),
        ("Sheets", str(ticket.sheets or "")),
        ("Guides", f"as for “{ticket.after}”" if ticket.after else ""),
        ("Save it as", ticket.name),
    ]
    cells = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>' for name, value in rows if value
    )
    return (
        f'<table class="stonework-table stonework-ticket"><caption>{escape(ticket.told)}</caption><thead><tr>'
        f'<th scope="col">Ticket</th><th scope="col">{escape(_capital(ticket.name))}</th></tr></thead>'
        f"<tbody>{cells}</tbody></table>{_sum(ticket, shop, view)}"
    )


def _sum(ticket: Ticket, shop: Shop, view: PageView) -> str:
    """Return how large one form is, added up from what is set, behind a fold."""
    if ticket.content is None:
        return ""
    view.draw(ticket.content)
    return (
        "<details><summary>How large is one form? Add up first, then look</summary>"
        f"<p>One form is {_size(ticket.form)}.</p>{page_sum(ticket.content, shop)}{view.svg()}</details>"
    )


def _capital(name: str) -> str:
    return f"{name[:1].upper()}{name[1:]}"


def _size(form: Form) -> str:
    return f"{_length(form.width)} wide and {_length(form.height)} deep"


def _length(points: float) -> str:
    return write_length(round(points, 1))
