"""What a shop owns: presses, chases, wood, quoins, type and what spaces it, and its custom in placing forms."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal, NamedTuple, TypeVar

from stonework.units import write_length

WoodKind = Literal["furniture", "reglet"]
MaterialKind = Literal[WoodKind, "metal", "lead"]
QuoinKind = Literal["two wedges", "one piece"]
BearsOn = Literal["reglet", "any wood"]

LAST_NOTCH = 1.0
"""How far before the end of its travel a quoin must stop, in points; this workbook's own figure."""


AS_GOOD_AS_SHUT = 1.0
"""A quoin that is open less than this, in points, can't be slackened; this workbook's own figure."""

LEAST = 0.01
"""The least length that counts as one, in points: the solver reckons in hundredths."""


class Material(NamedTuple):
    """One size of wood or metal, in points: ``thickness`` is what it fills, ``length`` what it spans.

    A slug is a ``lead`` of 6 points or more.
    """

    kind: MaterialKind
    thickness: float
    length: float


@dataclass(frozen=True, slots=True)
class Chase:
    """An iron chase by its inside as measured, in points, and its weight in pounds, if it was weighed.

    ``clear_corners`` is how far from the iron, both ways, wood must keep in each corner, where the casting is round.
    ``count`` is how many there are alike. The ``bed`` of a press, on which a form is locked up without a chase, counts
    as one.
    """

    name: str
    width: float
    height: float
    weight: float | None = field(default=None, compare=False)
    clear_corners: float = field(default=0.0, compare=False)
    count: int = field(default=1, compare=False)
    bed: bool = field(default=False, compare=False)

    def __post_init__(self) -> None:
        _sizes(f"The chase “{self.name}”", width=self.width, height=self.height)
        if self.weight is not None and not (math.isfinite(self.weight) and self.weight > 0):
            raise ValueError(
                f"The chase “{self.name}” was given a weight of {self.weight} lb; it must be more than nothing."
            )


@dataclass(frozen=True, slots=True)
class Quoin:
    """One pattern of quoin, in points.

    ``closed`` is its thickness shut and ``travel`` how far it opens before its last notch, or its end. ``reserve`` is
    travel kept back for tightening, and ``rest`` the opening it should lie at before the key is used. ``gap`` is the
    least room between two in a row, and ``span`` the most of a form's side that one of them serves.

    ``kind`` is one of two families: two wedges that a key slides along each other, or one piece that a key spreads
    (S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912, p. 32). ``turn`` is how far a quarter turn of its key
    opens it with nothing pressing, ``None`` if nobody has measured that. It bears on reglet only, or on any wood.
    ``count`` is how many of them there are and ``keys`` how many of their keys, ``None`` if nobody has counted.
    """

    name: str
    length: float
    closed: float
    travel: float
    reserve: float
    rest: float
    gap: float
    span: float
    kind: QuoinKind = "two wedges"
    turn: float | None = None
    bears_on: BearsOn = "reglet"
    count: int | None = None
    keys: int | None = None

    def __post_init__(self) -> None:
        _sizes(f"The quoin “{self.name}”", length=self.length, closed=self.closed, span=self.span)
        if self.turn is not None:
            _sizes(f"The quoin “{self.name}”", turn=self.turn)

    @property
    def most_open(self) -> float:
        """How far it may be open when finger-tight, in points: what is beyond that is its reserve."""
        return self.travel - self.reserve

    @property
    def most_tight(self) -> float:
        """How far tightening may open it, in points: into its reserve, but never to its last notch."""
        return self.travel - LAST_NOTCH

    def allow(self, opening: float) -> None:
        """Refuse, by ``ValueError`` with a sentence, an opening in points that is beyond its travel."""
        if opening > self.travel + LEAST:
            raise ValueError(
                f"The {self.name} would have to open {write_length(round(opening, 2))}, and its travel ends at "
                f"{write_length(self.travel)}: put in more wood."
            )


@dataclass(frozen=True, slots=True)
class Body:
    """A size of type in points, and how wide its spaces are, from the thinnest to the em."""

    size: float
    spaces: Sequence[float]


@dataclass(frozen=True, slots=True)
class Placing:
    """A shop's custom in placing forms, in points.

    A form stands ``right`` of the middle of the chase and ``up`` from it; less than 0 is left, or down. ``guides`` are
    the sides of the chase at which the paper's guides stand, and so the solid ones. The grippers take the sheet at the
    edges in ``grippers``, as it is read, and come ``bite`` over it. ``tolerance`` is how far off its place a form may
    stand each way.
    """

    right: float = 0.0
    up: float = 0.0
    guides: tuple[Literal["bottom", "top"], Literal["left", "right"]] = ("bottom", "left")
    grippers: tuple[Literal["left", "right"], ...] = ()
    bite: float = 0.0
    tolerance: float = 6.0


@dataclass(frozen=True, slots=True)
class Press:
    """A press, the chases that it takes by their names, and its own custom in placing forms.

    ``usable`` is the width and height, in points, of what the press prints round the middle of its chase or bed;
    ``None`` if nobody has measured that.
    """

    name: str
    chases: Sequence[str] = ()
    placing: Placing = Placing()
    usable: tuple[float, float] | None = None


