"""A job carried from its ticket to the cabinet: one record beneath all stations, kept at every step, and undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from stonework.carrying.keeping import Shelf
from stonework.carrying.standing import Standing, standing
from stonework.carrying.state import BY_HAND, STATIONS, State, Station, Turn
from stonework.jobs import Ticket
from stonework.lockup import Lockup
from stonework.shop import Shop

_MOST = 500  # steps that can be undone


class Carrying:
    """The jobs of a shop, one of them at hand. Every change is kept, and can be undone.

    ``name`` is that of the file it's kept in. ``said`` is what there is to say of what was kept before; ``trouble``
    why the last change couldn't be kept.
    """

    def __init__(
        self, jobs: Mapping[str, Ticket], shop: Shop, folder: str | Path | None = None, name: str = "my"
    ) -> None:
        if not jobs:
            raise ValueError("There are no jobs: write one into the jobs file, or add one.")
        self._jobs, self.shop = dict(jobs), shop
        self._shelf = Shelf(folder, name)
        self.job, self._states, self.said = self._shelf.open(self._jobs)
        self.trouble = ""
        self._before: list[tuple[str, State]] = []
        self._after: list[tuple[str, State]] = []

    @property
    def jobs(self) -> Mapping[str, Ticket]:
        """Every ticket by its name."""
        return self._jobs

    @property
    def ticket(self) -> Ticket:
        """The ticket of the job at hand."""
        return self._jobs[self.job]

    @property
    def state(self) -> State:
        """The job at hand as it stands."""
        return self._states[self.job]

    @property
    def cabinet(self) -> Shop:
        """The shop with the wood that other jobs leave to the one at hand."""
        return self.ticket.cabinet(self.shop)

    @property
    def kept_as(self) -> str:
        """Where the bench is kept."""
        return f"{self._shelf.path.parent.name}/{self._shelf.path.name}"

    def standing(self, station: Station) -> Standing:
        """Say how a station stands."""
        return standing(station, self.state, self.ticket, self.shop)

    @property
    def following(self) -> Station | None:
        """The first station that isn't done; ``None`` if all are."""
        return next((station for station in STATIONS if not self.standing(station).done), None)

    def go(self, station: Station) -> None:
        """Go to a station."""
        self._states[self.job] = replace(self.state, station=station)
        self._keep()

    def choose(self, job: str) -> None:
        """Take another job to hand; it stands where it was left."""
        self.job = job
        self.look()
        self._keep()

    def add(self, jobs: Mapping[str, Ticket], job: str) -> None:
        """Take a job to hand that was written just now."""
        self._jobs = dict(jobs)
        for name in jobs:
            self._states.setdefault(name, State(lockup=self._shelf.lockup_of(name)[0]))
        self.choose(job)

    def measure(self, edges: tuple[float, float, float, float]) -> None:
        """Note the form's four edges: head, foot, left and right, in points."""
        self._change(replace(self.state, edges=edges))

    def take(self, lockup: Lockup) -> str:
        """Put a lockup in the place of the one at hand; say what that undoes, or nothing.

        What another page has saved of the job meanwhile is kept beside it, under a name of its own.
        """
        before = self.state
        self._change(before.with_lockup(lockup))
        if before.lockup in (None, lockup) or not (before.turns or before.ticked):
            return ""
        return "It is another lockup now: it is to be tightened and lifted again."

    def turn(self, turns: tuple[Turn, ...]) -> None:
        """Note every small turn given to the quoins so far."""
        self._change(replace(self.state, turns=turns))

    def tick(self, station: Station, done: bool = True) -> None:
        """Say that what happens at the stone or the press is done, or isn't."""
        assert station in BY_HAND
        ticked = self.state.ticked | {station} if done else self.state.ticked - {station}
        self._change(replace(self.state, ticked=ticked))

    def look(self) -> str:
        """Take what another panel has saved of the job at hand since; say so, or nothing."""
        lockup = self._shelf.changed(self.job)
        if lockup is None:
            return ""
        self._change(self.state.with_lockup(lockup))
        return (
            f"“{self.job}” was saved elsewhere since, and is taken as it is there; “Undo the last change” brings back "
            "what was here."
        )

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to undo."""
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        """Whether a change was undone."""
        return bool(self._after)

    def undo(self) -> bool:
        """Undo the last change of any job, at whatever station it was made; say whether there was one."""
        return self._step(self._before, self._after)

    def redo(self) -> bool:
        """Do again what was undone last; say whether there was anything."""
        return self._step(self._after, self._before)

    def _step(self, back: list[tuple[str, State]], on: list[tuple[str, State]]) -> bool:
        if not back:
            return False
        job, state = back.pop()
        on.append((job, self._states[job]))
        self.job, self._states[job] = job, state
        self._keep()
        return True

    def _change(self, state: State) -> None:
        if state == self.state:
            return
        self._before = [*self._before, (self.job, self.state)][-_MOST:]
        self._after = []
        self._states[self.job] = state
        self._keep()

    def _keep(self) -> None:
        self.trouble = self._shelf.keep(self.job, self._states, self.shop)
