"""Forms of one size or two, again and again beside and below each other, as labels and tickets are printed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from stonework.form import Form
from stonework.lockup import PlacedForm

Way = Literal["none", "beside", "below"]
"""Where the second form stands from the first, if there is one."""


class Repeated(NamedTuple):
    """A form, and perhaps a second, so often side by side and so often one below another, with gutters of one width."""

    first: Form
    second: Form | None = None
    way: Way = "none"
    across: int = 1
    down: int = 1
    gutter: float = 0.0

    @property
    def rows(self) -> list[list[Form]]:
        """All forms, row by row from the head down, each row from left to right."""
        if self.second is None or self.way == "none":
            return [[self.first] * self.across] * self.down
        if self.way == "beside":
            return [[self.first, self.second] * self.across] * self.down
        return [[self.first] * self.across, [self.second] * self.across] * self.down


def repeated(forms: Sequence[PlacedForm]) -> Repeated | None:
    """Return how the forms of a block, head up, repeat; ``None`` if they don't."""
    placed: list[list[PlacedForm]] = []
    for form in sorted(forms, key=_middle, reverse=True):
        # Forms in a row are made up to one height, so their middles lie nearly level.
        if placed and _middle(placed[-1][0]) - _middle(form) < form.height / 2:
            placed[-1].append(form)
        else:
            placed.append([form])
    for row in placed:
        row.sort(key=lambda form: form.x)
    rows = [[Form(round(one.width, 2), round(one.height, 2)) for one in row] for row in placed]
    gutter = _gutter(placed)
    first, across, down = rows[0][0], len(rows[0]), len(rows)
    seconds = [form for row in rows for form in row if form != first]
    ways = [Repeated(first, None, "none", across, down, gutter)]
    if seconds:
        ways = [
            Repeated(first, seconds[0], "beside", across // 2, down, gutter),
            Repeated(first, seconds[0], "below", across, down // 2, gutter),
        ]
    return next((way for way in ways if way.rows == rows), None)


def _middle(form: PlacedForm) -> float:
    return form.y + form.height / 2


def _gutter(rows: Sequence[Sequence[PlacedForm]]) -> float:
    if len(rows[0]) > 1:
        one, other = rows[0][:2]
        return round(other.x - one.x - one.width, 2)
    if len(rows) > 1:
        return round(rows[0][0].y - rows[1][0].y - rows[1][0].height, 2)
    return 0.0
