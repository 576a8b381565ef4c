"""The *lift* panel: a form with hidden faults; find them and mend them until it lifts."""

from __future__ import annotations

from html import escape
from typing import Any

from ipywidgets import Button, Dropdown

from stonework.drawing.lift import LiftView
from stonework.exercises.lifting import BODY, MEASURE, SLACK, TIGHT, Lifting, lifted_words
from stonework.panels.asking import NAMED, button
from stonework.panels.common import NUMBERS, RIGHT, Panel, guarded, status
from stonework.panels.numbers import NumberBox
from stonework.shop import Shop

_PUT_IN, _TAKE_OUT = "put a piece into the line", "take a piece out of the line"
_CUT, _FREE = "look at the lead below the line", "look for a stick that binds"
_SLACKEN, _TIGHTEN = "slacken all quoins", "plane lightly, and tighten again"
_ON_A_LINE = (_PUT_IN, _TAKE_OUT, _CUT)


class LiftPanel(Panel):
    """A practice form; prop it up and press, do something about what drops, and try again."""

    def __init__(self, shop: Shop, number: int = 1) -> None:
        self._lifting = Lifting(number, shop)
        self._number = NumberBox(number, 1, 9999, "Form number")
        self._what = Dropdown(options=[_SLACKEN, *_ON_A_LINE, _FREE, _TIGHTEN], description="What to do", style=NAMED)
        self._line = NumberBox(1, 1, self._lifting.lines, "Line")
        pieces = [(f"{width:g} pt", width) for width in self._lifting.pieces]
        self._piece = Dropdown(options=pieces, description="Piece", style=NAMED)
        self._lift_view = LiftView(f"lift-{next(NUMBERS)}")
        buttons = [
            button("Prop it and press", self._lift),
            button("Do it", self._do),
            button("Undo", self._undo),
            button("What would mend it?", self._advise),
            button("Another form", self._another),
        ]
        super().__init__([self._number, self._what, self._line, self._piece], buttons, self._lift_view, "lift")
        self._number.observe(self._begin, "value")
        self._what.observe(self._offer, "value")
        self._offer()
        self._redraw("The form is locked up. Prop one edge and press, before anyone lifts it.")

    def __repr__(self) -> str:
        return f"<lift: form {self._lifting.number}, {self._lifting.lines} lines; {self._lifting.words}>"

    @guarded
    def _begin(self, _change: Any) -> None:
        try:
            number = self._number.number
        except ValueError as error:
            self.refuse(str(error))
            return
        self._lifting.begin(number)
        self._line.most = self._lifting.lines
        self._line.put(1)
        self._redraw(f"Form {number}. Prop one edge and press.")

    @guarded
    def _another(self, _button: Button) -> None:
        self._number.put(self._lifting.number % 9999 + 1)

    @guarded
    def _offer(self, _change: Any = None) -> None:
        self._line.disabled = self._what.value not in _ON_A_LINE
        self._piece.disabled = self._what.value not in (_PUT_IN, _TAKE_OUT)

    @guarded
    def _lift(self, _button: Button) -> None:
        if self._lifting.condition.slack:
            self._redraw(SLACK)
            return
        lifted = self._lifting.lift()
        self._redraw(lifted_words(lifted, self._lifting.lines), lifted=True)

    @guarded
    def _do(self, _button: Button) -> None:
        lifting, piece = self._lifting, self._piece.value
        try:
            line = 0 if self._line.disabled else self._line.number - 1
        except ValueError as error:
            self.refuse(str(error))
            return
        words = {
            _PUT_IN: lambda: lifting.put_in(line, piece),
            _TAKE_OUT: lambda: lifting.take_out(line, piece),
            _CUT: lambda: lifting.cut_the_lead(line),
            _FREE: lifting.free_the_wood,
            _SLACKEN: lifting.slacken,
            _TIGHTEN: lifting.tighten,
        }[self._what.value]()
        ready = lifting.lifted is None and not lifting.condition.slack
        self._redraw(f"{words} Lift again." if ready and words != TIGHT else words)

    @guarded
    def _undo(self, _button: Button) -> None:
        self._redraw("Taken back." if self._lifting.undo() else "There is nothing to take back.")

    @guarded
    def _advise(self, _button: Button) -> None:
        told = "".join(f"<li>{escape(words)}</li>" for words in self._lifting.advice())
        told = f'<p>What would mend it:</p><ul class="stonework-findings">{told}</ul>'
        self._redraw("What would mend it stands beside the picture.", more=told)

    def _redraw(self, words: str, *, lifted: bool = False, more: str = "") -> None:
        lifting = self._lifting
        dropped = lifting.lifted.dropped if lifting.lifted else ()
        seen = f"A form of {lifting.lines} lines of 12 points, {MEASURE / 12:g} picas wide. {lifting.words}"
        if lifting.condition.long_lead is not None:
            seen += f" The lead below line {lifting.condition.long_lead + 1} sticks out a little at both ends."
        self._lift_view.draw(MEASURE, BODY, lifting.spaces, dropped, lifting.condition.long_lead, seen)
        holds = lifted and lifting.lifted is not None and lifting.lifted.holds
        felt = "".join(f"<li>{escape(line)}</li>" for line in lifting.felt())
        asked = "At the last lift your fingers found" if lifting.condition.slack else "Try it with your fingers"
        felt = f'<p>{asked}:</p><ul class="stonework-findings">{felt}</ul>' if felt else ""
        self.show(words, f"<p>{escape(seen)}</p>{felt}{more}", refused=lifted and not holds)
        if holds:
            self._status.value = status(words, RIGHT)
