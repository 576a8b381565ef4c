"""The bench: one job carried from its ticket to the cabinet, station by station, on one record."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.carrying import BY_HAND, STATIONS, Carrying, Station
from stonework.jobs import Ticket, jobs_beside, load_jobs
from stonework.panels.adding import AddingBox
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.stations import Stand, stand_for
from stonework.panels.style import STYLE
from stonework.shop import Shop, ShopFileError

_TICKS = {
    "lift": ("It lifts, and nothing drops", "It doesn't lift after all"),
    "press": ("All is printed", "It isn't printed yet"),
    "put away": ("The stone is empty", "Something still lies there"),
}


class BenchPanel(VBox):
    """Stations along its head; below them the picture and the controls of the one at hand.

    ``shop_file`` is the shop's; its jobs stand beside it in a file of their own. Other shop files beside that are
    offered too.
    """

    def __init__(self, shop_file: str | Path) -> None:
        self._stations = {name: button("", functools.partial(self._go, name)) for name in STATIONS}
        for made in self._stations.values():
            made.add_class("stonework-station")
        self._undo_it, self._redo_it = button("Undo the last change", self._undo), button("Do it again", self._redo)
        self._on = button("On to the next", self._go_on)
        self._lay, self._tick = button("", self._take), button("", self._say)
        self._files = Dropdown(options=shop_files(shop_file), description="Shop", style=NAMED)
        self._line, self._body = HTML(), VBox()
        self._line.add_class("stonework-line")
        self._body.add_class("stonework-body")
        self._buttons = [self._lay, self._tick, self._on, self._undo_it, self._redo_it]
        self._head = row([*self._stations.values()], "stonework-stations")
        steps = row([*self._buttons, self._files], "stonework-buttons")
        super().__init__([HTML(STYLE), self._head, steps, self._line, self._body])
        self.add_class("stonework-panel")
        self.add_class("stonework-bench")
        self._carrying: Carrying | None = None
        self._stands: dict[Station, Stand] = {}
        self._files.value = str(shop_file)
        self._files.observe(self._turn_to, "value")
        self._open()

    @guarded
    def _turn_to(self, _change: Any = None) -> None:
        self._open()

    def _open(self) -> None:
        """Open the shop chosen, with its jobs; or say what is wrong in its files."""
        path = Path(self._files.value)
        self._carrying, self._stands, self._body.children = None, {}, ()
        self.jobs_file = jobs_beside(path)
        try:
            shop = Shop.load(path)
            jobs = load_jobs(self.jobs_file, shop) if self.jobs_file.exists() else {}
        except ShopFileError as error:
            self._no_jobs(str(error), refused=True)
            return
        if jobs:
            self._carry(shop, jobs)
        else:
            self._no_jobs(f"{shop.name} has no jobs yet. Add one, and it comes to lie here.")
            self._body.children = (AddingBox(shop, self.jobs_file, lambda jobs, _job: self._carry(shop, jobs)),)

    def _no_jobs(self, words: str, *, refused: bool = False) -> None:
        self._offer_steps(False)
        self._line.value = status(words, REFUSED if refused else "")

    def _offer_steps(self, there: bool) -> None:
        for control in (self._head, *self._buttons):
            control.layout.display = "" if there else "none"

    def _carry(self, shop: Shop, jobs: Mapping[str, Ticket]) -> None:
        self._offer_steps(True)
        self._carrying = Carrying(jobs, shop, name=Path(self._files.value).name.partition(".")[0])
        self._carrying.look()
        self._show(self._carrying.said)

    def __repr__(self) -> str:
        if self._carrying is None:
            return f"<bench: {self._files.value}; no jobs>"
        done = sum(self._carrying.standing(station).done for station in STATIONS)
        return f"<bench: {self._carrying.job}, at {self._carrying.state.station}; {done} of {len(STATIONS)} done>"

    # --- what is shown --------------------------------------------------------------------------------------

    def _show(self, words: str = "") -> None:
        """Show the station at hand with what lies on the bench."""
        carrying, station = self._carrying, self._carrying.state.station
        stand = self._stands.get(station)
        if stand is None or stand.job != carrying.job:
            stand = self._stands[station] = stand_for(station, carrying, self)
        words = f"{words} {stand.take_up()}".strip()
        if self._body.children != stand.parts:
            self._body.children = stand.parts
        self._tell(words)

    def _tell(self, words: str = "") -> None:
        """Say what is done and what comes next, on the stations too."""
        carrying, now = self._carrying, self._carrying.state.station
        found = {station: carrying.standing(station) for station in STATIONS}
        for n, (station, made) in enumerate(self._stations.items(), 1):
            made.description = f"{n} {station}{' ✓' * found[station].done}"
            (made.add_class if station == now else made.remove_class)("stonework-here")
            made.tooltip = found[station].words
        following = carrying.following
        coming = f"Next: {following}. {found[following].words}" if following else "This job is done, and all is back."
        here = f"{now.capitalize()}: {found[now].words}"
        said = [words, here if now != following else "", coming, carrying.trouble]
        kept = "" if carrying.trouble else f"Kept as {escape(carrying.kept_as)} beside this page."
        self._line.value = status(" ".join(filter(None, said)), REFUSED if carrying.trouble else "") + (
            f'<p class="stonework-foot">Job: “{escape(carrying.job)}”. {kept}</p>'
        )
        stand = self._stands[now]
        self._lay.layout.display = "" if stand.lays else "none"
        self._lay.description = stand.lays or ""
        self._tick.layout.display = "" if now in BY_HAND else "none"
        self._tick.description = _TICKS[now][found[now].done] if now in BY_HAND else ""
        self._undo_it.disabled, self._redo_it.disabled = not carrying.can_undo, not carrying.can_redo
        self._on.disabled = following is None

    # --- what stations tell -----------------------------------------------------------------------------------

    def changed(self, words: str = "") -> None:
        """Hear from a station that the record has changed."""
        self._tell(words)

    def chose(self, job: str) -> None:
        """Hear that another job is at hand."""
        self._carrying.choose(job)
        self._carrying.go("ticket")
        self._show()

    def added(self, jobs: Mapping[str, Ticket], job: str) -> None:
        """Hear that a job was added to the file."""
        self._carrying.add(jobs, job)
        self._show()

    # --- what is pressed ----------------------------------------------------------------------------------------

    @guarded
    def _go(self, station: Station, _button: Button | Any = None) -> None:
        words = self._carrying.look()
        self._carrying.go(station)
        self._show(words)

    @guarded
    def _go_on(self, _button: Button | Any = None) -> None:
        following = self._carrying.following
        if following:
            self._go(following)

    @guarded
    def _take(self, _button: Button | Any = None) -> None:
        try:
            words = self._stands[self._carrying.state.station].lay()
        except ValueError as error:
            self._line.value = status(str(error), REFUSED)
            return
        self._tell(words)

    @guarded
    def _say(self, _button: Button | Any = None) -> None:
        station = self._carrying.state.station
        self._carrying.tick(station, station not in self._carrying.state.ticked)
        self._tell()

    @guarded
    def _undo(self, _button: Button | Any = None) -> None:
        self._show("Undone." if self._carrying.undo() else "There is nothing to undo.")

    @guarded
    def _redo(self, _button: Button | Any = None) -> None:
        self._show("Done again." if self._carrying.redo() else "Nothing was undone.")

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._line.value = status(FAILED, REFUSED) + details(trace)


def shop_files(first: str | Path) -> list[tuple[str, str]]:
    """Return the shop files beside one, that one first, by their names."""
    first = Path(first)
    others = {*first.parent.glob("*.shop.toml"), *first.parent.glob("your-shop.toml")} - {first}
    return [(path.name, str(path)) for path in (first, *sorted(others))]
