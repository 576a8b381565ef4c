"""A panel to lay pieces on the stone: which side, which piece, lay it, take it off again."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import Any

from ipywidgets import Button, Dropdown

from stonework.laying import Bench
from stonework.lockup import SIDES, Lockup, along_x
from stonework.panels.common import NAMED, PlanPanel, button, guarded
from stonework.shop import Material
from stonework.units import write_length

_QUOINS = "row of quoins"


class StonePanel(PlanPanel):
    """The controls of a bench; whoever builds on it says what is shown after each step, in ``redraw``."""

    def __init__(
        self,
        bench: Bench,
        controls: Sequence[Any] = (),
        buttons: Sequence[Any] = (),
        **rest: Sequence[Any],
    ) -> None:
        self._bench = bench
        self._side = Dropdown(options=SIDES, description="Side", style=NAMED)
        self._kind = Dropdown(options=["furniture", "reglet", _QUOINS], description="Piece", style=NAMED)
        self._thickness = Dropdown(description="Thickness", style=NAMED)
        self._length = Dropdown(description="Length", style=NAMED)
        self._lean = Dropdown(description="Toward", style=NAMED)
        steps = [
            button("Lay this piece", self._lay),
            button("Take one off this side", self._take_off),
            button("Take it back", self._take_back),
            button("Clear the stone", self._clear),
        ]
        pieces = [self._side, self._kind, self._thickness, self._length, self._lean]
        super().__init__([*controls, *pieces], [*steps, *buttons], **rest)
        self._kind.observe(self._offer, "value")
        self._side.observe(self._offer_leans, "value")
        self._offer()
        self._offer_leans()

    @property
    def lockup(self) -> Lockup:
        """The record of what lies on the stone."""
        return self._bench.lockup()

    @abstractmethod
    def redraw(self, words: str) -> None:
        """Show the stone after something was done; ``words`` say what."""

    def ready(self) -> bool:
        """Say whether pieces can be laid; if not, the panel says why."""
        return True

    @guarded
    def _offer_leans(self, _change: Any = None) -> None:
        low, high = ("the left", "the right") if along_x(self._side.value) else ("the foot", "the head")
        before = self._lean.value or "middle"
        self._lean.options = [("the middle", "middle"), (low, "low"), (high, "high")]
        self._lean.value = before

    @guarded
    def _offer(self, _change: Any = None) -> None:
        """Offer the sizes the cabinet has of the kind chosen."""
        sizes = [m for m, count in self._bench.shop.stock.items() if count and m.kind == self._kind.value]
        for control, lengths in (
            (self._thickness, {m.thickness for m in sizes}),
            (self._length, {m.length for m in sizes}),
        ):
            before = control.value
            control.options = [(write_length(length), length) for length in sorted(lengths)]
            control.value = before if before in lengths else min(lengths, default=None)
            control.disabled = not lengths
        self._lean.disabled = self._kind.value == _QUOINS

    @guarded
    def _lay(self, _button: Button) -> None:
        if not self.ready():
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
        self.redraw(done + self._slid(stood))

    @guarded
    def _take_off(self, _button: Button) -> None:
        side, stood = self._side.value, self.lockup.form
        layer = self._bench.take_off(side)
        if layer is None:
            self.redraw(f"Nothing lies on the {side}.")
            return
        what = "the quoins" if layer.kind == "quoin" else f"{layer.kind} {write_length(layer.thickness)}"
        self.redraw(f"Took {what} off the {side}.{self._slid(stood)}")

    @guarded
    def _take_back(self, _button: Button) -> None:
        if not self._bench.can_take_back:
            self.redraw("There is nothing to take back.")
            return
        self._bench.take_back()
        self.taken_back()
        self.redraw("Taken back.")

    def taken_back(self) -> None:
        """Follow what was taken back with other controls; there may be none."""

    @guarded
    def _clear(self, _button: Button) -> None:
        self._bench.clear()
        self.redraw("Everything is off the stone. “Take it back” brings it back.")

    def _slid(self, stood: Any) -> str:
        return " The form slid against it." if self.lockup.form != stood else ""
