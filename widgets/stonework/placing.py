"""Placing: from a sheet of paper and its margins to where the form stands in the chase, and back.

The chase is seen from above, as everywhere. A sheet is printed from the form as from a stamp, so it is the form's
mirror image: with its head toward the chase's head, the sheet's right edge lies over the left of the chase. Margins
are those of the printed sheet as one reads it. Lengths are points.

Sources: Vaughn = S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912. Gress = E. G. Gress, *The Art & Practice
of Typography*, 2nd ed. 1917.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from stonework.form import ROUNDING, Form
from stonework.lockup import Intent, PlacedForm, Side, along_x, opposite
from stonework.shop import Chase, Placing
from stonework.units import POINTS_PER_INCH, write_length

Edge = Literal["left", "right", "head", "foot"]

BOOK_OUTER, BOOK_FOOT = 1.5, 2.0
"""A book page's outer and foot margins as parts of its back and head (Gress p. 54)."""

LEAST_BITE = POINTS_PER_INCH / 2
"""How much of the paper the grippers should hold at the least: half an inch, by an American printers' handbook
(University of Wisconsin digital text, title not shown), which says it of presses whose grippers pull the sheet."""

REGISTER = 1.0
"""How far a second colour may print from its place on the first, each way, in points; this workbook's own figure."""


class Sheet(NamedTuple):
    """A sheet of paper as it is read, in points."""

    width: float
    height: float


class Margins(NamedTuple):
    """The white left round what is printed, on the sheet as one reads it, in points."""

    left: float
    right: float
    head: float
    foot: float


@dataclass(frozen=True, slots=True)
class Place:
    """Where a form is wanted in its chase, and where the paper will lie over it, in points."""

    chase: Chase
    form: PlacedForm
    sheet: PlacedForm
    tolerance: float
    head: Side = "top"

    @property
    def target(self) -> tuple[float, float]:
        """Where the form's lower left corner should stand: what ``choose_lockup`` asks for."""
        return self.form.x, self.form.y

    @property
    def intent(self) -> Intent:
        """The wish that goes into the lockup's record."""
        return Intent(self.form.x, self.form.y, self.tolerance, self.sheet)

    @property
    def margins(self) -> Margins:
        """The margins that the printed sheet will have."""
        return printed_margins(self.form, self.sheet, self.head)


def even_margins(sheet: Sheet, form: Form) -> Margins:
    """Return margins alike left and right, and alike at head and foot; ``ValueError`` if the form doesn't go on."""
    across, up = _white(sheet, form)
    return Margins(across / 2, across / 2, up / 2, up / 2)


def book_margins(sheet: Sheet, form: Form, back: Edge) -> Margins:
    """Return a book page's margins; ``back`` is the edge where the book is bound.

    The outer margin is one and a half times the back, the foot twice the head (Gress p. 54). The rule would have the
    head like the back as well; that is so only on a page of the right shape.
    """
    across, up = _white(sheet, form)
    inner, head = across / (1 + BOOK_OUTER), up / (1 + BOOK_FOOT)
    left, right = (inner, across - inner) if back == "left" else (across - inner, inner)
    return Margins(left, right, head, up - head)


def margins_from(sheet: Sheet, form: Form, left: float, head: float) -> Margins:
    """Return the margins, given two of them; ``ValueError`` if the form would reach over the edge of the sheet."""
    across, up = _white(sheet, form)
    for name, given, white in (("left", left, across), ("head", head, up)):
        if given > white + ROUNDING:
            raise ValueError(
                f"A {name} margin of {write_length(given)} was given; only {write_length(white)} of the sheet stays "
                "white that way. Give less, or take a larger sheet."
            )
    return Margins(left, max(0.0, across - left), head, max(0.0, up - head))


def _white(sheet: Sheet, form: Form) -> tuple[float, float]:
    """Return how much of the sheet stays white, across and up."""
    for way, paper, type_ in (("wide", sheet.width, form.width), ("high", sheet.height, form.height)):
        if not (math.isfinite(paper) and paper > 0):
            raise ValueError(f"The sheet was given as {paper} pt {way}; it must be more than nothing.")
        if type_ > paper + ROUNDING:
            raise ValueError(
                f"The form is {write_length(type_)} {way} and the sheet only {write_length(paper)}; take a "
                "larger sheet."
            )
    return max(0.0, sheet.width - form.width), max(0.0, sheet.height - form.height)


def printed_margins(form: PlacedForm, sheet: PlacedForm, head: Side = "top") -> Margins:
    """Return the margins of the printed sheet, from where form and paper lie over the chase.

    What is left on the stone, seen with the form's head away from one, comes out right on the sheet; head and foot stay
    as they are.
    """
    over: dict[Side, float] = {
        "left": form.x - sheet.x,
        "right": sheet.x + sheet.width - form.x - form.width,
        "top": sheet.y + sheet.height - form.y - form.height,
        "bottom": form.y - sheet.y,
    }
    return Margins(**{edge_over(side, head): white for side, white in over.items()})


def left_of(head: Side) -> Side:
    """Return the side of the chase that lies at one's left when one looks toward a form's head."""
    ways: dict[Side, Side] = {"top": "left", "left": "bottom", "bottom": "right", "right": "top"}
    return ways[head]


