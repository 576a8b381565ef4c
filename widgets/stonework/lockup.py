"""The record of a lockup: what lies where in the chase. Pure data and geometry.

Lengths are points. The origin is the chase's inner lower left corner, looking down on the stone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from typing import Any, Literal, get_args

from stonework.shop import Chase, Material, Quoin

Side = Literal["bottom", "left", "top", "right"]
Kind = Literal["furniture", "reglet", "quoin"]
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
    """One piece of wood or one quoin where it lies, in points.

    ``order`` counts outward from the form; the quoins of one row share theirs. A quoin's ``thickness`` is
    its opened thickness.
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

    @property
    def material(self) -> Material:
        """The size to look for in the cabinet; ``ValueError`` for a quoin, which isn't wood."""
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
class Lockup:
    """A form, its chase, and everything between them.

    If the form was built up from smaller ones, ``block`` says how. ``intent`` is a wish, not something that lies on
    the stone: it isn't compared.
    """

    chase: Chase
    form: PlacedForm
    arrangement: str
    items: tuple[Item, ...]
    intent: Intent | None = field(default=None, compare=False)
    block: Block | None = None

    def on(self, side: Side) -> tuple[Item, ...]:
        """Return the items of one side, from the form outward."""
        return tuple(sorted((item for item in self.items if item.side == side), key=lambda item: item.order))

    def quoins(self, side: Side) -> tuple[Item, ...]:
        """Return the quoins of one side."""
        return tuple(item for item in self.on(side) if item.kind == "quoin")

    @property
    def quoin_sides(self) -> tuple[Side, ...]:
        """The sides that hold quoins, in the order of ``SIDES``."""
        return tuple(side for side in SIDES if self.quoins(side))

    @property
    def wood(self) -> tuple[Item, ...]:
        """Every piece of furniture and reglet."""
        return tuple(item for item in self.items if item.kind != "quoin")

    @property
    def type_area(self) -> PlacedForm:
        """The least rectangle round all the type: the form itself, unless it was built up from smaller ones."""
        return _round(self.block.forms) if self.block else self.form

    @property
    def materials(self) -> tuple[Material, ...]:
        """The size of every piece that came from the cabinet: those in the block, then those of the lockup."""
        inside = self.block.materials if self.block else ()
        return (*inside, *(item.material for item in self.wood))

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
            "items": [asdict(item) for item in self.items],
        }
        if self.intent:
            record["intent"] = {key: part for key, part in asdict(self.intent).items() if part is not None}
        if self.block:
            record["block"] = {
                "forms": [asdict(form) for form in self.block.forms],
                "pieces": [asdict(piece) for piece in self.block.pieces],
            }
        return record

    @classmethod
    def from_dict(cls, record: Mapping[str, Any]) -> Lockup:
        """Read a record back. Raises ``ValueError``: a sentence that names the key and what was expected."""
        _expect_keys(
            record, "the lockup", ("unit", "chase", "form", "arrangement", "items"), optional=("intent", "block")
        )
        if record["unit"] != UNIT:
            raise ValueError(f"The lockup's unit was read as {record['unit']!r}; {UNIT!r} was expected.")
        chase = _read(Chase, record["chase"], "chase", positive=("width", "height"), optional=("weight",))
        form = _read(PlacedForm, record["form"], "form", positive=("width", "height"))
        arrangement = _word(record["arrangement"], "arrangement")
        items = _read_row(Item, record["items"], "the lockup's items", "item", positive=_SIZES)
        intent = None
        if "intent" in record:
            intent = _read(Intent, record["intent"], "intent", at_least=("tolerance",), optional=("sheet",))
        block = _read_block(record["block"]) if "block" in record else None
        return cls(chase, form, arrangement, items, intent, block)


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
    """Return which of the shop's quoins an item is: of its length, and opened as near as can be to its range.

    ``None`` if the shop has no quoin of that length.
    """
    alike = [quoin for quoin in quoins if abs(quoin.length - item.length) <= SLACK]
    return min(
        alike,
        key=lambda q: max(0.0, q.closed - item.thickness, item.thickness - q.closed - q.most_open),
        default=None,
    )


_CHOICES: dict[tuple[type, str], tuple[str, ...]] = {
    (Item, "side"): SIDES,
    (Item, "kind"): KINDS,
    (Filling, "kind"): FILLINGS,
}
_SIZES = ("thickness", "length", "width", "height")


def _read_block(entry: Any) -> Block:
    _expect_keys(entry, "block", ("forms", "pieces"))
    return Block(
        _read_row(PlacedForm, entry["forms"], "the block's forms", "block's form", positive=("width", "height")),
        _read_row(Filling, entry["pieces"], "the block's pieces", "block's piece", positive=_SIZES),
    )


def _read_row(cls: type, entries: Any, what: str, one: str, *, positive: tuple[str, ...]) -> tuple[Any, ...]:
    if not isinstance(entries, list | tuple):
        raise ValueError(f"{what.capitalize()} were read as {entries!r}; a list was expected.")
    return tuple(_read(cls, entry, f"{one} {n}", positive=positive) for n, entry in enumerate(entries, 1))


def _read(
    cls: type,
    entry: Any,
    what: str,
    *,
    positive: tuple[str, ...] = (),
    at_least: tuple[str, ...] = (),
    optional: tuple[str, ...] = (),
) -> Any:
    """Build one dataclass from its dict, checking each value as its name demands.

    What is named in ``at_least`` may be nothing, and what is ``optional`` may be left out.
    """
    names = tuple(name for name in cls.__dataclass_fields__ if name not in optional)
    _expect_keys(entry, what, names, optional=optional)
    values: dict[str, Any] = {}
    for name in (*names, *(name for name in optional if name in entry)):
        value, where = entry[name], f"{what}'s {name}"
        if choices := _CHOICES.get((cls, name)):
            if value not in choices:
                expected = ", ".join(choices)
                raise ValueError(f"The {where} was read as {value!r}; one of {expected} was expected.")
        elif name == "sheet":
            value = _read(PlacedForm, value, name, positive=("width", "height"))
        elif name == "name":
            value = _word(value, where)
        elif name == "order":
            if not isinstance(value, int) or isinstance(value, bool) or value < 1:
                raise ValueError(f"The {where} was read as {value!r}; a whole number from 1 was expected.")
        elif not isinstance(value, int | float) or isinstance(value, bool) or not _finite(value):
            raise ValueError(f"The {where} was read as {value!r}; a number of points was expected.")
        elif name in positive and value <= 0:
            raise ValueError(f"The {where} was read as {value!r}; more than nothing was expected.")
        elif name in at_least and value < 0:
            raise ValueError(f"The {where} was read as {value!r}; nothing or more was expected.")
        values[name] = value
    return cls(**values)


def _finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:  # a whole number too large for a float
        return False


def _expect_keys(entry: Any, what: str, names: tuple[str, ...], *, optional: tuple[str, ...] = ()) -> None:
    if not isinstance(entry, Mapping):
        raise ValueError(f"{what.capitalize()} was read as {entry!r}; a table of named values was expected.")
    missing = [name for name in names if name not in entry]
    unknown = [str(key) for key in entry if key not in (*names, *optional)]
    if missing or unknown:
        wrong = f"lacks {', '.join(missing)}" if missing else f"holds {', '.join(unknown)}, which isn't known here"
        raise ValueError(f"{what.capitalize()} {wrong}; expected: {', '.join(names)}.")


def _word(value: Any, where: str) -> str:
    if not isinstance(value, str):
        raise ValueError(f"The {where} was read as {value!r}; a word was expected.")
    return value
