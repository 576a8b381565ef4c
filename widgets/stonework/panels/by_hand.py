"""The *by hand* panel: lay pieces side by side yourself, and be judged as you go."""

from __future__ import annotations

from typing import Any

from ipywidgets import Button, Dropdown, Layout, Text

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.words import hand_facts, hand_faults, hand_words, in_picas
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import SIDES, Lockup, along_x
from stonework.panels.common import Panel, guarded
from stonework.rules import judge
from stonework.shop import Material, Shop
from stonework.units import PICA, read_length, write_length

_NAMED = {"description_width": "initial"}
_QUOINS = "row of quoins"


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
        self._lean = Dropdown(description="Toward", style=_NAMED)
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
        self._side.observe(self._offer_leans, "value")
        handlers = (self._lay, self._take_back, self._clear, self._next, self._finish)
        for button, handler in zip(self._buttons, handlers, strict=True):
            button.on_click(handler)
        self._offer()
        self._offer_leans()
        self._bench = Bench(self._form(), self._shop.chase(self._chase.value), self._shop)
        self._redraw("An empty chase. Lay the first piece: which side will you begin with?")

    def __repr__(self) -> str:
        lockup = self.lockup
        asked = f"form {self._width.value} × {self._height.value} in the {self._chase.value} chase"
        return f"<by hand: {asked}; {len(lockup.wood)} pieces and {len(lockup.items) - len(lockup.wood)} quoins laid>"

    @property
    def lockup(self) -> Lockup:
        """The record of what lies on the stone."""
        return self._bench.lockup()

    def _form(self) -> Form:
        return Form(read_length(self._width.value), read_length(self._height.value))

    def _reads(self) -> bool:
        """Say whether the form's size can be read; if not, say why on the panel."""
        try:
            self._form()
        except ValueError as error:
            self.refuse(str(error))
            return False
        return True

    @guarded
    def _begin(self, _change: Any = None) -> None:
        if self._reads():
            self._bench.begin(self._form(), self._shop.chase(self._chase.value))
            self._redraw("A new start. “Take it back” brings back what lay here.")

    @guarded
    def _offer_leans(self, _change: Any = None) -> None:
        low, high = ("the left", "the right") if along_x(self._side.value) else ("the foot", "the head")
        before = self._lean.value or "middle"
        self._lean.options = [("the middle", "middle"), (low, "low"), (high, "high")]
        self._lean.value = before

    @guarded
    def _offer(self, _change: Any = None) -> None:
        """Offer the sizes the cabinet has of the kind chosen."""
        sizes = [m for m, count in self._shop.stock.items() if count and m.kind == self._kind.value]
        for control, lengths in (
            (self._thickness, {m.thickness for m in sizes}),
            (self._length, {m.length for m in sizes}),
        ):
            before = control.value
            control.options = [
                (f"{in_picas(length)} pica{'s' * (length > PICA)}", length) for length in sorted(lengths)
            ]
            control.value = before if before in lengths else min(lengths, default=None)
            control.disabled = not lengths
        self._lean.disabled = self._kind.value == _QUOINS

    @guarded
    def _lay(self, _button: Button) -> None:
        if not self._reads():
            return
        side, stood = self._side.value, self.lockup.form
        if self._kind.value == _QUOINS:
            self._bench.lay_quoins(side)
            done = f"Laid quoins on the {side}."
        else:
            material = Material(self._kind.value, self._thickness.value, self._length.value)
            self._bench.lay(side, material, self._lean.value)
            size = f"{write_length(material.thickness)} × {write_length(material.length)}"
            done = f"Laid {material.kind} {size} on the {side}."
        slid = " The form slid against it." if self.lockup.form != stood else ""
        self._redraw(done + slid)

    @guarded
    def _take_back(self, _button: Button) -> None:
        if not self._bench.can_take_back:
            self._redraw("There is nothing to take back.")
            return
        self._bench.take_back()
        form = self._bench.form
        for control, value in (
            (self._width, write_length(form.width)),
            (self._height, write_length(form.height)),
            (self._chase, self._bench.chase.name),
        ):
            if control.value != value:
                control.unobserve(self._begin, "value")
                control.value = value
                control.observe(self._begin, "value")
        self._redraw("Taken back.")

    @guarded
    def _clear(self, _button: Button) -> None:
        self._bench.clear()
        self._redraw("Everything is off the stone. “Take it back” brings it back.")

    @guarded
    def _next(self, _button: Button) -> None:
        if self._reads() and (plan := self._plan()):
            self._redraw(self._bench.next_from(plan))

    @guarded
    def _finish(self, _button: Button) -> None:
        if self._reads() and (plan := self._plan()):
            self._bench.finish(plan)
            self._redraw("One good lockup, finished for you. “Take it back” brings yours back.")

    def _plan(self) -> Lockup | None:
        try:
            return choose_lockup(self._bench.form, self._bench.chase, self._shop)
        except NoLockup as error:
            self._redraw(f"No plan can be given. {error}")
            return None

    def _redraw(self, words: str) -> None:
        lockup = self.lockup
        findings = judge(lockup, self._shop)
        wrong = [finding for finding in hand_faults(lockup, findings) if finding.severity == "fault"]
        said, facts = hand_words(words, lockup, findings), hand_facts(lockup, self._shop, findings)
        self.show(said, lockup, self._shop, facts, wrong=wrong)
