"""Boxes for numbers, read as they are typed: what can't be read is said, and nothing jumps to another number."""

from __future__ import annotations

import math
from typing import Any

from ipywidgets import Text

from stonework.panels.asking import NAMED
from stonework.saying import shown


class NumberBox(Text):
    """A box for a number from ``least`` to ``most``, a whole one unless ``parts`` may be given."""

    def __init__(self, number: float, least: float, most: float, name: str, *, parts: bool = False) -> None:
        self.least, self.most, self._parts = least, most, parts
        super().__init__(written(number), description=name, continuous_update=False, style=NAMED)

    @property
    def number(self) -> Any:
        """What is typed, as an ``int``, or a ``float`` where parts may be given.

        Raises ``ValueError`` with a sentence that says what was read and what is needed.
        """
        read = self.value.strip().replace("−", "-")
        try:
            number = float(read) if "_" not in read else math.nan  # Python's own way of parting digits
        except ValueError:
            number = math.nan
        if not self.least <= number <= self.most or (number % 1 and not self._parts):
            kind = "number" if self._parts else "whole number"
            raise ValueError(
                f"{self.description}: “{shown(read, 20)}” was typed; a {kind} from {written(self.least)} to "
                f"{written(self.most)} is needed."
            )
        return number if self._parts else int(number)

    def put(self, number: float) -> None:
        """Write a number into the box."""
        self.value = written(number)


def written(number: float) -> str:
    """Return a number as it would be typed."""
    return f"{round(number, 2):g}"
