"""A panel shown once more, beside words further down that ask for it."""

from __future__ import annotations

from typing import Any

from ipywidgets import VBox


class Again(VBox):
    """The same panel a second time, without its long facts: what is done in one is seen in the other."""

    def __init__(self, panel: Any) -> None:
        self._panel = panel
        super().__init__([panel])
        self.add_class("stonework-again")

    def __repr__(self) -> str:
        return f"<once more {repr(self._panel).removeprefix('<')}"
