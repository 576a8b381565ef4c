"""What several views of one bench share: the job that is carried, and who is told when it changes."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from stonework.carrying import Carrying
from stonework.jobs import Ticket, jobs_beside, load_jobs
from stonework.people import here
from stonework.shop import Shop, ShopFileError

_PAUSE = 0.5  # seconds without another change after which the other views follow


class View(Protocol):
    """A view of the bench."""

    def follow(self) -> None:
        """Show the job as it is now."""


class Desk:
    """A shop's jobs and the one that is carried; ``carrying`` is ``None`` if there are none, and ``said`` says why."""

    def __init__(self, shop_file: str | Path) -> None:
        self._views: list[View] = []
        self._waiting: asyncio.TimerHandle | None = None
        self.open(shop_file)
        here().follow(self._turn)

    def _turn(self) -> None:
        """Take up the bench of whoever works here now."""
        self.open(self.path)
        for view in self._views:
            view.follow()

    def open(self, shop_file: str | Path) -> None:
        """Open a shop with its jobs."""
        self.path, self.jobs_file = Path(shop_file), jobs_beside(shop_file)
        self.carrying: Carrying | None = None
        self.shop: Shop | None = None
        try:
            self.shop = Shop.load(self.path)
            jobs = load_jobs(self.jobs_file, self.shop) if self.jobs_file.exists() else {}
        except ShopFileError as error:
            self.said, self.broken = str(error), True
            return
        self.said, self.broken = f"{self.shop.name} has no jobs yet. Add one, and it comes to lie here.", False
        if jobs:
            self._carry(jobs)

    def added(self, jobs: Mapping[str, Ticket], job: str) -> None:
        """Take a job to hand that was added to the file."""
        if self.carrying is None:
            self._carry(jobs)
        else:
            self.carrying.add(jobs, job)
        self.changed(None)

    def _carry(self, jobs: Mapping[str, Ticket]) -> None:
        assert self.shop
        name = self.path.name.partition(".")[0]
        self.carrying = Carrying(jobs, self.shop, name=name)
        self.said = " ".join(filter(None, (self.carrying.said, self.carrying.look())))

    def add_view(self, view: View) -> None:
        """Tell a view of every change."""
        self._views.append(view)

    def changed(self, by: View | None) -> None:
        """Let every other view follow, as soon as nothing has changed for a moment."""

        def follow() -> None:
            for view in self._views:
                if view is not by:
                    view.follow()

        if self._waiting:
            self._waiting.cancel()
        try:
            self._waiting = asyncio.get_running_loop().call_later(_PAUSE, follow)
        except RuntimeError:  # no kernel, and nobody who would be kept waiting
            follow()
