"""The record of a lockup: what lies where in the chase. Pure data and geometry.

Lengths are points. The origin is the chase's inner lower left corner, looking down on the stone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from typing import Any, Literal, get_args

from stonework.lockup.values import expect_keys, read_one, read_row, read_word
from stonework.saying import shown_value
from stonework.shop import Chase, Material, Quoin

Side = Literal["bottom", "left", "top", "right"]
Kind = Literal["furniture", "reglet", "quoin", "metal", "lead"]
FillingKind = Literal["furniture", "reglet", "metal", "lead"]
SIDES: tuple[Side, ...] = get_args(Side)
KINDS: tuple[Kind, ...] = get_args(Kind)
FILLINGS: tuple[FillingKind, ...] = get_args(FillingKind)
UNIT = "american_point"
# Less than a thousandth of an inch: finer than wood can be cut or set, coarser than any rounding.
SLACK = 0.05
# What the solver keeps to and the judge asks for, in points. The figures are this workbook's own.
CLEAR = 3.0  # the least room before a piece's end where a neighbour may close on it
UNBACKED = 6.0  # how much of a side's end may go without wood
TOLERANCE = 6.0  # how far the form may stand from its place each way, unless told otherwise
MOST_OF_ONE_SIZE = 12  # pieces of one size on one side


@dataclass(frozen=True, slots=True)
class PlacedForm:
    """The form where it stands: its lower left corner and its size, in points."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Item:
    """One piece of wood or metal, or one quoin, where it lies, in points.

    ``order`` counts outward from the form; the quoins of one row share theirs, and so do two pieces laid end to end. A
    quoin's ``thickness`` is its opened thickness, and ``pattern`` the name of its pattern, if that was written down.
    """

    side: Side
    order: int
    kind: Kind
    thickness: float
    length: float
    x: float
    y: float
    width: float
    height: float
    pattern: str | None = field(default=None, compare=False)

    @property
    def material(self) -> Material:
        """The size to look for in the cabinet; ``ValueError`` for a quoin, which isn't kept there."""
        if self.kind == "quoin":
            raise ValueError("A quoin isn't kept in the wood cabinet.")
        return Material(self.kind, self.thickness, self.length)


Rectangle = Item | PlacedForm


@dataclass(frozen=True, slots=True)
class Extent:
    """A rectangle seen from one side of the form.

    ``low`` and ``high`` lie along the side, 0 being the form's lower or left corner; ``near`` and ``far``
    lie outward from the form's edge. All in points.
    """

    low: float
    high: float
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class Filling:
    """One piece inside a block where it lies, in points; a lead or slug is a ``lead``, cut from a strip."""

    kind: FillingKind
    thickness: float
    length: float
    x: float
    y: float
    width: float
    height: float

    @property
    def material(self) -> Material:
        """The size to look for in the cabinet; ``ValueError`` for a lead, which is cut to its length."""
        if self.kind == "lead":
            raise ValueError("A lead isn't kept by its length; it is cut from a strip.")
        return Material(self.kind, self.thickness, self.length)


@dataclass(frozen=True, slots=True)
class Block:
    """One form or several, made up with metal or wood into one rectangle that is locked up as a form.

    ``forms`` and ``pieces`` lie where they do in the chase, in points: the lockup's own form is the block's outline.
    """

    forms: tuple[PlacedForm, ...]
    pieces: tuple[Filling, ...]

    @property
    def content(self) -> tuple[PlacedForm | Filling, ...]:
        """The forms, then the pieces."""
        return (*self.forms, *self.pieces)

    @property
    def outline(self) -> PlacedForm:
        """The least rectangle round all that is in it; ``ValueError`` if nothing is."""
        if not self.content:
            raise ValueError("A block of nothing has no outline; it holds one form or more.")
        return _round(self.content)

    @property
    def width(self) -> float:
        """How wide the whole block is, in points."""
        return self.outline.width

    @property
    def height(self) -> float:
        """How high the whole block is, in points."""
        return self.outline.height

    @property
    def materials(self) -> tuple[Material, ...]:
        """The size of every piece that came from the cabinet; leads don't."""
        return tuple(piece.material for piece in self.pieces if piece.kind != "lead")

    @property
    def leads(self) -> tuple[Filling, ...]:
        """Every lead and slug, each cut from a strip."""
        return tuple(piece for piece in self.pieces if piece.kind == "lead")

    def moved(self, right: float, up: float) -> Block:
        """Return the block moved so far, in points."""
        return Block(
            tuple(replace(form, x=form.x + right, y=form.y + up) for form in self.forms),
            tuple(replace(piece, x=piece.x + right, y=piece.y + up) for piece in self.pieces),
        )

    def turned(self, quarters: int) -> Block:
        """Return the block turned to the left by so many quarters about the chase's corner."""
        block = self
        for _ in range(quarters % 4):
            block = Block(tuple(map(_to_the_left, block.forms)), tuple(map(_to_the_left, block.pieces)))
        return block


