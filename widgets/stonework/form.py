"""A measured form: its size, how square it is, what it is made of and what it weighs.

Lengths are points and weights pounds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from stonework.units import CUBIC_INCH, POINTS_PER_INCH, POUNDS_PER_GRAM

# What books say of how much type to order: square inches ÷ 4 = pounds of plain type (J. S. Ford, *Paper and Printing
# Recipes*; the tables for printers in *The Business Man's Encyclopedia*). It is no bound on what stands on the stone.
POUNDS_TO_ORDER = 1 / 4
# Type height: A. A. Stewart, *Type*, 1918, p. 7.
TYPE_HEIGHT = 0.918 * POINTS_PER_INCH
# In g/cm³: slug metal, 84 of lead, 12 of antimony and 4 of tin by weight, the heaviest alloy for type or leads whose
# recipe we have. Derived from the volumes of the three (11.34, 6.69 and 7.29 g/cm³ by public tables of metals). One
# list, without a recipe, has 10.6 for it, and lead alone is 11.34: a tenth more. Brass and copper (8.5 and 9.0, from
# memory) are lighter.
DENSEST = 10.26
# The thinnest thing put between letters is a copper of half a point (A. A. Stewart, *Type*, 1918, p. 19): what
# is smaller can't be mended. That it counts as square is this workbook's own figure.
SQUARE = 0.5
ROUNDING = 1e-6  # in points: what one length in two units may differ by
EMS_A_WORD = 3  # a usual allowance, and only that; a manuscript handbook has it, pp. 72–73


@dataclass(frozen=True, slots=True)
class Edges:
    """The four edges of a form as measured, in points: head and foot across, left and right from head to foot.

    Raises ``ValueError`` when one isn't a length above nothing.
    """

    head: float
    foot: float
    left: float
    right: float

    def __post_init__(self) -> None:
        for name in ("head", "foot", "left", "right"):
            _more_than_nothing(f"A form's {name} edge", getattr(self, name))

    @property
    def wider_at_head(self) -> float:
        """How much longer the head is than the foot, in points; less than nothing if the foot is longer."""
        return self.head - self.foot

    @property
    def taller_at_left(self) -> float:
        """How much longer the left edge is than the right, in points; less than nothing if the right is longer."""
        return self.left - self.right

    @property
    def out_of_square(self) -> float:
        """The larger of the two differences, in points, never negative."""
        return max(abs(self.wider_at_head), abs(self.taller_at_left))

    @property
    def square(self) -> bool:
        """Whether opposite edges agree to within half a point."""
        return self.out_of_square <= SQUARE + ROUNDING


@dataclass(frozen=True, slots=True)
class Form:
    """A form of type by the size that the lockup goes by, in points.

    Raises ``ValueError`` when a side isn't a length above nothing.
    """

    width: float
    height: float

    def __post_init__(self) -> None:
        _more_than_nothing("A form's width", self.width)
        _more_than_nothing("A form's height", self.height)

    @classmethod
    def from_edges(cls, edges: Edges) -> Form:
        """Return the form with these edges; a lockup goes by the longer of each two.

        The wood beside a form is straight and meets the longer edge first; chosen for the shorter one, it
        would be too much to go in.
        """
        return cls(max(edges.head, edges.foot), max(edges.left, edges.right))

    @classmethod
    def from_content(cls, measure: float, parts: Sequence[Part]) -> Form:
        """Return the form that these parts make, set to one measure, from head to foot.

        Raises ``ValueError`` if there is no part, or one is wider than the measure.
        """
        return cls(measure, Content(measure, tuple(parts)).depth)

    @property
    def square_inches(self) -> float:
        """The form's area in square inches."""
        return self.width * self.height / POINTS_PER_INCH**2

    @property
    def solid_metal(self) -> float:
        """The most that a form of type metal can weigh, in pounds: as much as one block of it, as high as type.

        Letters have hollows, and spaces and leads are low: what stands on the stone is lighter.
        """
        return slab(self.width * self.height, TYPE_HEIGHT, DENSEST)

    @property
    def type_to_order(self) -> float:
        """How many pounds of type the books would have one order for a form set solid, but for what stays in the case.

        A form may weigh more than that.
        """
        return self.square_inches * POUNDS_TO_ORDER


