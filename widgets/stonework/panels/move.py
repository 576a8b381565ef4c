"""The *move* panel: the printing is so far out on the sheet, or crooked; which pieces are exchanged on the stone."""

from __future__ import annotations

from html import escape

from ipywidgets import Button, Dropdown, Text

from stonework.choosing import NoLockup
from stonework.drawing.place_words import WAYS, grows_for, moved_words, stacks_words, strip_words
from stonework.form import Form
from stonework.lockup import Lockup, opposite, pattern_of
from stonework.moving import between, inner_wood, move_form, turning_strips, with_leads
from stonework.panels.asking import NAMED, first_lockup, length_box, name_box, row
from stonework.panels.common import LivePanel, guarded
from stonework.placing import lying_as
from stonework.shop import Shop
from stonework.units import read_length, write_length

_STRAIGHT = "it prints straight"
_LOW = {_STRAIGHT: None, "its left end": "left", "its right end": "right"}


class MovePanel(LivePanel):
    """A lockup, and by how much what it prints is to move on the sheet, or how crooked it prints.

    It begins with one from the cabinet; a saved one is opened by its name.
    """

    def __init__(self, shop: Shop, width: str = "18 picas", height: str = "24 picas", chase: str | None = None) -> None:
        self._shop, self._lockup, self._none = shop, None, ""
        try:
            self._lockup = first_lockup(shop, width, height, chase)
        except NoLockup as error:
            self._none = f"This shop has no lockup for a form {width} wide and {height} high. {error}"
        self._way = Dropdown(options=list(WAYS), description="Move the print", style=NAMED)
        self._by: Text = length_box("6 pt", "By how much")
        self._low = Dropdown(options=_LOW, description="A line prints lower at", style=NAMED)
        self._fall: Text = length_box("2 pt", "Lower by")
        self._run: Text = length_box("18 picas", "Over a length of")
        self._name, opening = name_box("a saved lockup", "Open it", self._open)
        asked = [self._way, self._by, self._low, self._fall, self._run]
        files = row([self._name, opening], "stonework-buttons")
        super().__init__(asked, None, "move", above=[files])
        self.own_files = [files]

    def __repr__(self) -> str:
        return f"<move: {self._way.value}, by {self._by.value}>"

    @guarded
    def _open(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._name.value)
        if lockup is not None:
            self.take_up(lockup)

    def take_up(self, lockup: Lockup) -> None:
        """Ask for the pieces that move a lockup."""
        self._lockup = lockup
        self._ask()

    def answer(self) -> None:
        """Say which pieces are exchanged, or which strips turn the form."""
        if self._lockup is None:
            raise ValueError(self._none)
        if not self._lockup.items:
            raise ValueError("Nothing lies in that lockup yet: choose its wood first.")
        crooked = self._low.value is not None
        for control in (self._fall, self._run):
            control.layout.display = "" if crooked else "none"
        if crooked:
            self._turn(self._lockup)
        else:
            self._move(self._lockup)

    def _move(self, lockup: Lockup) -> None:
        by, grows = read_length(self._by.value), grows_for(self._way.value, lockup.head)
        solid = grows if grows not in lockup.quoin_sides else opposite(grows)
        row = lockup.quoins(opposite(solid))
        pattern = pattern_of(row[0], self._shop.quoins) if row else None
        if pattern is None:
            raise ValueError(
                "That lockup has no quoins of this shop's on one of the two sides: finish it first, and prove it."
            )
        opening = row[0].thickness - pattern.closed
        spare = with_leads(between(lockup, self._shop, grows), self._shop)
        wood, inside = inner_wood(lockup, solid), inner_wood(lockup, opposite(solid))
        signed = by if solid == grows else -by
        moved = move_form(wood, inside, signed, spare, opening, pattern.most_open)
        if moved is None:
            raise ValueError(
                f"Nothing in this cabinet makes {write_length(by)} by exchanging a few pieces, leads among them. Move "
                "the guides instead, or lay that side up anew."
            )
        stacks = stacks_words(lockup, solid, wood, inside)
        self.show(moved_words(moved, solid, grows, opening), f"<p>{escape(stacks)}</p>")

    def _turn(self, lockup: Lockup) -> None:
        fall, run = read_length(self._fall.value), read_length(self._run.value)
        if fall >= run / 4 or not run:
            raise ValueError(
                f"A fall of {write_length(fall)} over {write_length(run)} is no crooked print: look at the sheet and "
                "the guides, and measure again."
            )
        read = lying_as(Form(lockup.form.width, lockup.form.height), lockup.head)
        strips = turning_strips(self._low.value, fall, run, read.width, read.height, lockup.head)
        self.show(strip_words(strips), "")
