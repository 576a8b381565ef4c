"""The *weight* panel: how heavy a form, or a whole lockup, can be, before anyone lifts it."""

from __future__ import annotations

from typing import Any

from stonework.drawing.form_words import load_facts, lockup_weight_words, weight_facts
from stonework.form import Form
from stonework.panels.asking import length_box, name_box
from stonework.panels.common import Panel, guarded
from stonework.shop import Shop
from stonework.units import read_length, write_weight


class WeightPanel(Panel):
    """A form's size or a saved lockup's name; the most it can weigh, and how that was worked out."""

    def __init__(self, shop: Shop, width: str = "27 picas", height: str = "17 picas") -> None:
        self._shop = shop
        self._width = length_box(width, "Form width")
        self._height = length_box(height, "Form height")
        self._name, opening = name_box("a saved lockup", "Open it", self._open)
        super().__init__([self._width, self._height], [self._name, opening], None, "weight")
        for box in (self._width, self._height):
            box.observe(self._weigh_form, "value")
        self._weigh_form()

    def __repr__(self) -> str:
        return f"<weight: {self._weighed}>"

    @guarded
    def _weigh_form(self, _change: Any = None) -> None:
        self._weighed = "nothing"
        try:
            form = Form(read_length(self._width.value), read_length(self._height.value))
        except ValueError as error:
            self.refuse(str(error))
            return
        self._weighed = f"{self._width.value} × {self._height.value}"
        self.show(f"At most about {write_weight(form.solid_metal)} of type.", weight_facts(form, self._shop))

    @guarded
    def _open(self, _button: Any) -> None:
        if lockup := self.open_named(self._shop, self._name.value):
            self._weighed = f"lockup “{self._name.value.strip()}”"
            self.show(lockup_weight_words(lockup, self._shop), load_facts(lockup, self._shop))
