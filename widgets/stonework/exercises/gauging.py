"""A practice form and its gauge: lay it along an edge, read it, and be answered."""

from __future__ import annotations

from stonework.exercises.measure_the_form import gauge_reading, practice_form
from stonework.exercises.question import Outcome, Variant
from stonework.form import SQUARE
from stonework.moving import Edge
from stonework.units import read_length, write_length

EDGES: tuple[Edge, ...] = ("head", "foot", "left", "right")
_ACROSS: dict[Edge, Edge] = {"head": "foot", "foot": "head", "left": "right", "right": "left"}


class Gauging:
    """One form, drawn from its number, the edge that the gauge lies along, and what was read right so far."""

    def __init__(self, number: int = 1, edge: Edge = "head") -> None:
        self.edge = edge
        self.begin(number)

    def begin(self, number: int) -> None:
        """Take another form; what was read of the one before is forgotten."""
        self.number, self.edges = number, practice_form(number)
        self.read: dict[Edge, float] = {}

    @property
    def question(self) -> Variant[float]:
        """What the gauge says along this edge."""
        return gauge_reading(self.edges, self.edge)

    def answer(self, text: str) -> Outcome:
        """Say how a reading stands, and what two opposite edges read right tell together."""
        outcome = self.question.check(text)
        if outcome.standing != "right":
            return outcome
        self.read[self.edge] = read_length(text)
        return Outcome("right", f"{outcome.words} {self._compared()}")

    def _compared(self) -> str:
        across = _ACROSS[self.edge]
        if across not in self.read:
            return f"Now lay the gauge along the {across}: do both agree?"
        mine, other = getattr(self.edges, self.edge), getattr(self.edges, across)
        off = abs(mine - other)
        if off <= SQUARE:
            return f"It agrees with the {across}."
        return f"But the {across} is {write_length(other)}: the form is out of square by {write_length(off)}."
