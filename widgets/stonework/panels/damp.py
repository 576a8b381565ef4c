"""The *damp* panel: how many points a stack of wood grows or shrinks between one day and another."""

from __future__ import annotations

from html import escape

from ipywidgets import Dropdown

from stonework.panels.asking import NAMED, length_box
from stonework.panels.common import LivePanel
from stonework.panels.numbers import NumberBox
from stonework.pressing import WOODS, equilibrium_moisture, moisture_growth
from stonework.units import read_length, write_length


class DampPanel(LivePanel):
    """Wood of a thickness, air of two days; the least and the most that the stack changes."""

    def __init__(self, thickness: str = "10 picas") -> None:
        self._thickness = length_box(thickness, "Wood in the gap, together")
        self._wood = Dropdown(options=list(WOODS), description="Kind of wood", style=NAMED)
        self._before = NumberBox(40, 30, 70, "Damp of the air then, %", parts=True)
        self._after = NumberBox(60, 30, 70, "Damp of the air now, %", parts=True)
        super().__init__([self._thickness, self._wood, self._before, self._after], None, "damp")

    def __repr__(self) -> str:
        air = f"{self._before.value} to {self._after.value} %"
        return f"<damp: {self._thickness.value} of {self._wood.value}, {air}>"

    def answer(self) -> None:
        """Say how far the stack grows or shrinks."""
        thickness = read_length(self._thickness.value)
        before, after = (equilibrium_moisture(21, control.number) for control in (self._before, self._after))
        wood = WOODS[self._wood.value]
        least, most = (moisture_growth(thickness, coefficient, before, after) for coefficient in wood)
        way = "grows" if most > 0 else "shrinks"
        low, high = sorted((abs(least), abs(most)))
        self.show(
            f"In time the stack {way} by {low:.1f} to {high:.1f} points." if high else "The stack stays as it is.",
            f"<p>{escape(_told(before, after))}</p><p>{escape(_why(thickness, high))}</p>",
        )


def _told(before: float, after: float) -> str:
    return (
        f"In such air wood comes to hold {before:.1f} % of its weight in water, and {after:.1f} % now. Thin sticks "
        "follow the air in days. Thick ones take longer than a week, and are still on their way when the weather "
        "turns: so these figures are the most it may come to. Wood swells more one way of its rings than the other, "
        "and nobody sorts furniture by that: so there are two of them."
    )


def _why(thickness: float, most: float) -> str:
    if not most:
        return f"Over {write_length(thickness)} of wood, the same air twice changes nothing."
    compared = "more than a lead" if most > 2 else "less than a lead"
    return f"Over {write_length(thickness)} of wood that is {compared} of 2 points, with no one touching the quoins."
