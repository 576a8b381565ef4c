"""The *thrust* panel: how high the furniture is, and where it pushes against the type."""

from __future__ import annotations

from html import escape

from stonework.drawing.thrust import ThrustView, thrust_words
from stonework.panels.asking import length_box
from stonework.panels.common import NUMBERS, LivePanel
from stonework.pressing import ASSUMED, line_of_thrust
from stonework.units import read_length, write_length


class ThrustPanel(LivePanel):
    """The height of the furniture; whether its push keeps to the middle third of the type."""

    def __init__(self, height: str = "5/8 in") -> None:
        self._height = length_box(height, "Height of the furniture")
        self._thrust_view = ThrustView(f"thrust-{next(NUMBERS)}")
        super().__init__([self._height], self._thrust_view, "thrust")

    def __repr__(self) -> str:
        return f"<thrust: furniture {self._height.value} high>"

    def answer(self) -> None:
        """Draw the form from the side and say where the push meets it."""
        height = read_length(self._height.value)
        if not 6 <= height <= ASSUMED.type_height:
            raise ValueError(
                f"Furniture was read as {write_length(height)} high; it is lower than type, which is "
                f"{write_length(ASSUMED.type_height)}, and higher than a reglet is thick."
            )
        self._thrust_view.draw(height)
        inside = line_of_thrust(height) <= 1
        words = (
            "keeps within the middle third" if inside else "lies below the middle third: tighten less, and try the lift"
        )
        self.show(f"The push {words}.", f"<p>{escape(thrust_words(height))}</p>")