def edge_over(side: Side, head: Side = "top") -> Edge:
    """Return which edge of the sheet, as it is read, lies at a side of the chase."""
    if side in (head, opposite(head)):
        return "head" if side == head else "foot"
    return "right" if side == left_of(head) else "left"


def place_by_custom(
    form: Form, sheet: Sheet, margins: Margins, chase: Chase, custom: Placing, head: Side = "top"
) -> Place:
    """Place a form where the shop's custom has it in the chase; the guides are then set to suit the sheet.

    Form, sheet and margins are as one reads them; the form's head points to the side ``head`` of the chase. Raises
    ``ValueError`` if the form would reach beyond the chase's inside.
    """
    lying, paper = lying_as(form, head), lying_as(Form(sheet.width, sheet.height), head)
    x = (chase.width - lying.width) / 2 + custom.right
    y = (chase.height - lying.height) / 2 + custom.up
    left, foot = _beside(margins, head)
    over = PlacedForm(x - left, y - foot, paper.width, paper.height)
    return _placed(lying, x, y, over, chase, custom.tolerance, head)


def lying_as(form: Form, head: Side) -> Form:
    """Return a form's size as it lies when its head points to a side of the chase, or, lying so, as one reads it."""
    return form if along_x(head) else Form(form.height, form.width)


def _beside(margins: Margins, head: Side) -> tuple[float, float]:
    """Return how far the paper reaches beyond the form at the left and at the foot of the chase."""
    left, foot = (getattr(margins, edge_over(side, head)) for side in ("left", "bottom"))
    return left, foot


def place_by_sheet(
    form: Form,
    margins: Margins,
    paper: PlacedForm,
    chase: Chase,
    custom: Placing,
    follows: tuple[float, float] = (0.0, 0.0),
    head: Side = "top",
) -> Place:
    """Place a form for a sheet whose guides stay where they are, as for a second colour.

    ``paper`` is where the sheet lies over the chase. ``follows`` is how far right and up on the stone, in points, the
    first colour's wood set its form off its place: this form is wanted as far off, within ``REGISTER`` or what
    the shop allows, if that is less. Raises ``ValueError`` if the form would reach beyond the chase.
    """
    right, up = follows
    left, foot = _beside(margins, head)
    x, y = paper.x + left + right, paper.y + foot + up
    return _placed(lying_as(form, head), x, y, paper, chase, min(REGISTER, custom.tolerance), head)


def _placed(form: Form, x: float, y: float, paper: PlacedForm, chase: Chase, tolerance: float, head: Side) -> Place:
    over = {
        "left": -x,
        "right": x + form.width - chase.width,
        "bottom": -y,
        "top": y + form.height - chase.height,
    }
    side, most = max(over.items(), key=lambda pair: pair[1])
    if most > ROUNDING:
        raise ValueError(
            f"The form would reach {write_length(math.ceil(10 * most) / 10)} beyond the {chase.name} chase on the "
            f"{side}; take a larger chase or place it nearer the middle."
        )
    return Place(chase, PlacedForm(x, y, form.width, form.height), paper, tolerance, head)


def gripped(place: Place, custom: Placing) -> tuple[Edge, ...]:
    """Return the edges of the sheet, as it is read, at which the grippers would come down on type."""
    edges = gripper_edges(custom, place.head)
    return tuple(edge for edge in edges if getattr(place.margins, edge) < custom.bite - ROUNDING)


def gripper_edges(custom: Placing, head: Side = "top") -> tuple[Edge, ...]:
    """Return the edges of the sheet, as it is read, that the grippers take.

    The grippers stay where they are; a shop's file names the edges of a sheet printed with its head at the top.
    """
    return tuple(edge_over(opposite(edge), head) for edge in custom.grippers)


# --- pages in one form ---------------------------------------------------------------------------------------


class PageGaps(NamedTuple):
    """The gaps between the pages of one form, in points.

    ``backs`` lies between two pages that meet at the back and ``fronts`` between two that meet at the front; ``heads``
    between two rows that meet at the head and ``feet`` between two that meet at the foot.
    """

    backs: float
    fronts: float
    heads: float
    feet: float


def page_gaps(sheet: Sheet, page: Form, across: int, up: int, back: float, head: float | None = None) -> PageGaps:
    """Return the gaps for so many pages across and up a sheet, each with so much white at its back and its head.

    Lengths are points. ``head`` is ``None`` if head and foot of the leaf are to be as wide. The sheet folds into equal
    leaves, and each page lies in its leaf (Vaughn pp. 36–37); what the trimming takes off is within the margins.
    Raises ``ValueError`` if the pages don't go on.
    """
    leaf = Sheet(sheet.width / across, sheet.height / up)
    wide, high = _white(leaf, page)
    head = high / 2 if head is None else head
    for name, given, white in (("back", back, wide), ("head", head, high)):
        if given > white + ROUNDING:
            raise ValueError(
                f"A {name} margin of {write_length(given)} was given; only {write_length(white)} of each leaf stays "
                "white that way. Give less, or take a larger sheet."
            )
    return PageGaps(2 * back, 2 * (wide - back), 2 * head, 2 * (high - head))