class Mount(NamedTuple):
    """A cut on its mount, or a base that cuts are fixed to: its size in points, and how many there are."""

    name: str
    width: float
    height: float
    count: int = 1


@dataclass(frozen=True)
class Shop:
    """What the shop owns, and its custom in placing forms.

    ``stock`` says how many there are of each ``Material`` of wood, ``metal`` of metal furniture and ``strips`` of leads
    and slugs that lie in the rack by their length. What is in ``keep`` is used last. A worn piece counts by what it
    measures: ``kept_as`` says under which size it lies. ``labels`` are the cabinet's own words for its places, by size.

    ``leads`` and ``slugs`` are the strips that are cut to any length and ``thins`` the brass and copper that go
    between letters, each by its thickness in points, thinnest first.
    """

    name: str
    chases: Sequence[Chase]
    stock: Mapping[Material, int]
    quoins: Sequence[Quoin]
    bodies: Sequence[Body] = ()
    leads: Sequence[float] = ()
    slugs: Sequence[float] = ()
    thins: Sequence[float] = ()
    placing: Placing = Placing()
    metal: Mapping[Material, int] = field(default_factory=dict)
    strips: Mapping[Material, int] = field(default_factory=dict)
    presses: Sequence[Press] = ()
    keep: frozenset[Material] = frozenset()
    kept_as: Mapping[Material, Material] = field(default_factory=dict)
    labels: Mapping[Material, str] = field(default_factory=dict)
    bases: Sequence[Mount] = ()
    cuts: Sequence[Mount] = ()

    @property
    def pieces(self) -> dict[Material, int]:
        """How many there are of every size of wood, of metal furniture, and of leads and slugs kept by length."""
        return {**self.stock, **self.metal, **self.strips}

    def without(self, used: Iterable[Material]) -> Shop:
        """Return the shop without some pieces; a size that is used up is still one that it lists."""
        taken = Counter(used)
        left = {
            name: {size: max(0, there - taken[size]) for size, there in getattr(self, name).items()}
            for name in ("stock", "metal", "strips")
        }
        return replace(self, **left)

    def __str__(self) -> str:
        chases = sum(chase.count for chase in self.chases if not chase.bed)
        held = {kind: sum(n for m, n in self.stock.items() if m.kind == kind) for kind in ("furniture", "reglet")}
        parts = [
            _many(chases, "chase"),
            f"{_many(held['furniture'], 'piece')} of furniture",
            f"{held['reglet']} of reglet",
        ]
        if self.metal:
            parts.append(f"{sum(self.metal.values())} of metal")
        if self.strips:
            parts.append(f"{sum(self.strips.values())} leads and slugs by length")
        parts += [_many(len(self.quoins), "pattern") + " of quoin", _many(len(self.bodies), "size") + " of type"]
        if self.presses:
            parts.insert(0, _many(len(self.presses), "press", "presses"))
        return f"{self.name}: {', '.join(parts)}."

    def chase(self, name: str) -> Chase:
        """Return the chase of that name; ``KeyError`` with a sentence if there is none."""
        return _named("chase", name, self.chases)

    def quoin(self, name: str) -> Quoin:
        """Return the quoin of that name; ``KeyError`` with a sentence if there is none."""
        return _named("quoin", name, self.quoins)

    def press(self, name: str) -> Press:
        """Return the press of that name; ``KeyError`` with a sentence if there is none."""
        return _named("press", name, self.presses)

    def custom(self, press: str | None = None) -> Placing:
        """Return the custom of a press in placing forms: the shop's own for none, or one that isn't known."""
        return next((one.placing for one in self.presses if one.name == press), self.placing)

    def chases_of(self, press: str | None = None) -> tuple[Chase, ...]:
        """Return the chases that a press takes, its bed among them; all of the shop's for none, or an unknown one."""
        for one in self.presses:
            if one.name == press:
                return tuple(chase for chase in self.chases if chase.name in one.chases)
        return tuple(self.chases)

    @classmethod
    def load(cls, path: str | Path) -> Shop:
        """Read a shop file (TOML).

        Raises ``ShopFileError``: every mistake in it, with its line, what was read and what was expected.
        """
        from stonework.shop.file import load

        return load(path)


def _many(count: int, one: str, more: str = "") -> str:
    return f"{count} {one if count == 1 else more or one + 's'}"


def _sizes(what: str, **sizes: float) -> None:
    for name, value in sizes.items():
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{what} was given a {name} of {value} pt; it must be more than nothing.")


_One = TypeVar("_One", Chase, Quoin, Press)


def _named(what: str, name: str, among: Sequence[_One]) -> _One:
    for one in among:
        if one.name == name.removeprefix("the "):
            return one
    have = ", ".join(f"“{one.name}”" for one in among) or "none at all"
    raise KeyError(f"This shop has no {what} called “{name}”; it has {have}.")
