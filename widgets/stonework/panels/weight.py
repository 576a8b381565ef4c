"""The *weight* panel: about how heavy the type in a form is, before anyone lifts it."""

from __future__ import annotations

from ipywidgets import Dropdown

from stonework.drawing.form_words import weight_facts
from stonework.form import Form
from stonework.panels.common import NAMED, LivePanel, length_box
from stonework.shop import Shop
from stonework.units import read_length, write_weight

_SET = {"solid": False, "with leads": True}


class WeightPanel(LivePanel):
    """A form's size, solid or leaded; the trade's rule, and what a block of metal would weigh."""

    def __init__(self, shop: Shop, width: str = "27 picas", height: str = "17 picas") -> None:
        self._shop = shop
        self._width = length_box(width, "Form width")
        self._height = length_box(height, "Form height")
        self._set = Dropdown(options=list(_SET), description="Set", style=NAMED)
        super().__init__([self._width, self._height, self._set], None, "weight")

    def __repr__(self) -> str:
        return f"<weight: {self._width.value} × {self._height.value}, {self._set.value}>"

    def answer(self) -> None:
        """Say what the form weighs."""
        form = Form(read_length(self._width.value), read_length(self._height.value))
        leaded = _SET[self._set.value]
        self.show(
            f"About {write_weight(form.weight(leaded=leaded))} of type, by the trade's rule.",
            weight_facts(form, leaded=leaded, shop=self._shop),
        )
