"""The *ticket* panel: a job to be done, with its copy and its paper, and how far its lockup has come."""

from __future__ import annotations

from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.drawing.form_words import page_sum
from stonework.drawing.page import PageView, parts_words
from stonework.exercises.tickets import TICKETS, Ticket, steps
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, NUMBERS, REFUSED, RIGHT, details, guarded, status
from stonework.panels.style import STYLE
from stonework.shop import Shop
from stonework.units import write_length


class TicketPanel(VBox):
    """The tickets of the day; choose one, do the job with the panels of the lesson, and look how far it has come."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._job = Dropdown(options=list(TICKETS), description="Job", style=NAMED)
        self._status, self._page, self._steps = HTML(), HTML(), HTML()
        self._view = PageView(f"ticket-{next(NUMBERS)}")
        super().__init__(
            [
                HTML(STYLE),
                row([self._job], "stonework-controls"),
                row([button("Look how far it is", self._look)], "stonework-buttons"),
                self._status,
                self._steps,
                self._page,
            ]
        )
        self.add_class("stonework-panel")
        self._job.observe(self._turn, "value")
        self._show()

    def __repr__(self) -> str:
        return f"<ticket: {self._job.value}>"

    @property
    def _ticket(self) -> Ticket:
        return TICKETS[self._job.value]

    def _show(self) -> None:
        ticket = self._ticket
        found = steps(ticket, self._shop)
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
        ("Set as", parts_words(ticket.content)),
        ("Paper", f"{_length(ticket.sheet.width)} wide, {_length(ticket.sheet.height)} high"),
        ("Margins, as read", f"left {_length(ticket.left)}, head {_length(ticket.head)}"),
        ("Chase", ticket.chase),
        ("Sheets", str(ticket.pulls)),
    ]
    if ticket.abreast > 1:
        rows.insert(2, ("Side by side", f"{ticket.abreast}, with {_length(ticket.gutter)} between"))
    if ticket.after is not None:
        rows.append(("Guides", f"as for “{ticket.after}”"))
    rows.append(("Save it as", ticket.name))
    cells = "".join(f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>' for name, value in rows)
    view.draw(ticket.content)
    return (
        f'<table class="stonework-table stonework-ticket"><caption>{escape(ticket.told)}</caption><thead><tr>'
        f'<th scope="col">Ticket</th><th scope="col">{escape(ticket.name.capitalize())}</th></tr></thead>'
        f"<tbody>{cells}</tbody></table><details><summary>How large is one form? Add up first, then look</summary>"
        f"<p>One form is {write_length(ticket.form.width)} wide and {write_length(ticket.form.height)} deep.</p>"
        f"{page_sum(ticket.content, shop)}{view.svg()}</details>"
    )


def _length(points: float) -> str:
    return write_length(round(points, 1))
