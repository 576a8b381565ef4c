"""The stations of the bench: for each the panel that lessons show alone, and what passes between it and the record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from html import escape
from typing import Any, Protocol

from ipywidgets import HTML, RadioButtons

from stonework.carrying import Carrying, Station
from stonework.form import Edges, Form
from stonework.lockup import Lockup
from stonework.panels.adding import AddingBox
from stonework.panels.away import AwayPanel
from stonework.panels.block import BlockPanel
from stonework.panels.by_hand import HandPanel
from stonework.panels.choose import ChoosePanel
from stonework.panels.desk import Desk
from stonework.panels.fold import Fold
from stonework.panels.lift import LiftPanel
from stonework.panels.move import MovePanel
from stonework.panels.place import PlacePanel
from stonework.panels.square import SquarePanel
from stonework.panels.ticket import TicketPanel
from stonework.panels.tightening import TighteningPanel
from stonework.units import write_length

_NOT_PLACED = "Nothing is on the bench yet: place the form first."
_CHOSEN, _LAID = "let the workbook choose", "lay it by hand"


class View(Protocol):
    """What a station tells the view that shows it."""

    desk: Desk

    def changed(self, words: str = "") -> None:
        """The record has changed."""

    def chose(self, job: str) -> None:
        """Another job is wanted."""


class Stand:
    """One station of one job: ``parts`` are what is shown, and ``lays`` the words on the button that lays it.

    ``take_up`` shows what lies on the bench, and returns what there is to say of that.
    """

    lays = ""

    def __init__(self, carrying: Carrying, view: View) -> None:
        self.carrying, self.view, self.job = carrying, view, carrying.job
        self.parts: tuple[Any, ...] = ()

    @property
    def lockup(self) -> Lockup | None:
        """What lies on the bench."""
        return self.carrying.state.lockup

    def take_up(self) -> str:
        """Show what lies on the bench."""
        return ""

    def lay(self) -> str:
        """Put what is shown on the bench, and say so; ``ValueError`` with a sentence if that can't be."""
        raise NotImplementedError

    def show(self, *panels: Any) -> None:
        """Show panels, without their own controls for files: the bench keeps its record itself."""
        for panel in panels:
            for control in getattr(panel, "own_files", ()):
                control.layout.display = "none"
        self.parts = panels


class _AtTicket(Stand):
    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._panel = TicketPanel(carrying.shop, carrying.jobs)
        adding = AddingBox(carrying.shop, view.desk.jobs_file, view.desk.added)
        self.show(self._panel, Fold("the boxes for a job of your own", adding))

    def take_up(self) -> str:
        self._panel.chosen = None
        self._panel.offer(self.carrying.jobs, self.job)
        self._panel.chosen = self.view.chose
        return ""


class _AtMeasure(Stand):
    lays = "Note these edges"

    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        form = carrying.ticket.form
        width, height = (write_length(round(side, 2)) for side in (form.width, form.height))
        self._panel = SquarePanel(carrying.shop, width, width, height, height)
        self.show(
            _said("The boxes hold what the ticket asks for. Lay your gauge along each edge, and type what you read."),
            self._panel,
        )

    def take_up(self) -> str:
        if edges := self.carrying.state.edges:
            self._panel.put(Edges(*edges))
        return ""

    def lay(self) -> str:
        edges = self._panel.edges
        self.carrying.measure((edges.head, edges.foot, edges.left, edges.right))
        return "Noted."


class _AtPlace(Stand):
    lays = "Lay it on the bench"

    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._panel = PlacePanel(carrying.shop)
        self._asked: object = self
        self.show(self._panel)

    def take_up(self) -> str:
        edges = self.carrying.state.edges
        if self._asked != edges:  # it was measured since
            self._asked = edges
            self._panel.ask_for(self.carrying.ticket, Form(edges[0], edges[2]) if edges else None)
        return ""

    def lay(self) -> str:
        return _laid(self, self._panel.lockup, "The form has its place.")


class _AtBlock(Stand):
    lays = "Lay it on the bench"

    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._panel = BlockPanel(carrying.cabinet)

    def take_up(self) -> str:
        self.show(*([self._panel] if self.lockup else []))
        if self.lockup is None:
            return _NOT_PLACED
        self._panel.take_up(self.lockup)
        if self.lockup.block is None:
            self._panel.ask_for(self.carrying.ticket)
        return ""

    def lay(self) -> str:
        if self.lockup is None:
            raise ValueError(_NOT_PLACED)
        return _laid(self, self._panel.lockup, "The block lies on the bench.")


class _AtWood(Stand):
    """Wood chosen by the solver, or laid by hand: the same record either way."""

    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._choose = ChoosePanel(carrying.cabinet)
        self._hand = HandPanel(carrying.cabinet)
        self._way = RadioButtons(options=[_CHOSEN, _LAID], description="Wood", orientation="horizontal")
        self._way.style = {"description_width": "initial"}
        self._way.observe(self._turn, "value")

    @property
    def lays(self) -> str:  # type: ignore[override]
        return "Lay it on the bench" if self._way.value == _CHOSEN else ""

    def _turn(self, _change: Any = None) -> None:
        self.take_up()
        self.view.changed()

    def take_up(self) -> str:
        chosen = self._way.value == _CHOSEN
        self._choose.layout.display, self._hand.layout.display = ("", "none") if chosen else ("none", "")
        self._hand.laid = None
        self.show(*([self._way, self._choose, self._hand] if self.lockup else []))
        if self.lockup is None:
            return _NOT_PLACED
        if chosen:
            self._choose.take_up(self.lockup)
        else:
            _put(self, self._hand)
        return ""

    def lay(self) -> str:
        if self.lockup is None:
            raise ValueError(_NOT_PLACED)
        return _laid(self, self._choose.lockup, "The wood lies on the bench.")