def _to_the_left(one: Any) -> Any:
    """Return a rectangle turned a quarter to the left about the chase's corner."""
    return replace(one, x=-one.y - one.height, y=one.x, width=one.height, height=one.width)


def quarters_from(head: Side, other: Side) -> int:
    """Return by how many quarters to the left a form is turned whose head points to ``head``, until it is ``other``."""
    ways: tuple[Side, ...] = ("top", "left", "bottom", "right")
    return (ways.index(other) - ways.index(head)) % 4


def turned_side(side: Side, head: Side) -> Side:
    """Return where a side of a form lies once its head, which was at the top, points to another side."""
    ways: tuple[Side, ...] = ("top", "left", "bottom", "right")
    return ways[(ways.index(side) + ways.index(head)) % 4]


def as_read(place: PlacedForm, head: Side) -> tuple[float, float]:
    """Return how wide and how high a form is as one reads it, its head at the top."""
    return (place.width, place.height) if along_x(head) else (place.height, place.width)


def _round(these: Sequence[PlacedForm | Filling]) -> PlacedForm:
    """Return the least rectangle round rectangles."""
    x, y = min(one.x for one in these), min(one.y for one in these)
    right, top = max(one.x + one.width for one in these), max(one.y + one.height for one in these)
    return PlacedForm(x, y, right - x, top - y)


