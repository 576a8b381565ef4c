"""Random questions for tests of the solver, and a small shop of whatever wood is asked for. Lengths are points."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from hypothesis import strategies as st
from stonework.choosing import ARRANGEMENTS, NoLockup, choose_lockup
from stonework.form import Form
from stonework.lockup import Lockup
from stonework.shop import Chase, Material, Quoin, Shop

PICA = 12.0
INCH = 1 / 0.013837  # A. A. Stewart, Typesetting, 1919, p. 15: the point is .013837 inch
EFFORT = 300  # steps; random cabinets are scarcer than any shop's, and nothing here asks for the very best
SOLID_SIDES = [("bottom", "left"), ("bottom", "right"), ("top", "left"), ("top", "right")]

# --- random questions -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Question:
    """Everything ``choose_lockup`` is asked with."""

    form: Form
    chase: Chase
    shop: Shop
    options: dict[str, Any] = field(default_factory=dict)

    def answer(self) -> Lockup | None:
        try:
            return choose_lockup(self.form, self.chase, self.shop, effort=EFFORT, **self.options)
        except NoLockup:
            return None

    def whole(self) -> Lockup | None:
        """Return the answer with as much effort as the solver takes of its own accord."""
        try:
            return choose_lockup(self.form, self.chase, self.shop, **self.options)
        except NoLockup:
            return None

    def but(self, **options) -> Question:
        return replace(self, options=self.options | options)

    @property
    def target(self) -> tuple[float, float]:
        middle = ((self.chase.width - self.form.width) / 2, (self.chase.height - self.form.height) / 2)
        return self.options.get("target", middle)


WIDTHS = (2, 3, 4, 5, 6, 8, 10)
LENGTHS = (10, 15, 20, 25, 30, 40, 50, 60)


@st.composite
def cabinets(draw) -> dict[Material, int]:
    """Draw wood of the trade's sizes: as many of a size as its width has, or its length if that has fewer."""
    most = draw(st.sampled_from([2, 4, 12]))
    counts = st.integers(0, most)
    by_width = {width: draw(counts) for width in WIDTHS}
    by_length = {length: draw(counts) for length in LENGTHS}
    stock = {
        Material("furniture", width * PICA, length * PICA): min(by_width[width], by_length[length])
        for width in WIDTHS
        for length in LENGTHS
    }
    step, first = draw(st.sampled_from([1, 1, 2, 5])), draw(st.integers(5, 12))
    for thickness in draw(st.sampled_from([(6.0,), (6.0, 12.0), (6.0, 12.0), (6.0, 12.0, 18.0), (4.5, 12.0)])):
        count = draw(st.integers(1, most))
        stock |= {Material("reglet", thickness, length * PICA): count for length in range(first, 61, step)}
    return stock


@st.composite
def quoins(draw, name: str, gaps=(6.0, 12.0, 24.0)) -> Quoin:
    travel = draw(st.integers(6, 24))
    reserve = draw(st.integers(0, travel // 2))
    return Quoin(
        name,
        length=draw(st.integers(36, 96)),
        closed=draw(st.integers(18, 30)),
        travel=travel,
        reserve=reserve,
        rest=draw(st.integers(0, travel - reserve)),
        gap=draw(st.sampled_from(gaps)),
        span=draw(st.integers(96, 300)),
    )


@st.composite
def questions(draw, exact: bool = False) -> Question:
    """Draw a question; ``exact`` keeps every length to whole points, so that a mirror rounds it no differently."""
    if exact:
        width, height = draw(st.integers(300, 700)), draw(st.integers(300, 700))
        grain = 1.0
    else:
        width, height = (
            side * INCH
            for side in draw(st.sampled_from([(8, 5), (9, 6), (12, 8), (15, 10), (6, 9), (8, 12), (7.3, 7.3)]))
        )
        grain = draw(st.sampled_from([PICA, 1.0, 0.01]))
    form = Form(*(max(1, round(side * draw(st.integers(20, 90)) / 100 / grain)) * grain for side in (width, height)))
    chase = Chase("one", float(width), float(height))
    shop = Shop("any", (chase,), draw(cabinets()), (draw(quoins("first")), draw(quoins("second"))))
    options: dict[str, Any] = {"solid": draw(st.sampled_from(SOLID_SIDES))}
    if draw(st.booleans()):
        options["arrangement"] = draw(st.sampled_from(list(ARRANGEMENTS)))
    if draw(st.integers(0, 3)) == 0:
        options["tolerance"] = float(draw(st.integers(0, 24)))
    if draw(st.integers(0, 3)) == 0:
        off = st.integers(-30, 30)
        middle = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
        options["target"] = (middle[0] + draw(off), middle[1] + draw(off))
    return Question(form, chase, shop, options)


def small(stock, **quoin) -> Shop:
    """A shop of one chase, whatever wood is asked for, and a quoin of 18 shut, 8 more at the most."""
    parts = {"length": 36, "closed": 18, "travel": 12, "reserve": 4, "rest": 3, "gap": 12, "span": 144} | quoin
    return Shop("small", (), stock, (Quoin("wedge", **parts),))


PLENTY = {Material("furniture", 24.0, 120.0): 99, Material("reglet", 6.0, 120.0): 99}
