"""The *tightening* panel: turn quoins one by one, see the form cock and come true, and compare two orders."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown

from stonework.drawing.pressure import PressureView, cocked_words, numbered_quoins, rise_words, state_words
from stonework.drawing.skew_plot import SkewPlot
from stonework.drawing.touching import Touch
from stonework.exercises.turning import OWN, Turning
from stonework.lockup import Lockup
from stonework.panels.asking import NAMED, button, first_lockup, name_box, row, step_by_key
from stonework.panels.common import NUMBERS, REFUSED, Panel, guarded, status
from stonework.panels.lockups import opened
from stonework.rounds import Rounds
from stonework.shop import Shop
from stonework.tightening import ROTATION

_NONE = "nothing"


class TighteningPanel(Panel):
    """A lockup with its quoins finger-tight; a button each way for every quoin, undo, and orders to play."""

    turned: Callable[[tuple[tuple[int, int], ...]], None] | None = None
    """Hears of every turn: all of those given so far."""

    def __init__(
        self,
        shop: Shop,
        width: str = "28 picas",
        height: str = "34 picas",
        chase: str = "10 × 15",
        *,
        lockup: Lockup | None = None,
    ) -> None:
        try:
            turning = Turning(lockup or first_lockup(shop, width, height, chase), shop)
        except ValueError as error:
            super().__init__([], [], None, "tightening")
            self._turning = None
            none = f"This shop has no lockup to tighten for a form {width} wide and {height} high. "
            self.refuse(f"{'' if lockup else none}{error}")
            return
        self._shop = shop
        self._order = Dropdown(description="Order to play", style=NAMED)
        self._plotted = Dropdown(description="Plot", style=NAMED)
        self._against = Dropdown(description="against", style=NAMED)
        self._name, opening = name_box("a saved lockup", "Open it", self._open)
        self._keys = row([], "stonework-buttons")
        self._take(turning)
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
        self._on = steps[2]
        step_by_key(back=steps[0], on=self._on)
        files = row([self._name, opening], "stonework-buttons")
        super().__init__(
            [self._order, self._plotted, self._against],
            steps,
            self._pressure,
            "tightening",
            above=[files],
            more_buttons=[self._keys],
            before_facts=[self._plot],
        )
        self.own_files = [files]
        self._plotted.observe(self._compare, "value")
        self._against.observe(self._compare, "value")
        self._redraw("All quoins are finger-tight. Give one of them a small turn.")

    def _take(self, turning: Turning) -> None:
        """Put a lockup on the stone, its quoins finger-tight, and offer its turns and orders."""
        ways = turning.tightening.ways
        self._turning = turning
        for control, options, first in (
            (self._order, ways, ROTATION),
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
            lockup, changed = opened(self._shop, self._name.value)
            turning = Turning(lockup, self._shop)
        except ValueError as error:
            self._status.value = status(f"{error} On the stone is still the lockup before.", REFUSED)
            return
        self._take(turning)
        self._redraw(f"Opened “{self._name.value.strip()}”. All quoins are finger-tight. {changed}".rstrip())

    @property
    def ready(self) -> bool:
        """Whether there is a lockup to tighten."""
        return self._turning is not None

    def take_up(self, lockup: Lockup, turns: Sequence[tuple[int, int]] = ()) -> None:
        """Put a lockup on the stone with the small turns given so far; ``ValueError`` if it isn't ready for any."""
        turning = Turning(lockup, self._shop)
        for quoin, by in turns:
            if quoin < len(turning.names):
                turning.turn(quoin, by)
        self._take(turning)
        self._redraw("The quoins stand as they were left." if turns else "All quoins are finger-tight.")

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
            self._redraw(f"Quoin {quoin + 1}, {name}: {_turns(turned)}.")
        elif by > 0:
            self._redraw(
                f"Quoin {quoin + 1}, {name}, stands after {_turns(turned)} a point before its last notch, and gets no "
                "more. Slacken it, and put in wood.",
                refused=True,
            )
        else:
            self._redraw(f"Quoin {quoin + 1}, {name}, is finger-tight: looser, it would fall out.")

    def touches(self) -> list[Touch]:
        """Return the quoins: a click turns one tighter, the arrow keys either way."""
        return [
            Touch(
                *(f"quoin {n}", f"Quoin {n + 1}, {name}: Enter tightens it, the left arrow loosens it"),
                *(item.x, item.y, item.width, item.height, True),
            )
            for n, (item, name) in enumerate(
                zip(numbered_quoins(self._turning.lockup), self._turning.names, strict=True)
            )
        ]

    def touched(self, words: str, way: str) -> None:
        """Turn a quoin."""
        what, _, number = words.partition(" ")
        if what == "quoin" and number.isdecimal() and int(number) < len(self._turning.names) and "by" not in way:
            self._turn(int(number), -1 if way in ("left", "down", "off") else 1)

    @guarded
    def _undo(self, _button: Button) -> None:
        self._redraw("Taken back." if self._turning.undo() else "There is nothing to take back.")

    @guarded
    def _begin_again(self, _button: Button) -> None:
        self._turning.begin_again()
        self._redraw("All quoins are finger-tight again.")

    @guarded
    def _play(self, _button: Button) -> None:
        self.working("Trying every order …")
        if self._turning.play(self._turning.order(self._order.value)):
            quoin = self._turning.done[-1][0]
            self._redraw(
                f"Turn {len(self._turning.done)}, {self._order.value}: quoin {quoin + 1}, {self._turning.names[quoin]}."
            )
        else:
            self._redraw(f"This order is played to its end. {self._enough}")
            self._on.disabled = True

    @guarded
    def _play_all(self, _button: Button) -> None:
        self.working("Trying every order …")
        given = list(self._turning.done)
        while self._turning.play(self._turning.order(self._order.value)):
            pass
        back = "" if self._turning.done[: len(given)] == given else " Other turns given before were taken back first."
        self._redraw(f"Played to the end: {self._order.value}. {self._enough}{back}")

    @property
    def _enough(self) -> str:
        """What to do once an order is played to its end."""
        return f"Each has had {_turns(self._turning.rounds.wanted)}: by the model it's time to try the lift."

    @guarded
    def _compare(self, _change: Any) -> None:
        self._draw_plot()

    def _redraw(self, words: str, *, refused: bool = False) -> None:
        turning, state = self._turning, self._turning.state
        self._on.disabled = False
        self._pressure.draw(turning.lockup, state, turning.names, turning.rise)
        rows = "".join(
            f'<tr><th scope="row">{n}: {escape(name)}</th><td>{turned}, room for {room}</td><td>{_roughly(force)}</td>'
            "</tr>"
            for n, (name, turned, room, force) in enumerate(
                zip(turning.names, turning.turned, turning.rounds.room, state.forces, strict=True), 1
            )
        )
        head = "".join(f'<th scope="col">{name}</th>' for name in ("Quoin", "Small turns", "Pushes about"))
        risen = f" But {rise_words(turning.rise)} Slacken the quoins." if turning.rises else ""
        self.show(
            f"{words} {cocked_words(state)}{risen}",
            f"<p>{escape(state_words(state, turning.names, turning.rise))}</p>"
            f'<table class="stonework-table"><caption>The quoins; pushes are good to a factor of two or three</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table><p>At worst so far: {turning.worst:.2f} "
            f"points cocked.</p><p>{escape(small_turn_words(turning.rounds))}</p>"
            f"<details><summary>What else the push does</summary>{push_words(turning)}</details>",
            refused=refused or state.loose or turning.rises,
        )
        self._draw_plot()
        if self.turned:
            self.turned(tuple(turning.done))

    def _draw_plot(self) -> None:
        turning = self._turning
        names = dict.fromkeys((self._plotted.value, self._against.value))
        orders = {name: turning.skews if name == OWN else turning.walks[name].skews for name in names if name != _NONE}
        self._plot_view.draw(orders)
        self._plot.value = f"{self._plot_view.svg()}<p>{escape(self._plot_view.words)}</p>"


def small_turn_words(rounds: Rounds) -> str:
    """Say how the keys move for a small turn, and how many rounds are likely to be wanted."""
    several = f"{rounds.wanted} rounds" if rounds.wanted > 1 else "1 round"
    words = (
        f"A small turn opens a quoin half a point ({'; '.join(rounds.keys)}). By the model the trial lift passes after "
        f"about {several} of them; there is room for {min(rounds.room)}."
    )
    if rounds.askew:
        words = f"{rounds.askew} {words}"
    if rounds.rising is None:
        return words
    if rounds.rising > rounds.wanted:
        words += f" Past that it begins to rise, at round {rounds.rising}: stop when the lift holds."
    else:
        words += f" By then it begins to rise, at round {rounds.rising}: look under it, and give no more than it needs."
    return words


def _turns(number: int) -> str:
    return "1 small turn" if number == 1 else f"{number} small turns"


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
