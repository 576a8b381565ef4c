"""The *square* panel: four edges of a form, whether they agree, and what makes it square."""

from __future__ import annotations

from ipywidgets import Dropdown

from stonework.drawing.form_words import square_facts, square_outcome
from stonework.drawing.squareness import SquareView
from stonework.form import Edges
from stonework.moving import mend
from stonework.panels.asking import NAMED, length_box, set_quietly
from stonework.panels.common import NUMBERS, LivePanel
from stonework.shop import Shop
from stonework.units import read_length, write_length

_EDGES = ("head", "foot", "left", "right")


class SquarePanel(LivePanel):
    """Four readings in any unit; the form drawn with its fault enlarged, and the leads or spaces it wants."""

    def __init__(self, shop: Shop, head: str, foot: str, left: str, right: str) -> None:
        self._shop = shop
        self._edges = {
            name: length_box(value, name.capitalize())
            for name, value in zip(_EDGES, (head, foot, left, right), strict=True)
        }
        bodies = {f"{body.size:g} pt": body for body in shop.bodies}
        self._body = Dropdown(options=list(bodies), description="Body of the type", style=NAMED)
        self._bodies = bodies
        self._square_view = SquareView(f"square-{next(NUMBERS)}")
        super().__init__([*self._edges.values(), self._body], self._square_view, "squareness")

    def __repr__(self) -> str:
        read = ", ".join(f"{name} {box.value}" for name, box in self._edges.items())
        return f"<square: {read}>"

    def answer(self) -> None:
        """Draw the form and say what it wants."""
        edges = self.edges
        mendings = mend(edges, self._shop, self._bodies[self._body.value])
        self._square_view.draw(edges)
        self.show(square_outcome(edges, mendings), square_facts(edges, mendings, self._shop), refused=not edges.square)

    @property
    def edges(self) -> Edges:
        """The four edges as they are typed; ``ValueError`` with a sentence if one can't be read."""
        return Edges(*(self._read(name) for name in _EDGES))

    def put(self, edges: Edges) -> None:
        """Put readings into the boxes."""
        values = [(self._edges[name], write_length(round(getattr(edges, name), 2))) for name in _EDGES]
        set_quietly(values, self._ask)
        self._ask()

    def _read(self, name: str) -> float:
        """Read one edge; the sentence about a bad one names it."""
        try:
            return read_length(self._edges[name].value)
        except ValueError as error:
            raise ValueError(f"{name.capitalize()}: {error}") from error
