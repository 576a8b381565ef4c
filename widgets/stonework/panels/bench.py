"""The bench: one job carried from its ticket to the cabinet, station by station, on one record."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ipywidgets import Button, Dropdown

from stonework.carrying import STATIONS, Station
from stonework.jobs import Ticket
from stonework.panels.adding import AddingBox
from stonework.panels.asking import NAMED, button, row
from stonework.panels.common import guarded
from stonework.panels.desk import Desk
from stonework.panels.ledger import LedgerPanel
from stonework.panels.station import BenchView, StationPanel, known


class BenchPanel(BenchView):
    """Stations along its head; below them the picture and the controls of the one at hand.

    ``shop_file`` is the shop's; its jobs stand beside it in a file of their own. Other shop files beside that are
    offered too.
    """

    def __init__(self, shop_file: str | Path) -> None:
        self._stations = {name: button("", functools.partial(self._go, name)) for name in STATIONS}
        self._head = row([*self._stations.values()], "stonework-stations")
        self._on = button("On to the next", self._go_on)
        self._on.add_class("stonework-station-next")
        self._files = Dropdown(options=shop_files(shop_file), value=str(shop_file), description="Shop", style=NAMED)
        super().__init__(Desk(shop_file), [self._head], [self._on])
        self._steps.children = [*self._steps.children, self._files]
        self._files.observe(self._turn_to, "value")
        self.show(self.desk.said if self.desk.carrying else "")

    def __repr__(self) -> str:
        if self.desk.carrying is None:
            return f"<bench: {self.desk.path.name}; no jobs>"
        done = sum(self.carrying.standing(station).done for station in STATIONS)
        return f"<bench: {self.carrying.job}, at {self.station}; {done} of {len(STATIONS)} done>"

    def at(self, station: str) -> StationPanel:
        """Return a view of one station of this bench, to stand beside the words that speak of it."""
        return StationPanel(self.desk, known(station))

    def standing(self) -> LedgerPanel:
        """Return a panel of what stands in the bench's shop."""
        return LedgerPanel(lambda: self.desk.shop)

    @property
    def station(self) -> Station:
        """The station at hand."""
        return self.carrying.state.station

    def show(self, words: str = "") -> None:
        """Show the station at hand, or the boxes for a first job."""
        self._head.layout.display = "" if self.desk.carrying else "none"
        super().show(words)
        if self.desk.carrying is None and self.desk.shop:
            self._body.children = (AddingBox(self.desk.shop, self.desk.jobs_file, self.added),)

    def tell(self, words: str = "") -> None:
        """Say what is done and what comes next, on the stations too."""
        super().tell(words)
        for n, (station, made) in enumerate(self._stations.items(), 1):
            standing = self.carrying.standing(station)
            made.description = f"{n} {station}{' ✓' * standing.done}"
            made.tooltip = f"At hand. {standing.words}" if station == self.station else standing.words
            if station != self.station:
                made.remove_class("stonework-here")
        self._stations[self.station].add_class("stonework-here")  # last, so that no two ever look at hand
        self._on.disabled = self.carrying.following in (None, self.station)

    def chose(self, job: str) -> None:
        """Hear that another job is wanted: its ticket comes first."""
        self.carrying.choose(job)
        self.carrying.go("ticket")
        self.show()
        self.desk.changed(self)

    def added(self, jobs: Mapping[str, Ticket], job: str) -> None:
        """Hear that a job was added to the file."""
        self.desk.added(jobs, job)
        self.show()

    @guarded
    def _turn_to(self, _change: Any = None) -> None:
        self.desk.open(self._files.value)
        self.show()
        self.desk.changed(self)

    @guarded
    def _go(self, station: Station, _button: Button | Any = None) -> None:
        words = self.carrying.look()
        self.carrying.go(station)
        self.show(words)

    @guarded
    def _go_on(self, _button: Button | Any = None) -> None:
        following = self.carrying.following
        if following:
            self._go(following)


def shop_files(first: str | Path) -> list[tuple[str, str]]:
    """Return the shop files beside one, that one first, by their names."""
    first = Path(first)
    others = {*first.parent.glob("*.shop.toml"), *first.parent.glob("your-shop.toml")} - {first}
    return [(path.name, str(path)) for path in (first, *sorted(others))]
