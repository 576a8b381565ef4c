"""The *tightening* panel: turn quoins one by one, see the form cock and come true, and compare two orders."""

from __future__ import annotations

import functools
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, Text

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.pressure import PressureView, cocked_words, state_words
from stonework.drawing.skew_plot import SkewPlot
from stonework.exercises.turning import OWN, TURNS, Turning
from stonework.form import Form
from stonework.lockup import Lockup
from stonework.panels.common import NAMED, NUMBERS, REFUSED, Panel, button, chase_of, guarded, opened_whole, row, status
from stonework.shop import Shop
from stonework.units import read_length

_NONE, _FIRST = "nothing", "alternating quarter turns"


class TighteningPanel(Panel):
    """A lockup with its quoins finger-tight; a button each way for every quoin, undo, and orders to play."""

    def __init__(self, shop: Shop, width: str = "24 picas", height: str = "30 picas", chase: str = "10 × 15") -> None:
        form = Form(read_length(width), read_length(height))
        try:
            lockup = choose_lockup(form, chase_of(shop, chase), shop)
        except NoLockup as error:
            super().__init__([], [], None, "tightening")
            self._turning = None
            self.refuse(f"This shop has no lockup for a form {width} wide and {height} high. {error}")
            return
        self._shop = shop
        self._order = Dropdown(description="Order to play", style=NAMED)
        self._plotted = Dropdown(description="Plot", style=NAMED)
        self._against = Dropdown(description="against", style=NAMED)
        self._name = Text("", placeholder="a saved lockup", description="Name of the lockup", style=NAMED)
        self._keys = row([], "stonework-buttons")
        self._take(lockup)
        self._pressure = PressureView(f"pressure-{next(NUMBERS)}")
        self._plot_view = SkewPlot(f"skew-{next(NUMBERS)}")
        self._plot = HTML()
        self._plot.add_class("stonework-plot")
        steps = [
            button("Undo", self._undo),
            button("Begin again", self._begin_again),
            button("Play the next turn", self._play),
            button("Play to the end", self._play_all),
        ]
        super().__init__(
            [self._order, self._plotted, self._against],
            steps,
            self._pressure,
            "tightening",
            above=[row([self._name, button("Open it", self._open)], "stonework-buttons")],
            more_buttons=[self._keys],
            after=[self._plot],
        )
        self._plotted.observe(self._compare, "value")
        self._against.observe(self._compare, "value")
        self._redraw("All quoins are finger-tight. Give one of them a quarter turn.")

    def _take(self, lockup: Lockup) -> None:
        """Put a lockup on the stone, its quoins finger-tight, and offer its turns and orders."""
        turning = Turning(lockup)
        ways = turning.tightening.ways
        self._turning = turning
        for control, options, first in (
            (self._order, ways, _FIRST),
            (self._plotted, (OWN, *ways), OWN),
            (self._against, (_NONE, *ways), _NONE),
        ):
            control.options = options
            control.value = first
        self._keys.children = [
            button(f"{word} {n}", functools.partial(self._turn, n - 1, by))
            for n in range(1, len(turning.names) + 1)
            for word, by in (("Tighten", 1), ("Loosen", -1))
        ]

    @guarded
    def _open(self, _button: Button) -> None:
        try:
            lockup = opened_whole(self._shop, self._name.value)
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)
            return
        self._take(lockup)
        self._redraw(f"Opened “{self._name.value.strip()}”. All quoins are finger-tight.")

    def __repr__(self) -> str:
        turning = self._turning
        if turning is None:
            return "<tightening: no lockup>"
        return f"<tightening: turns {'-'.join(map(str, turning.turned))}; {cocked_words(turning.state)[:-1]}>"

    @guarded
    def _turn(self, quoin: int, by: int, _button: Any = None) -> None:
        done = self._turning.turn(quoin, by)
        name, turned = self._turning.names[quoin], self._turning.turned[quoin]
        if done:
            self._redraw(f"Quoin {quoin + 1}, {name}: {turned} of {TURNS} quarter turns.")
        elif by > 0:
            self._redraw(f"Quoin {quoin + 1}, {name}, has had its {TURNS} turns; here no quoin gets more.")
        else:
            self._redraw(f"Quoin {quoin + 1}, {name}, is finger-tight: looser, it would fall out.")

    @guarded
    def _undo(self, _button: Button) -> None:
        self._redraw("Taken back." if self._turning.undo() else "There is nothing to take back.")

    @guarded
    def _begin_again(self, _button: Button) -> None:
        self._turning.begin_again()
        self._redraw("All quoins are finger-tight again.")

    @guarded
    def _play(self, _button: Button) -> None:
        if self._turning.play(self._turning.order(self._order.value)):
            quoin = self._turning.done[-1][0]
            self._redraw(
                f"Turn {len(self._turning.done)}, {self._order.value}: quoin {quoin + 1}, {self._turning.names[quoin]}."
            )
        else:
            self._redraw("This order is played to its end: every quoin is home.")

    @guarded
    def _play_all(self, _button: Button) -> None:
        while self._turning.play(self._turning.order(self._order.value)):
            pass
        self._redraw(f"Played to the end: {self._order.value}.")

    @guarded
    def _compare(self, _change: Any) -> None:
        self._draw_plot()

    def _redraw(self, words: str) -> None:
        turning, state = self._turning, self._turning.state
        self._pressure.draw(turning.lockup, state, turning.names, turning.rise)
        rows = "".join(
            f'<tr><th scope="row">{n}: {escape(name)}</th><td>{turned} of {TURNS}</td><td>{_roughly(force)}</td></tr>'
            for n, (name, turned, force) in enumerate(zip(turning.names, turning.turned, state.forces, strict=True), 1)
        )
        head = "".join(f'<th scope="col">{name}</th>' for name in ("Quoin", "Quarter turns", "Pushes about"))
        self.show(
            f"{words} {cocked_words(state)}",
            f"<p>{escape(state_words(state, turning.names, turning.rise))}</p>"
            f'<table class="stonework-table"><caption>The quoins; pushes are good to a factor of two or three</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table><p>At worst so far: {turning.worst:.2f} "
            f"points cocked.</p><details><summary>What else the push does</summary>{push_words(turning)}</details>",
            refused=state.loose,
        )
        self._draw_plot()

    def _draw_plot(self) -> None:
        turning = self._turning
        names = dict.fromkeys((self._plotted.value, self._against.value))
        orders = {name: turning.skews if name == OWN else turning.walks[name].skews for name in names if name != _NONE}
        self._plot_view.draw(orders)
        self._plot.value = f"{self._plot_view.svg()}<p>{escape(self._plot_view.words)}</p>"


def push_words(turning: Turning) -> str:
    """Return what the push does besides, as HTML; each figure is good to a factor of two or three at best."""
    told = (
        f"Friction at its sides could hold the form about {float(f'{turning.held:.1g}'):g} times over. But lines drop, "
        "not forms: only a trial lift tells.",
        "The wood is lower than the type and pushes low, so the form's middle rises: by the model about "
        f"{turning.rise:.1f} points.",
        f"If the chase were of iron bars 3/4 inch thick, its rails would bow about {turning.bow:.1f} points. That "
        "gives room where the wood should press. It says nothing of what a chase bears.",
    )
    return "".join(f"<p>{escape(words)}</p>" for words in told)


def _roughly(newtons: float) -> str:
    """Return a push to two figures: more would claim more than the model knows."""
    return "nothing" if newtons < 1 else f"{float(f'{newtons:.2g}'):g} N"
