"""The controls that add a job of one's own to the jobs file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, Dropdown, Text, VBox

from stonework.files import plain_name
from stonework.form import Form
from stonework.jobs import Ticket, add_job
from stonework.panels.asking import NAMED, button, length_box, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.placing import Sheet
from stonework.records import record_path
from stonework.shop import Shop
from stonework.units import read_length

_LENGTHS = {
    "Form width": "27 picas",
    "Form height": "17 picas",
    "Sheet width": "36 picas",
    "Sheet height": "26 picas",
    "Left margin": "4 picas",
    "Head margin": "4 picas",
}


class AddingBox(VBox):
    """A job's name, sizes and margins; ``added`` hears of all jobs and the new one's name."""

    def __init__(self, shop: Shop, path: Path, added: Callable[[Mapping[str, Ticket], str], None]) -> None:
        self._shop, self._path, self._added = shop, path, added
        self._job = Text("", placeholder="a name", description="Name of the job", style=NAMED)
        self._told = Text("", placeholder="what it is for", description="In a few words", style=NAMED)
        self._lengths = {name: length_box(value, name) for name, value in _LENGTHS.items()}
        chases = [("any", ""), *((one.name, one.name) for one in shop.chases)]
        self._chase = Dropdown(options=chases, description="Chase", style=NAMED)
        self._status = HTML()
        asked = [self._job, self._told, *self._lengths.values(), self._chase]
        adding = row([button("Add this job", self._add)], "stonework-buttons")
        super().__init__([row(asked, "stonework-controls"), adding, self._status])
        self.add_class("stonework-adding")

    @guarded
    def _add(self, _button: Button | Any = None) -> None:
        try:
            ticket = self._ticket()
            jobs = add_job(ticket, self._path, self._shop)
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)
            return
        self._status.value = status(f"“{ticket.name}” stands in {self._path.name} now.")
        self._added(jobs, ticket.name)

    def _ticket(self) -> Ticket:
        name = plain_name(" ".join(self._job.value.split()), "a job")
        if record_path(name).exists():
            raise ValueError(f"A lockup is saved as “{name}” already, of this shop or another: take another name.")
        lengths = {name: self._read(name) for name in _LENGTHS}
        return Ticket(
            name,
            self._told.value.strip(),
            (),
            Form(lengths["Form width"], lengths["Form height"]),
            Sheet(lengths["Sheet width"], lengths["Sheet height"]),
            lengths["Left margin"],
            lengths["Head margin"],
            self._chase.value,
        )

    def _read(self, name: str) -> float:
        try:
            return read_length(self._lengths[name].value)
        except ValueError as error:
            raise ValueError(f"{name}: {error}") from error

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._status.value = status(FAILED, REFUSED) + details(trace)
