"""The *page* panel: from what is in a form to how deep it is."""

from __future__ import annotations

from html import escape

from ipywidgets import Dropdown

from stonework.drawing.form_words import page_sum
from stonework.drawing.page import PageView
from stonework.form import Content, Cut, Lines, Part, Strip
from stonework.panels.asking import NAMED, length_box
from stonework.panels.common import NUMBERS, LivePanel
from stonework.panels.numbers import NumberBox
from stonework.shop import Shop
from stonework.units import PICA, read_length, write_length

_CUTS = ((8, 6), (12, 9), (16, 12))  # width and depth in picas


class PagePanel(LivePanel):
    """Lines, leads, slugs, quads and a cut; the form they make, drawn and added up."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        bodies = [(f"{body.size:g} pt", body.size) for body in shop.bodies]
        leads = [("none", 0.0), *((f"{lead:g} pt", lead) for lead in shop.leads)]
        slugs = [("none", 0.0), *((f"{slug:g} pt", slug) for slug in shop.slugs)]
        cuts = [("none", None), *((f"{w} × {d} picas", Cut(PICA * w, PICA * d)) for w, d in _CUTS)]
        self._measure = length_box("18 picas", "Measure")
        self._number = NumberBox(30, 1, 80, "Lines")
        self._body = Dropdown(options=bodies, value=_nearest(10, bodies), description="Body", style=NAMED)
        self._lead = Dropdown(options=leads, value=_nearest(2, leads), description="Leads between", style=NAMED)
        self._slug = Dropdown(options=slugs, value=_nearest(6, slugs), description="Slug, head and foot", style=NAMED)
        self._quads = NumberBox(0, 0, 20, "Lines of quads below")
        self._cut = Dropdown(options=[name for name, _ in cuts], description="Cut above", style=NAMED)
        self._cuts = dict(cuts)
        self._widest = max(chase.width for chase in shop.chases)
        self._page_view = PageView(f"page-{next(NUMBERS)}")
        controls = [self._measure, self._number, self._body, self._lead, self._slug, self._quads, self._cut]
        super().__init__(controls, self._page_view, "page")

    def __repr__(self) -> str:
        return (
            f"<page: {self._number.value} lines of {self._body.value:g} pt, {self._lead.value:g} pt leads; "
            f"{self._said}>"
        )

    def answer(self) -> None:
        """Draw the form and add up its depth."""
        self._said = "no form"
        slug = [Strip(self._slug.value)] if self._slug.value else []
        body = self._body.value
        parts: list[Part] = [*slug]
        if cut := self._cuts[self._cut.value]:
            parts += [cut, *slug]
        parts.append(Lines(self._number.number, body, self._lead.value))
        if self._quads.number:
            parts.append(Lines(self._quads.number, body, quads=True))
        measure = read_length(self._measure.value)
        if measure > self._widest:
            raise ValueError(
                f"A measure of {write_length(measure)} is wider than any chase of this shop; the widest is "
                f"{write_length(self._widest)}."
            )
        content = Content(measure, (*parts, *slug))
        self._page_view.draw(content)
        self._said = f"the form is {write_length(content.depth)} deep"
        self.show(
            f"The form is {write_length(content.measure)} wide and {write_length(content.depth)} deep. What prints "
            f"in it is {write_length(content.printed_depth)} deep.",
            f"{page_sum(content, self._shop)}<details><summary>The picture in "
            f"words</summary><p>{escape(self._page_view.words)}</p></details>",
        )


def _nearest(wanted: float, options: list[tuple[str, float]]) -> float:
    """Return the value on offer that is nearest to the one wanted."""
    return min((value for _, value in options), key=lambda value: abs(value - wanted))
