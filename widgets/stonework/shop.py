"""What a shop owns: chases, wood, quoins, type and what spaces it, read from a file an instructor edits."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal, NamedTuple, TypeVar, get_args

from stonework.units import read_length, read_weight, write_length

WoodKind = Literal["furniture", "reglet"]
MaterialKind = Literal[WoodKind, "metal"]
QuoinKind = Literal["two wedges", "one piece"]
BearsOn = Literal["reglet", "any wood"]

LAST_NOTCH = 1.0
"""How far before the end of its travel a quoin must stop, in points; this workbook's own figure."""


class ShopFileError(ValueError):
    """A shop file that can't be used; its text is a sentence for the instructor."""


class Material(NamedTuple):
    """One size of wood or metal furniture, in points: ``thickness`` is what it fills, ``length`` what it spans."""

    kind: MaterialKind
    thickness: float
    length: float


@dataclass(frozen=True, slots=True)
class Chase:
    """An iron chase by its inside, in points, and its weight in pounds, if it was weighed."""

    name: str
    width: float
    height: float
    weight: float | None = field(default=None, compare=False)

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
        if opening > self.travel + _LEAST:
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


@dataclass(frozen=True)
class Shop:
    """What the shop owns, and its custom in placing forms.

    ``stock`` says how many there are of each ``Material`` of wood, ``metal`` of metal furniture.

    ``leads`` and ``slugs`` are the strips that go between lines and ``thins`` the brass and copper that go
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

    def __str__(self) -> str:
        held = {kind: sum(n for m, n in self.stock.items() if m.kind == kind) for kind in ("furniture", "reglet")}
        metal = f"{sum(self.metal.values())} of metal, " if self.metal else ""
        return (
            f"{self.name}: {len(self.chases)} chases, {held['furniture']} pieces of furniture, "
            f"{held['reglet']} of reglet, {metal}{len(self.quoins)} patterns of quoin, "
            f"{len(self.bodies)} sizes of type."
        )

    def chase(self, name: str) -> Chase:
        """Return the chase of that name; ``KeyError`` with a sentence if there is none."""
        return _named("chase", name, self.chases)

    def quoin(self, name: str) -> Quoin:
        """Return the quoin of that name; ``KeyError`` with a sentence if there is none."""
        return _named("quoin", name, self.quoins)

    @classmethod
    def load(cls, path: str | Path) -> Shop:
        """Read a shop file (TOML).

        Raises ``ShopFileError``: the line or key, what is wrong there and what was expected.
        """
        path = Path(path)
        try:
            text = path.read_text(encoding="utf-8-sig")  # some editors sign their files
        except UnicodeDecodeError as error:
            raise ShopFileError(f"{path.name} isn't plain UTF-8 text; save it as plain text.") from error
        except (OSError, ValueError) as error:
            why = getattr(error, "strerror", None) or str(error)
            raise ShopFileError(f"The shop file {path} can't be opened: {why}.") from error
        try:
            table = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            raise ShopFileError(f"{path.name} can't be read as a shop file: {error}.") from error
        except (ValueError, RecursionError) as error:
            raise ShopFileError(f"{path.name} holds a number or a nesting beyond all reason: {error}.") from error
        try:
            return _read_shop(table)
        except ShopFileError as error:
            # A key may hold a line break of its own.
            raise ShopFileError(f"{path.name}, {' '.join(str(error).split())}") from error.__cause__
        except ValueError as error:
            raise ShopFileError(f"{path.name} holds a number beyond all reason: {error}.") from error


def _sizes(what: str, **sizes: float) -> None:
    for name, value in sizes.items():
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{what} was given a {name} of {value} pt; it must be more than nothing.")


_One = TypeVar("_One", Chase, Quoin)


def _named(what: str, name: str, among: Sequence[_One]) -> _One:
    for one in among:
        if one.name == name:
            return one
    have = ", ".join(f"“{one.name}”" for one in among) or "none at all"
    raise KeyError(f"This shop has no {what} called “{name}”; it has {have}.")


# --- reading the file -------------------------------------------------------------------------------------
# Each reader takes the place it reads from, as the instructor would find it in the file, and either returns
# a value or raises a sentence about that place.

_STRIPS = ("leads", "slugs", "thins")
_QUOIN_LENGTHS = ("length", "closed", "travel", "reserve", "rest", "gap", "span")


def _read_shop(table: dict[str, Any]) -> Shop:
    _only(table, "", ("name", "chase", "furniture", "reglet", "metal", "quoin", "type", "spacing", "placing"))
    chases = [_read_chase(entry, where) for where, entry in _entries(table, "chase")]
    quoins = [_read_quoin(entry, where) for where, entry in _entries(table, "quoin")]
    _no_twins("chase", [chase.name for chase in chases])
    _no_twins("quoin", [quoin.name for quoin in quoins])
    stock = _read_furniture(table, "furniture") | _read_reglet(_table(table, "reglet", ""))
    metal = _read_furniture(table, "metal") if "metal" in table else {}  # an older shop file has none
    bodies = [_read_body(entry, where) for where, entry in _entries(table, "type")]
    _no_twins("type", [write_length(body.size) for body in bodies])
    spacing = _table(table, "spacing", "")
    _only(spacing, "spacing", _STRIPS)
    strips = {key: _thicknesses(spacing, key, "spacing") for key in _STRIPS}
    placing = _read_placing(_table(table, "placing", "")) if "placing" in table else Placing()
    return Shop(
        _text(table, "name", ""),
        tuple(chases),
        stock,
        tuple(quoins),
        tuple(bodies),
        **strips,
        placing=placing,
        metal=metal,
    )


def _read_chase(entry: dict[str, Any], where: str) -> Chase:
    _only(entry, where, ("name", "inside_width", "inside_height", "weight"))
    return Chase(
        _text(entry, "name", where),
        _length(_get(entry, "inside_width", where, _A_LENGTH), f"{where}.inside_width"),
        _length(_get(entry, "inside_height", where, _A_LENGTH), f"{where}.inside_height"),
        _weight(entry["weight"], f"{where}.weight") if "weight" in entry else None,
    )


def _read_quoin(entry: dict[str, Any], where: str) -> Quoin:
    _only(entry, where, ("name", *_QUOIN_LENGTHS, "kind", "turn", "bears_on"))
    may_be_nothing = ("reserve", "rest", "gap")
    lengths = {
        key: _length(_get(entry, key, where, _A_LENGTH), f"{where}.{key}", nothing=key in may_be_nothing)
        for key in _QUOIN_LENGTHS
    }
    quoin = Quoin(
        _text(entry, "name", where),
        **lengths,
        kind=_one_of(entry, "kind", where, get_args(QuoinKind)),
        turn=_length(entry["turn"], f"{where}.turn") if "turn" in entry else None,
        bears_on=_one_of(entry, "bears_on", where, get_args(BearsOn)),
    )
    if quoin.reserve > quoin.travel:
        raise ShopFileError(
            f"{where}.reserve: {write_length(quoin.reserve)} is more than the whole travel of "
            f"{write_length(quoin.travel)}; a part of the travel was expected."
        )
    if quoin.rest > quoin.most_open:
        raise ShopFileError(
            f"{where}.rest: resting open at {write_length(quoin.rest)} leaves less than the reserve; "
            f"at most {write_length(quoin.most_open)} was expected."
        )
    return quoin


_PLACING = ("across", "up", "guides", "grippers", "bite", "tolerance")
_MIDDLE = "middle"


def _read_placing(table: dict[str, Any]) -> Placing:
    _only(table, "placing", _PLACING)
    guides = _words(table, "guides", "placing", ("bottom", "top", "left", "right"))
    upright, sideways = ([word for word in guides if word in pair] for pair in (("bottom", "top"), ("left", "right")))
    if len(upright) != 1 or len(sideways) != 1:
        raise ShopFileError(
            f'placing.guides: {list(guides)!r} was read; two sides that meet were expected, such as ["bottom", "left"].'
        )
    lengths = {
        key: _length(_get(table, key, "placing", _A_LENGTH), f"placing.{key}", nothing=True)
        for key in ("bite", "tolerance")
    }
    return Placing(
        _off_middle(table, "across", ("right", "left")),
        _off_middle(table, "up", ("above", "below")),
        (upright[0], sideways[0]),
        _words(table, "grippers", "placing", ("left", "right")),
        **lengths,
    )


def _off_middle(table: dict[str, Any], key: str, words: tuple[str, str]) -> float:
    """Read “middle”, or how far off it: “2 picas below”; less than 0 for the second of the two words."""
    more, less = words
    expected = f'"{_MIDDLE}", or a length and which way, such as "2 picas {less}",'
    written = _get(table, key, "placing", expected)
    if written == _MIDDLE:
        return 0.0
    length, _, way = written.strip().rpartition(" ") if isinstance(written, str) else ("", "", "")
    if way not in words:
        raise ShopFileError(f"placing.{key}: {written!r} was read; {expected} was expected.")
    points = _length(length, f"placing.{key}", nothing=True)
    return points if way == more else -points


def _words(table: dict[str, Any], key: str, where: str, known: tuple[str, ...]) -> tuple[Any, ...]:
    """Read a list of some of the words known, each once."""
    expected = f"a list of some of {', '.join(known)}"
    written = _get(table, key, where, expected)
    if not isinstance(written, list) or any(word not in known or written.count(word) > 1 for word in written):
        raise ShopFileError(f"{where}.{key}: {written!r} was read; {expected}, each once, was expected.")
    return tuple(written)


def _read_body(entry: dict[str, Any], where: str) -> Body:
    _only(entry, where, ("body", "spaces"))
    size = _length(_get(entry, "body", where, _A_LENGTH), f"{where}.body")
    spaces = _thicknesses(entry, "spaces", where)
    if abs(spaces[-1] - size) > _LEAST:
        raise ShopFileError(
            f"{where}.spaces: the widest was read as {write_length(spaces[-1])}; the em, as wide as the body's "
            f"{write_length(size)}, was expected last."
        )
    return Body(size, spaces)


def _thicknesses(table: dict[str, Any], key: str, where: str) -> tuple[float, ...]:
    """Read a list of thicknesses, each thicker than the one before."""
    expected = 'a list of thicknesses such as ["1 pt", "2 pt"], thinnest first'
    written = _get(table, key, where, expected)
    if not isinstance(written, list) or not written:
        raise ShopFileError(f"{where}.{key}: {written!r} was read; {expected} was expected.")
    found = tuple(_length(one, f"{where}.{key}, entry {n}") for n, one in enumerate(written, 1))
    if any(thicker - thinner < _LEAST for thinner, thicker in pairwise(found)):
        raise ShopFileError(f"{where}.{key}: {written!r} was read; each thicker than the one before was expected.")
    return found


def _read_furniture(file: dict[str, Any], kind: Literal["furniture", "metal"]) -> dict[Material, int]:
    """Read the table of wood or metal furniture: the lengths, and for each width how many there are of each."""
    table = _table(file, kind, "")
    _only(table, kind, ("lengths", "counts"))
    expected = 'a list of lengths such as ["10 picas", "15 picas"]'
    lengths = _get(table, "lengths", kind, expected)
    if not isinstance(lengths, list) or not lengths:
        raise ShopFileError(f"{kind}.lengths: {lengths!r} was read; {expected} was expected.")
    columns = [_length(length, f"{kind}.lengths, entry {n}") for n, length in enumerate(lengths, 1)]
    stock: dict[Material, int] = {}
    for width, counts in _table(table, "counts", kind).items():
        where = f'{kind}.counts."{width}"'
        thickness = _length(width, where)
        if not isinstance(counts, list) or len(counts) != len(columns):
            raise ShopFileError(
                f"{where}: {counts!r} was read; a list of {len(columns)} counts was expected, "
                f"one for each of {kind}.lengths."
            )
        for n, (length, count) in enumerate(zip(columns, counts, strict=True), 1):
            _add(stock, Material(kind, thickness, length), count, f"{where}, entry {n}")
    return stock


def _read_reglet(table: dict[str, Any]) -> dict[Material, int]:
    stock: dict[Material, int] = {}
    for written in table:
        thickness = _length(written, f'reglet."{written}"')
        for lengths, count in _table(table, written, "reglet").items():
            where = f'reglet."{written}"."{lengths}"'
            for length in _whole_range(lengths, where):
                _add(stock, Material("reglet", thickness, length), count, where)
    return stock


def _whole_range(written: str, where: str) -> list[float]:
    """Read ``31 picas``, or ``10 to 60 picas`` as every whole pica between."""
    first, to, last = written.partition(" to ")
    if not to:
        return [_length(written, where)]
    first, last_picas, unit = first.strip(), *(last.strip().partition(" ")[::2])
    if not (first.isdecimal() and last_picas.isdecimal() and 0 < int(last_picas) - int(first) < _LONGEST_RANGE):
        raise ShopFileError(f"{where}: a range such as “10 to 60 picas” was expected, smaller number first.")
    return [_length(f"{n} {unit}", where) for n in range(int(first), int(last_picas) + 1)]


def _add(stock: dict[Material, int], material: Material, count: Any, where: str) -> None:
    if not isinstance(count, int) or isinstance(count, bool) or count < 0:
        raise ShopFileError(f"{where}: {count!r} was read; a whole number of pieces was expected.")
    if material in stock:
        raise ShopFileError(
            f"{where}: {write_length(material.thickness)} × {write_length(material.length)} is counted twice; "
            "one count for each size was expected."
        )
    stock[material] = count


_LEAST = 0.01  # in points; the solver reckons in hundredths
_LONGEST_RANGE = 1000
_A_LENGTH = 'a length with its unit, such as "27 picas" or "12 in"'


def _length(value: Any, where: str, *, nothing: bool = False) -> float:
    if not isinstance(value, str):
        raise ShopFileError(f"{where}: {value!r} was read; {_A_LENGTH} in quotation marks was expected.")
    try:
        points = read_length(value)
    except ValueError as error:
        raise ShopFileError(f"{where}: {error}") from error
    if not nothing and points < _LEAST:
        raise ShopFileError(f"{where}: {value!r} was read; a length of more than nothing was expected.")
    return points


def _at(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key


def _get(table: dict[str, Any], key: str, where: str, expected: str) -> Any:
    if key not in table:
        raise ShopFileError(f"{_at(where, key)} is missing; {expected} was expected.")
    return table[key]


def _weight(value: Any, where: str) -> float:
    expected = 'a weight with its unit, such as "10 lb" or "4.5 kg",'
    if not isinstance(value, str):
        raise ShopFileError(f"{where}: {value!r} was read; {expected} in quotation marks was expected.")
    try:
        pounds = read_weight(value)
    except ValueError as error:
        raise ShopFileError(f"{where}: {error}") from error
    if pounds <= 0:
        raise ShopFileError(f"{where}: {value!r} was read; a weight of more than nothing was expected.")
    return pounds


def _one_of(table: dict[str, Any], key: str, where: str, words: tuple[Any, ...]) -> Any:
    """Read one of some words; the first of them where an older file says nothing."""
    written = table.get(key, words[0])
    if written not in words:
        expected = " or ".join(f'"{word}"' for word in words)
        raise ShopFileError(f"{_at(where, key)}: {written!r} was read; {expected} was expected.")
    return written


def _text(table: dict[str, Any], key: str, where: str) -> str:
    value = _get(table, key, where, "a name")
    if not isinstance(value, str) or not value.strip():
        raise ShopFileError(f"{_at(where, key)}: {value!r} was read; a name in quotation marks was expected.")
    return value


def _table(table: dict[str, Any], key: str, where: str) -> dict[str, Any]:
    value = _get(table, key, where, "a table")
    if not isinstance(value, dict):
        raise ShopFileError(f"{_at(where, key)}: {value!r} was read; a table was expected.")
    return value


def _entries(table: dict[str, Any], key: str) -> list[tuple[str, dict[str, Any]]]:
    """Return the [[key]] entries, each with its place in the file; at least one."""
    entries = _get(table, key, "", f"at least one [[{key}]] table")
    if not isinstance(entries, list) or not entries or not all(isinstance(entry, dict) for entry in entries):
        raise ShopFileError(f"{key}: {entries!r} was read; one or more [[{key}]] tables were expected.")
    return [(f"{key} {n}", entry) for n, entry in enumerate(entries, 1)]


def _only(table: dict[str, Any], where: str, keys: tuple[str, ...]) -> None:
    for key in table:
        if key not in keys:
            raise ShopFileError(f"{_at(where, key)} isn't a key this file knows; expected here: {', '.join(keys)}.")


def _no_twins(what: str, names: list[str]) -> None:
    for name in names:
        if names.count(name) > 1:
            raise ShopFileError(f"{what}: the name “{name}” is used twice; each {what} needs its own name.")