class _AtQuoins(Stand):
    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._hand = HandPanel(carrying.cabinet)

    def take_up(self) -> str:
        self._hand.laid = None
        self.show(*([self._hand] if self.lockup else []))
        if self.lockup is None:
            return _NOT_PLACED
        _put(self, self._hand)
        self._hand.offer_quoins()
        return ""


class _OfLockup(Stand):
    """A station whose panel is made for one lockup, and kept as long as that lies on the bench."""

    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        self._of: object = self

    def anew(self, *more: object) -> bool:
        """Say whether the lockup, or what else its panel shows, is another than when this was asked last."""
        before, self._of = self._of, (self.lockup, *more)
        return before != self._of


class _AtTighten(_OfLockup):
    def take_up(self) -> str:
        if self.lockup is None:
            self.parts = ()
            return _NOT_PLACED
        if not self.anew(self.carrying.state.turns):
            return ""
        panel = TighteningPanel(self.carrying.cabinet, lockup=self.lockup)
        if panel.ready:
            panel.take_up(self.lockup, self.carrying.state.turns)
            panel.turned = self._turned
        self.show(panel)
        return ""

    def _turned(self, turns: tuple[tuple[int, int], ...]) -> None:
        self.carrying.turn(turns)
        self.anew(turns)  # the panel shows these already
        self.view.changed()


class _AtLift(Stand):
    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        words = (
            "At your stone, prop one edge of the chase on two reglets and press the type from above; your "
            "instructor and your shop's rules say who lifts what. Below are practice lines: look up what drops there, "
            "and what mends it."
        )
        self.show(_said(words), LiftPanel(carrying.shop))


class _AtPress(_OfLockup):
    def __init__(self, carrying: Carrying, view: View) -> None:
        super().__init__(carrying, view)
        words = (
            "Nobody sets guides or grippers on a press that can start. Print one sheet and measure it: if what prints "
            "must move, the panel says which pieces are exchanged at the stone, with all quoins slack. What stands "
            "there to begin with is an example: type what you measured."
        )
        self._said = _said(words)

    def take_up(self) -> str:
        if self.lockup is None or not self.lockup.items:
            self.parts = (self._said,)
            return ""
        if not self.anew():
            return ""
        panel = MovePanel(self.carrying.cabinet)
        panel.take_up(self.lockup)
        self.show(self._said, panel)
        return ""


class _AtAway(_OfLockup):
    def take_up(self) -> str:
        if self.lockup is None:
            self.parts = ()
            return _NOT_PLACED
        if not self.anew():
            return ""
        panel = AwayPanel(self.carrying.shop, "20 picas", "12 picas", self.lockup.chase.name)
        panel.take_up(self.lockup, self.job)
        self.show(panel)
        return ""


_STANDS: dict[Station, Callable[[Carrying, Any], Stand]] = {
    "ticket": _AtTicket,
    "measure": _AtMeasure,
    "place": _AtPlace,
    "block": _AtBlock,
    "wood": _AtWood,
    "quoins": _AtQuoins,
    "tighten": _AtTighten,
    "lift": _AtLift,
    "press": _AtPress,
    "put away": _AtAway,
}


def stand_for(station: Station, carrying: Carrying, view: View) -> Stand:
    """Return a station for the job at hand."""
    return _STANDS[station](carrying, view)


def _said(words: str) -> HTML:
    return HTML(f"<p>{escape(words)}</p>")


def _laid(stand: Stand, lockup: Lockup | None, words: str) -> str:
    if lockup is None:
        raise ValueError("There is nothing here to lay: the panel below says why.")
    before = stand.lockup
    if before and before.items and not lockup.items and _begins_alike(before, lockup):
        return "It lies there already, and so does all that lies round it."
    off = " What lay round it is off the bench; “Undo the last change” brings it back."
    bared = off if before and before.items and not lockup.items else ""
    return f"{words}{bared} {stand.carrying.take(_signed(stand, lockup))}".strip()


def _signed(stand: Stand, lockup: Lockup) -> Lockup:
    """Return a lockup with the name of the job at hand, and today's date: both stand on what is printed."""
    return replace(lockup, job=replace(lockup.job, name=stand.job, date=date.today().isoformat()))


def _begins_alike(one: Lockup, other: Lockup) -> bool:
    """Say whether two lockups are of the same form, or block, wanted in the same place of the same chase."""

    def start(lockup: Lockup) -> object:
        form, wish = lockup.form, lockup.intent
        parts = lockup.block and (*lockup.block.forms, *lockup.block.pieces)
        boxes = [(p.x - form.x, p.y - form.y, p.width, p.height) for p in parts or (form,)]
        place = wish and (wish.x, wish.y, wish.tolerance, wish.sheet and (wish.sheet.x, wish.sheet.y))
        return lockup.chase.name, lockup.head, _rounded(place), [_rounded(box) for box in boxes]

    return start(one) == start(other)


def _rounded(numbers: object) -> object:
    if isinstance(numbers, tuple):
        return tuple(_rounded(one) for one in numbers)
    return round(numbers, 2) if isinstance(numbers, float) else numbers


def _put(stand: Stand, hand: HandPanel) -> None:
    """Put the record on the stone, and hear of what is laid there by hand."""
    lockup = stand.lockup
    assert lockup is not None
    if hand.lockup != lockup:
        hand.take_up(lockup)

    def laid(lockup: Lockup) -> None:
        stand.view.changed(stand.carrying.take(_signed(stand, lockup)))

    hand.laid = laid
