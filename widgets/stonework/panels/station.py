"""A view of one station of the bench: its picture and controls, what is laid or said to be done, and what is undone."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from html import escape
from typing import Any

from ipywidgets import HTML, Button, VBox

from stonework.carrying import BY_HAND, STATIONS, Carrying, Station
from stonework.ledger import free, let_stand, stands
from stonework.panels.asking import button, row
from stonework.panels.common import FAILED, REFUSED, details, guarded, status
from stonework.panels.desk import Desk
from stonework.panels.stations import Stand, stand_for
from stonework.panels.style import STYLE
from stonework.panels.whose import whose

_TICKS = {
    "lift": ("It lifts, and nothing drops", "It doesn't lift after all"),
    "press": ("All is printed", "It isn't printed yet"),
    "put away": ("The stone is empty", "Something still lies there"),
}


class BenchView(VBox):
    """What every view of the bench has; ``head`` comes before it and ``beside`` after its buttons."""

    def __init__(self, desk: Desk, head: Sequence[Any] = (), beside: Sequence[Any] = ()) -> None:
        self.desk = desk
        self._stands: dict[Station, Stand] = {}
        self._undo_it, self._redo_it = button("Undo the last change", self._undo), button("Do it again", self._redo)
        self._lay, self._tick = button("", self._take), button("", self._say)
        self._hold = button("", self._stand)
        self._line, self._body = HTML(), VBox()
        self._line.add_class("stonework-line")
        self._body.add_class("stonework-body")
        self._buttons = [self._lay, self._tick, *beside, self._hold, self._undo_it, self._redo_it]
        self._steps = row(self._buttons, "stonework-buttons")
        super().__init__([HTML(STYLE), *head, self._steps, self._line, self._body, whose()])
        self.add_class("stonework-panel")
        self.add_class("stonework-bench")
        desk.add_view(self)

    @property
    @abstractmethod
    def station(self) -> Station:
        """The station that is shown."""

    @property
    def carrying(self) -> Carrying:
        """The job that is carried; there must be one."""
        assert self.desk.carrying
        return self.desk.carrying

    # --- what is shown --------------------------------------------------------------------------------------

    def show(self, words: str = "") -> None:
        """Show the station with what lies on the bench, or that there are no jobs."""
        for control in self._buttons:
            control.layout.display = "" if self.desk.carrying else "none"
        if self.desk.carrying is None:
            self._stands, self._body.children = {}, ()
            self._line.value = status(self.desk.said, REFUSED if self.desk.broken else "")
            return
        station = self.station
        stand = self._stands.get(station)
        if stand is None or stand.carrying is not self.carrying or stand.job != self.carrying.job:
            stand = self._stands[station] = stand_for(station, self.carrying, self)
        words = f"{words} {stand.take_up()}".strip()
        if self._body.children != stand.parts:
            self._body.children = stand.parts
        self.tell(words)

    def tell(self, words: str = "") -> None:
        """Say what is done and what comes next."""
        carrying, now = self.carrying, self.station
        following, here = carrying.following, carrying.standing(now)
        coming = "This job is done, and all is back."
        if following:
            coming = f"Next: {following}. {carrying.standing(following).words}"
        told = f"{now.capitalize()}: {here.words}" if now != following else ""
        lockup, standing = carrying.state.lockup, stands(carrying.job)
        since = f"It stands since {standing.since} and holds its wood." if standing.since else ""
        said = " ".join(filter(None, (words, told, coming, since, carrying.trouble)))
        kept = "" if carrying.trouble else f"Kept in {carrying.kept_as}."
        wrong = carrying.trouble or any(sign in said for sign in ("would not hold", "sits cocked"))
        self._line.value = (
            status(said, REFUSED if wrong else "")
            + f'<p class="stonework-foot">Job: “{escape(carrying.job)}”. {escape(kept)}</p>'
        )
        stand = self._stands[now]
        self._lay.layout.display, self._lay.description = ("" if stand.lays else "none"), stand.lays
        self._tick.layout.display = "" if now in BY_HAND else "none"
        self._tick.description = _TICKS[now][here.done] if now in BY_HAND else ""
        self._hold.layout.display = "" if standing.since or (lockup and lockup.items) else "none"
        self._hold.description = "It holds nothing any more" if standing.since else "Let it stand"
        self._undo_it.disabled, self._redo_it.disabled = not carrying.can_undo, not carrying.can_redo

    @guarded
    def follow(self) -> None:
        """Show the job as another view has left it."""
        self.show()

    # --- what stations tell -----------------------------------------------------------------------------------

    def changed(self, words: str = "") -> None:
        """Hear from a station that the record has changed."""
        self.tell(words)
        self.desk.changed(self)

    def chose(self, job: str) -> None:
        """Hear that another job is wanted."""
        self.carrying.choose(job)
        self.show()
        self.desk.changed(self)

    # --- what is pressed ----------------------------------------------------------------------------------------

    @guarded
    def _take(self, _button: Button | Any = None) -> None:
        try:
            words = self._stands[self.station].lay()
        except ValueError as error:
            self._line.value = status(str(error), REFUSED)
            return
        self.changed(words)

    @guarded
    def _say(self, _button: Button | Any = None) -> None:
        station, ticked = self.station, self.station in self.carrying.state.ticked
        if not ticked and station != "put away" and not self.carrying.standing("quoins").done:
            self._line.value = status("Nothing is locked up yet: lay its wood and quoins first.", REFUSED)
            return
        self.carrying.tick(station, not ticked)
        words = ""
        if station == "put away" and not ticked and stands(self.carrying.job).since:
            words = free(self.carrying.job)
        self.changed(words)

    @guarded
    def _stand(self, _button: Button | Any = None) -> None:
        """Let the form stand and hold its wood, or note that it's put away."""
        carrying = self.carrying
        try:
            if stands(carrying.job).since:
                words = free(carrying.job)
            else:
                assert carrying.state.lockup
                words = let_stand(carrying.state.lockup, carrying.job, carrying.shop)
        except ValueError as error:
            self._line.value = status(str(error), REFUSED)
            return
        self.changed(words)

    @guarded
    def _undo(self, _button: Button | Any = None) -> None:
        self._stepped("Undone." if self.carrying.undo() else "There is nothing to undo.")

    @guarded
    def _redo(self, _button: Button | Any = None) -> None:
        self._stepped("Done again." if self.carrying.redo() else "Nothing was undone.")

    def _stepped(self, words: str) -> None:
        self.show(words)
        self.desk.changed(self)

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self._line.value = status(FAILED, REFUSED) + details(trace)


class StationPanel(BenchView):
    """One station of a bench shown alone, beside the words that speak of it; ``BenchPanel.at`` makes it."""

    def __init__(self, desk: Desk, station: Station) -> None:
        self._station = station
        super().__init__(desk)
        self.show()

    def __repr__(self) -> str:
        if self.desk.carrying is None:
            return f"<bench at {self._station}: no jobs>"
        standing = self.carrying.standing(self._station)
        return f"<bench at {self._station}: {self.carrying.job}; {'done' if standing.done else 'not done'}>"

    @property
    def station(self) -> Station:
        """The station that is shown: always the same."""
        return self._station


def known(station: str) -> Station:
    """Return a station by its name; ``ValueError`` with a sentence for any other."""
    for one in STATIONS:
        if one == station:
            return one
    raise ValueError(f"“{station}” isn't a station; the bench has {', '.join(STATIONS)}.")
