"""A fold: a button that opens something and closes it again, from the keyboard too."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ipywidgets import Button, VBox

from stonework.panels.asking import button


class Fold(VBox):
    """``what`` hidden until its button is pressed; ``opening`` is called before it is shown."""

    def __init__(self, name: str, what: Any, opening: Callable[[], None] | None = None) -> None:
        self._name, self._what, self._opening = name, what, opening
        self._turning = button("", self._turn)
        super().__init__([self._turning, what])
        self.add_class("stonework-fold")
        self._set(False)

    def _set(self, opened: bool) -> None:
        self._what.layout.display = "" if opened else "none"
        self._turning.description = f"{'▾ Close' if opened else '▸ Open'} {self._name}"

    @property
    def opened(self) -> bool:
        """Whether what it holds is shown."""
        return self._what.layout.display != "none"

    def _turn(self, _button: Button) -> None:
        opened = not self.opened
        if opened and self._opening:
            self._opening()
        self._set(opened)