def letter(n: int) -> str:
    """Return what the nth piece of a block is called in pictures and lists, from 0: a to z, then aa, ab and so on."""
    return (letter(n // 26 - 1) if n >= 26 else "") + chr(ord("a") + n % 26)


@dataclass(frozen=True, slots=True)
class Intent:
    """Where the form was meant to stand (its lower left corner) and how far off it may be, in points.

    ``sheet`` is where the paper will lie over the chase, if that is known: its corner and its size.
    """

    x: float
    y: float
    tolerance: float
    sheet: PlacedForm | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """Whose lockup it is: the job's name and date as they were written, the press it is for, the hand that laid it."""

    name: str = ""
    date: str = ""
    press: str = ""
    hand: str = ""


NO_JOB = Job()


@dataclass(frozen=True, slots=True)
class Lockup:
    """A form, its chase, and everything between them.

    If the form was built up from smaller ones, ``block`` says how. ``intent`` is a wish, not something that lies on
    the stone: it isn't compared. ``head`` is the side of the chase to which the form's head points: its size is given
    as it lies, so that of a form turned sideways runs the other way.
    """

    chase: Chase
    form: PlacedForm
    arrangement: str
    items: tuple[Item, ...]
    intent: Intent | None = field(default=None, compare=False)
    block: Block | None = None
    head: Side = "top"
    job: Job = NO_JOB

    def on(self, side: Side) -> tuple[Item, ...]:
        """Return the items of one side, from the form outward."""
        return tuple(sorted((item for item in self.items if item.side == side), key=lambda item: item.order))

    def layers(self, side: Side) -> tuple[tuple[Item, ...], ...]:
        """Return the layers of one side from the form outward, each from its low end: what shares an order is one."""
        layers: dict[int, list[Item]] = {}
        for item in self.on(side):
            layers.setdefault(item.order, []).append(item)
        return tuple(
            tuple(sorted(layer, key=lambda item: item.x if along_x(side) else item.y)) for layer in layers.values()
        )

    def quoins(self, side: Side) -> tuple[Item, ...]:
        """Return the quoins of one side."""
        return tuple(item for item in self.on(side) if item.kind == "quoin")

    @property
    def quoin_sides(self) -> tuple[Side, ...]:
        """The sides that hold quoins, in the order of ``SIDES``."""
        return tuple(side for side in SIDES if self.quoins(side))

    @property
    def wood(self) -> tuple[Item, ...]:
        """Every piece of furniture and reglet on the four sides."""
        return tuple(item for item in self.items if item.kind in ("furniture", "reglet"))

    @property
    def pieces(self) -> tuple[Item, ...]:
        """Everything on the four sides but the quoins: wood, metal furniture, leads and slugs."""
        return tuple(item for item in self.items if item.kind != "quoin")

    @property
    def type_area(self) -> PlacedForm:
        """The least rectangle round all the type: the form itself, unless it was built up from smaller ones."""
        return _round(self.block.forms) if self.block else self.form

    @property
    def materials(self) -> tuple[Material, ...]:
        """The size of every piece of wood and metal furniture: those in the block, then those of the lockup."""
        inside = self.block.materials if self.block else ()
        return (*inside, *(item.material for item in self.pieces if item.kind != "lead"))

    @property
    def leads(self) -> tuple[Material, ...]:
        """The size of every lead and slug: those in the block, then those of the lockup."""
        inside = self.block.leads if self.block else ()
        return tuple(
            Material("lead", lead.thickness, lead.length)
            for lead in (*inside, *(item for item in self.items if item.kind == "lead"))
        )

    def gap(self, side: Side) -> float:
        """Return the distance from the form's edge to the chase on one side, in points."""
        form, chase = self.form, self.chase
        return {
            "bottom": form.y,
            "left": form.x,
            "top": chase.height - form.y - form.height,
            "right": chase.width - form.x - form.width,
        }[side]

    def side_length(self, side: Side) -> float:
        """Return the form's own dimension along a side, in points."""
        return self.form.width if along_x(side) else self.form.height

    def seen_from(self, side: Side, rectangle: Rectangle) -> Extent:
        """Return where a rectangle lies as one stands at that side of the form."""
        form = self.form
        if along_x(side):
            low, start, size = rectangle.x - form.x, rectangle.y - form.y, rectangle.height
            high, across = low + rectangle.width, form.height
        else:
            low, start, size = rectangle.y - form.y, rectangle.x - form.x, rectangle.width
            high, across = low + rectangle.height, form.width
        if side in ("bottom", "left"):
            return Extent(low, high, -start - size, -start)
        return Extent(low, high, start - across, start + size - across)

    def placing_order(self) -> tuple[Item, ...]:
        """Return the items in the order they go in: solid sides, then wood round the quoins, quoins last."""
        solid = [item for side in SIDES if not self.quoins(side) for item in self.on(side)]
        round_quoins = [item for side in self.quoin_sides for item in self.on(side) if item.kind != "quoin"]
        quoins = [item for side in self.quoin_sides for item in self.quoins(side)]
        return (*solid, *round_quoins, *quoins)

    def to_dict(self) -> dict[str, Any]:
        """Return the record as plain values, ready for JSON; what there isn't is left out."""
        record: dict[str, Any] = {
            "unit": UNIT,
            "chase": {key: getattr(self.chase, key) for key in ("name", "width", "height")},
            "form": asdict(self.form),
            "arrangement": self.arrangement,
            "items": [_said(item) for item in self.items],
        }
        if self.head != "top":
            record["head"] = self.head
        if self.job != NO_JOB:
            record["job"] = {key: text for key, text in asdict(self.job).items() if text}
        if self.intent:
            record["intent"] = _said(self.intent)
        if self.block:
            record["block"] = {
                "forms": [asdict(form) for form in self.block.forms],
                "pieces": [asdict(piece) for piece in self.block.pieces],
            }
        return record

    @classmethod
    def from_dict(cls, record: Mapping[str, Any]) -> Lockup:
        """Read a record back. Raises ``ValueError``: a sentence that names the key and what was expected."""
        optional = ("intent", "block", "head", "job")
        expect_keys(record, "the lockup", ("unit", "chase", "form", "arrangement", "items"), optional=optional)
        if record["unit"] != UNIT:
            raise ValueError(f"The lockup's unit was read as {shown_value(record['unit'])}; {UNIT!r} was expected.")
        return cls(
            read_one(Chase, record["chase"], "chase", texts=("name",), positive=("width", "height"), leave=_OF_A_CHASE),
            _read_form(record["form"], "form"),
            read_word(record["arrangement"], "arrangement"),
            read_row(Item, record["items"], "the lockup's items", "item", **_PIECE, optional=("pattern",)),
            _read_intent(record["intent"]) if "intent" in record else None,
            _read_block(record["block"]) if "block" in record else None,
            read_word(record["head"], "head", SIDES) if "head" in record else "top",
            read_one(Job, record["job"], "job", texts=_OF_A_JOB, optional=_OF_A_JOB) if "job" in record else NO_JOB,
        )


def along_x(side: Side) -> bool:
    """Say whether a side's own axis is x (bottom and top) rather than y."""
    return side in ("bottom", "top")


def opposite(side: Side) -> Side:
    """Return the side across the form."""
    return {"bottom": "top", "top": "bottom", "left": "right", "right": "left"}[side]


def lay(
    form: PlacedForm, side: Side, order: int, kind: Kind, *, thickness: float, length: float, low: float, near: float
) -> Item:
    """Return an item laid along a side: ``low`` along it from the form's corner, ``near`` out from its edge."""
    far = near + thickness
    if along_x(side):
        y = form.y - far if side == "bottom" else form.y + form.height + near
        return Item(side, order, kind, thickness, length, form.x + low, y, length, thickness)
    x = form.x - far if side == "left" else form.x + form.width + near
    return Item(side, order, kind, thickness, length, x, form.y + low, thickness, length)


def pattern_of(item: Item, quoins: Sequence[Quoin]) -> Quoin | None:
    """Return which of the shop's quoins an item is.

    It is the one whose name was written down, or else one of its length, opened as near as can be to its range.
    ``None`` if the shop has no quoin of that length.
    """
    alike = [quoin for quoin in quoins if abs(quoin.length - item.length) <= SLACK]
    named = [quoin for quoin in alike if quoin.name == item.pattern]
    return min(
        named or alike,
        key=lambda q: max(0.0, q.closed - item.thickness, item.thickness - q.closed - q.most_open),
        default=None,
    )


_OF_A_CHASE = ("weight", "clear_corners", "count", "bed")  # the shop's to say, not the record's
_OF_A_JOB = ("name", "date", "press", "hand")
_PIECE: dict[str, Any] = {
    "positive": ("thickness", "length", "width", "height"),
    "whole": ("order",),
    "texts": ("pattern",),
    "choices": {"side": SIDES, "kind": KINDS},
}


def _said(part: Any) -> dict[str, Any]:
    """Return a dataclass as plain values, without what there isn't."""
    return {key: value for key, value in asdict(part).items() if value is not None}


def _read_form(entry: Any, what: str) -> PlacedForm:
    return read_one(PlacedForm, entry, what, positive=("width", "height"))


def _read_intent(entry: Any) -> Intent:
    sheet = entry.get("sheet") if isinstance(entry, Mapping) else None
    bare = {key: value for key, value in entry.items() if key != "sheet"} if sheet is not None else entry
    intent = read_one(Intent, bare, "intent", at_least=("tolerance",), optional=("sheet",))
    return replace(intent, sheet=_read_form(sheet, "sheet")) if sheet is not None else intent


def _read_block(entry: Any) -> Block:
    expect_keys(entry, "block", ("forms", "pieces"))
    return Block(
        read_row(PlacedForm, entry["forms"], "the block's forms", "block's form", positive=("width", "height")),
        read_row(
            Filling,
            entry["pieces"],
            "the block's pieces",
            "block's piece",
            positive=_PIECE["positive"],
            choices={"kind": FILLINGS},
        ),
    )
