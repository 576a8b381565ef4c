"""The *line gauge* panel: lay the gauge along an edge of a form, read it, and be answered."""

from __future__ import annotations

from html import escape
from typing import Any

from ipywidgets import Button, Dropdown, Text

from stonework.drawing.gauge import GaugeView
from stonework.exercises.gauging import EDGES, Gauging
from stonework.panels.asking import NAMED, button, when_entered
from stonework.panels.common import NUMBERS, REFUSED, RIGHT, Panel, guarded, status
from stonework.panels.numbers import NumberBox
from stonework.units import write_length

_MOST = 9999


class GaugePanel(Panel):
    """A form from its number, a gauge along the edge chosen, and a reading to check."""

    def __init__(self, number: int = 1) -> None:
        self._gauging = Gauging(number)
        self._number = NumberBox(number, 1, _MOST, "Form number")
        self._edge = Dropdown(options=EDGES, description="Edge", style=NAMED)
        self._reading = Text("", description="Your reading, with its unit", style=NAMED)
        self._gauge_view = GaugeView(f"gauge-{next(NUMBERS)}")
        self._hints = 0
        buttons = [
            button("Check the reading", self._check),
            button("A hint", self._hint),
            button("Another form", self._another),
        ]
        super().__init__([self._number, self._edge, self._reading], buttons, self._gauge_view, "gauge")
        self._number.observe(self._begin, "value")
        self._edge.observe(self._lay, "value")
        self._reading.observe(self._changed, "value")
        when_entered(self._reading, self._check)
        self._redraw("Read the gauge where the edge ends, type what you read, and press Enter.")

    def __repr__(self) -> str:
        gauging = self._gauging
        return f"<line gauge: form {gauging.number}, {gauging.edge} edge; {len(gauging.read)} of 4 read>"

    def _redraw(self, words: str) -> None:
        self._gauge_view.draw(self._gauging.edges, self._gauging.edge)
        rows = "".join(f'<tr><th scope="row">{edge}</th><td>{self._read_so_far(edge)}</td></tr>' for edge in EDGES)
        self.show(
            words,
            f'<table class="stonework-table"><caption>What you have read of form {self._gauging.number}</caption>'
            f'<thead><tr><th scope="col">Edge</th><th scope="col">Length</th></tr></thead><tbody>{rows}</tbody></table>'
            f"<details><summary>The picture in words</summary><p>{escape(self._gauge_view.words)}</p></details>",
        )

    def _read_so_far(self, edge: Any) -> str:
        return write_length(self._gauging.read[edge]) if edge in self._gauging.read else "not yet"

    @guarded
    def _begin(self, _change: Any) -> None:
        try:
            self._gauging.begin(self._number.number)
        except ValueError as error:
            self.refuse(str(error))
            return
        self._clear(f"Form {self._number.value}. Where does its {self._gauging.edge} edge end?")

    @guarded
    def _another(self, _button: Button) -> None:
        self._number.put(self._gauging.number % _MOST + 1)

    @guarded
    def _lay(self, _change: Any) -> None:
        self._gauging.edge = self._edge.value
        self._clear(f"The gauge lies along the {self._edge.value} edge. Where does it end?")

    @guarded
    def _hint(self, _button: Button) -> None:
        hints = self._gauging.question.hints
        self._hints = min(self._hints + 1, len(hints))
        self._status.value = status(f"Hint {self._hints} of {len(hints)}. {hints[self._hints - 1]}")

    def _clear(self, words: str) -> None:
        self._hints = 0
        self._reading.value = ""
        self._redraw(words)

    @guarded
    def _changed(self, _change: Any) -> None:
        self._status.value = status("Press Enter, or Check the reading, when you have written it.")

    @guarded
    def _check(self, _button: Any = None) -> None:
        outcome = self._gauging.answer(self._reading.value)
        self._redraw(outcome.words)
        kind = {"right": RIGHT, "not yet": REFUSED}.get(outcome.standing, "")
        self._status.value = status(outcome.words, kind)
