"""The *by hand* panel: lay pieces side by side yourself, and be judged as you go."""

from __future__ import annotations

from typing import Any

from ipywidgets import Button, Dropdown, Layout, Text

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.words import hand_facts, hand_words, in_picas
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import SIDES, Lockup
from stonework.panels.common import Panel, guarded
from stonework.rules import judge
from stonework.shop import Material, Shop
from stonework.units import read_length, write_length

_NAMED = {"description_width": "initial"}
_QUOINS = "row of quoins"
_LEANS = {"the middle": "middle", "the left or lower corner": "low", "the right or upper corner": "high"}


class HandPanel(Panel):
    """Pick a side and a piece and lay it; ask for one next piece, or to see it finished."""

    def __init__(self, shop: Shop, width: str = "20 picas", height: str = "12 picas", chase: str | None = None) -> None:
        self._shop = shop
        self._width = Text(width, description="Form width", continuous_update=False, style=_NAMED)
        self._height = Text(height, description="Form height", continuous_update=False, style=_NAMED)
        self._chase = Dropdown(
            options=[one.name for one in shop.chases],
            value=chase or shop.chases[0].name,
            description="Chase",
            style=_NAMED,
        )
        self._side = Dropdown(options=SIDES, description="Side", style=_NAMED)
        self._kind = Dropdown(options=["furniture", "reglet", _QUOINS], description="Piece", style=_NAMED)
        self._thickness = Dropdown(description="Thickness", style=_NAMED)
        self._length = Dropdown(description="Length", style=_NAMED)
        self._lean = Dropdown(options=_LEANS, description="Toward", style=_NAMED)
        self._buttons = [
            Button(description=words, layout=Layout(width="auto"))
            for words in ("Lay this piece", "Take it back", "Clear the stone", "One next piece", "See it finished")
        ]
        form_controls = [self._width, self._height, self._chase]
        piece_controls = [self._side, self._kind, self._thickness, self._length, self._lean]
        super().__init__([*form_controls, *piece_controls], self._buttons)
        for control in form_controls:
            control.observe(self._begin, "value")
        self._kind.observe(self._offer, "value")
        handlers = (self._lay, self._take_back, self._clear, self._next, self._finish)
        for button, handler in zip(self._buttons, handlers, strict=True):
            button.on_click(handler)
        self._offer()
        self._begin()

    def __repr__(self) -> str:
        lockup = self.lockup
        asked = f"form {self._width.value} × {self._height.value} in the {self._chase.value} chase"
        return f"<by hand: {asked}; {len(lockup.wood)} pieces and {len(lockup.items) - len(lockup.wood)} quoins laid>"

    @property
    def lockup(self) -> Lockup:
        """The record of what lies on the stone."""
        return self._bench.lockup()

    @guarded
    def _begin(self, _change: Any = None) -> None:
        try:
            form = Form(read_length(self._width.value), read_length(self._height.value))
        except ValueError as error:
            self.refuse(str(error))
            return
        self._bench = Bench(form, self._shop.chase(self._chase.value), self._shop)
        self._redraw("An empty chase. Lay the first piece: which side will you begin with?")

    @guarded
    def _offer(self, _change: Any = None) -> None:
        """Offer the sizes the cabinet has of the kind chosen."""
        sizes = [m for m, count in self._shop.stock.items() if count and m.kind == self._kind.value]
        for control, lengths in (
            (self._thickness, {m.thickness for m in sizes}),
            (self._length, {m.length for m in sizes}),
        ):
            before = control.value
            control.options = [(f"{in_picas(length)} picas", length) for length in sorted(lengths)]
            control.value = before if before in lengths else min(lengths, default=None)
            control.disabled = not lengths
        self._lean.disabled = self._kind.value == _QUOINS

    @guarded
    def _lay(self, _button: Button) -> None:
        side = self._side.value
        if self._kind.value == _QUOINS:
            self._bench.lay_quoins(side)
            self._redraw(f"Laid quoins on the {side}.")
            return
        material = Material(self._kind.value, self._thickness.value, self._length.value)
        self._bench.lay(side, material, self._lean.value)
        size = f"{write_length(material.thickness)} × {write_length(material.length)}"
        self._redraw(f"Laid {material.kind} {size} on the {side}.")

    @guarded
    def _take_back(self, _button: Button) -> None:
        if self._bench.can_take_back:
            self._bench.take_back()
            self._redraw("Taken back.")
        else:
            self._redraw("There is nothing to take back.")

    @guarded
    def _clear(self, _button: Button) -> None:
        self._bench.clear()
        self._redraw("Everything is off the stone. “Take it back” brings it back.")

    @guarded
    def _next(self, _button: Button) -> None:
        if plan := self._plan():
            self._redraw(self._bench.next_from(plan))

    @guarded
    def _finish(self, _button: Button) -> None:
        if plan := self._plan():
            self._bench.finish(plan)
            self._redraw("One good lockup, finished. “Take it back” brings yours back.")

    def _plan(self) -> Lockup | None:
        try:
            return choose_lockup(self._bench.form, self._bench.chase, self._shop)
        except NoLockup as error:
            self._redraw(f"No plan can be given. {error}")
            return None

    def _redraw(self, words: str) -> None:
        lockup = self._bench.lockup()
        findings = judge(lockup, self._shop)
        said, wrong = hand_words(words, lockup, findings)
        self.show(said, lockup, self._shop, hand_facts(lockup, self._shop, findings), wrong=wrong)