def slab(area: float, height: float, density: float) -> float:
    """Return what a solid of so many square points and points of height weighs, in pounds; density in g/cm³."""
    return area * height / POINTS_PER_INCH**3 * CUBIC_INCH * density * POUNDS_PER_GRAM


# --- what is in it -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of one body, in points, with ``lead`` points of leads between every two of them.

    Lines of quads print nothing.
    """

    number: int
    body: float
    lead: float = 0.0
    quads: bool = False

    def __post_init__(self) -> None:
        if not isinstance(self.number, int) or self.number < 1:
            raise ValueError(
                f"{self.number} lines were given; a part of a form has one line or more, in whole numbers."
            )
        _more_than_nothing("A body", self.body)
        _nothing_or_more("A lead", self.lead)

    @property
    def depth(self) -> float:
        """How deep the lines are with the leads between them, in points."""
        return self.number * self.body + (self.number - 1) * self.lead

    @property
    def prints(self) -> bool:
        """Whether they leave ink."""
        return not self.quads


@dataclass(frozen=True, slots=True)
class Strip:
    """A lead or slug across the whole measure, in points; it lies below the type and doesn't print."""

    depth: float

    def __post_init__(self) -> None:
        _more_than_nothing("A lead or slug", self.depth)

    @property
    def prints(self) -> bool:
        """Whether it leaves ink: it doesn't."""
        return False


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut on its mount, in points; what is left of the measure beside it is filled out."""

    width: float
    depth: float

    def __post_init__(self) -> None:
        _more_than_nothing("A cut's width", self.width)
        _more_than_nothing("A cut's depth", self.depth)

    @property
    def prints(self) -> bool:
        """Whether it leaves ink."""
        return True


Part = Lines | Strip | Cut


@dataclass(frozen=True, slots=True)
class Content:
    """What a form is made of: parts set to one measure, in points, from head to foot.

    Raises ``ValueError`` if there is no part, or one is wider than the measure.
    """

    measure: float
    parts: tuple[Part, ...]

    def __post_init__(self) -> None:
        _more_than_nothing("A measure", self.measure)
        if not self.parts:
            raise ValueError("A form with nothing in it was given; it needs one part or more.")
        for part in self.parts:
            if isinstance(part, Cut) and part.width > self.measure + ROUNDING:
                raise ValueError(
                    f"A cut {part.width:g} pt wide doesn't go into a measure of {self.measure:g} pt; "
                    "give a wider measure or a narrower cut."
                )

    @property
    def depth(self) -> float:
        """The form's depth in points, slugs, quads and all: what the furniture bears on."""
        return sum(part.depth for part in self.parts)

    @property
    def tops(self) -> tuple[float, ...]:
        """How far below the form's head each part begins, in points."""
        return (0.0, *accumulate(part.depth for part in self.parts[:-1]))

    @property
    def printed(self) -> tuple[float, float]:
        """From where to where the form prints, in points below its head: body to body, for the face is smaller.

        Both are 0 when nothing prints.
        """
        ink = [(top, top + part.depth) for top, part in zip(self.tops, self.parts, strict=True) if part.prints]
        return (ink[0][0], ink[-1][1]) if ink else (0.0, 0.0)

    @property
    def printed_depth(self) -> float:
        """How deep the printed lines and cuts are, in points, slugs and quads above and below left out."""
        start, stop = self.printed
        return stop - start

    @property
    def ems(self) -> float:
        """How much text the printing lines hold, in ems of their own body: a square as wide as it is deep."""
        return sum(p.number * self.measure / p.body for p in self.parts if isinstance(p, Lines) and p.prints)

    @property
    def words(self) -> int:
        """About how many words that is, at three ems a word."""
        return round(self.ems / EMS_A_WORD)


def ems_in_a_square_inch(body: float) -> float:
    """Return how many ems of a body, in points, a square inch holds, set solid."""
    _more_than_nothing("A body", body)
    return (POINTS_PER_INCH / body) ** 2


def _more_than_nothing(what: str, value: float) -> None:
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"{what} was given as {value} pt; it must be more than nothing.")


def _nothing_or_more(what: str, value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise ValueError(f"{what} was given as {value} pt; it must be nothing or more.")
