"""A measured form."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Form:
    """A form of type as measured on the stone, in points.

    Raises ``ValueError`` when a side isn't a length above nothing.
    """

    width: float
    height: float

    def __post_init__(self) -> None:
        for name, value in (("width", self.width), ("height", self.height)):
            if not (math.isfinite(value) and value > 0):
                raise ValueError(f"A form's {name} was given as {value} pt; it must be more than nothing.")
