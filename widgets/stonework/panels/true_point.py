"""The *true point* panel: what counting six picas to the inch gives away over a whole chase."""

from __future__ import annotations

from html import escape

from ipywidgets import Dropdown

from stonework.drawing.true_point import TruePointView, difference
from stonework.panels.asking import NAMED, chase_of, length_box
from stonework.panels.common import NUMBERS, LivePanel
from stonework.saying import shown
from stonework.shop import Shop
from stonework.units import POINTS_PER_INCH, read_length


class TruePointPanel(LivePanel):
    """A chase's width, or any length, counted both ways, and the difference beside a lead and a reglet."""

    def __init__(self, shop: Shop, chase: str | None = None) -> None:
        self._shop = shop
        widths = [(f"{one.name}: {one.width / POINTS_PER_INCH:.4g} in wide", one.name) for one in shop.chases]
        first = chase_of(shop, chase).name
        self._chase = Dropdown(options=widths, value=first, description="Width of the chase", style=NAMED)
        self._length = length_box("", "Or another length")
        reglet = [m.thickness for m, count in shop.stock.items() if count and m.kind == "reglet"]
        self._things = {f"a {lead:g}-point lead": lead for lead in shop.leads if lead == 2}
        if reglet:
            self._things["the thinnest reglet"] = min(reglet)
        self._view_of_rules = TruePointView(f"true-point-{next(NUMBERS)}")
        super().__init__([self._chase, self._length], self._view_of_rules, "true-point")

    def __repr__(self) -> str:
        asked = self._length.value or f"width of the {self._chase.value} chase"
        return f"<true point: {asked}>"

    def answer(self) -> None:
        """Draw both rules along the length, and say how far they part."""
        written = self._length.value.strip()
        length = read_length(written) if written else self._shop.chase(self._chase.value).width
        if length < POINTS_PER_INCH:
            raise ValueError(
                f"“{shown(written)}” is less than an inch, too short to tell them apart; give a length like 12 in."
            )
        self._view_of_rules.draw(length, self._things)
        self.show(
            f"Six picas to the inch comes out {difference(length):.2f} points too small over this length.",
            f"<p>{escape(self._view_of_rules.words)} Wood chosen by that count is too thin by as much, and the quoins "
            "must open further to make it up.</p>",
        )
