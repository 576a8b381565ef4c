"""A job's ticket: what is to be printed, from its copy to its paper."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stonework.form import Content, Form
from stonework.placing import Margins, Sheet, margins_from
from stonework.shop import MaterialKind, Shop


@dataclass(frozen=True)
class Ticket:
    """A job: its lockup is saved under ``name``. Lengths are points.

    ``form`` is the size of one form, and ``content`` what it's made of, if that is known. ``abreast`` is how many alike
    lie side by side with a ``gutter`` between. ``left`` and ``head`` are the margins of all that is printed. ``after``
    names the job whose guides stay, for a second colour. ``held`` is the wood that other jobs hold: all of a kind from
    a length on. A job without a ``chase`` may lie in any.
    """

    name: str
    told: str
    copy: tuple[str, ...]
    form: Form
    sheet: Sheet
    left: float
    head: float
    chase: str = ""
    sheets: int = 0
    content: Content | None = None
    abreast: int = 1
    gutter: float = 0.0
    after: str | None = None
    held: tuple[MaterialKind, float] | None = None

    @property
    def printed(self) -> Form:
        """The size of all that is printed on one sheet."""
        return Form(self.abreast * self.form.width + (self.abreast - 1) * self.gutter, self.form.height)

    @property
    def margins(self) -> Margins:
        """The margins of the sheet."""
        return margins_from(self.sheet, self.printed, self.left, self.head)

    def cabinet(self, shop: Shop) -> Shop:
        """Return the shop with the wood that other jobs leave."""
        if self.held is None:
            return shop
        kind, shortest = self.held
        stock = {
            material: 0 if material.kind == kind and material.length >= shortest else count
            for material, count in shop.stock.items()
        }
        return replace(shop, stock=stock)
