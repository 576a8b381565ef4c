"""What lies in the cabinet, read from the file: grids of counts, single lines, ranges of lengths, worn pieces."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from stonework.saying import shown_value
from stonework.shop.lines import Path
from stonework.shop.reading import Reading, size_words
from stonework.shop.things import Material, MaterialKind

_LONGEST_RANGE = 1000
_MOST_SIZES = 5000  # of all kinds; our own figure, ten times what the largest cabinet here holds
_LINE = re.compile(r"([0-9]+) +(?:of +)?(.+?) *[×x] *(.+)")
_A_LINE = 'a line such as "3 of 6 picas × 22 picas"'
_RANGE = re.compile(r"([0-9]+) +to +([0-9]+)(.*)")


@dataclass
class Stock:
    """What was counted so far, in the parts of ``Shop``, and where in the file each size stands."""

    counts: dict[Material, int] = field(default_factory=dict)
    places: dict[Material, Path] = field(default_factory=dict)
    keep: set[Material] = field(default_factory=set)
    kept_as: dict[Material, Material] = field(default_factory=dict)
    labels: dict[Material, str] = field(default_factory=dict)
    full: bool = False

    def of(self, *kinds: MaterialKind) -> dict[Material, int]:
        """Return the counts of some kinds."""
        return {material: count for material, count in self.counts.items() if material.kind in kinds}

    def add(self, read: Reading, material: Material, count: Any, where: Path) -> None:
        """Count a size, once."""
        number = read.count(count, where)
        if len(self.counts) == _MOST_SIZES:
            if not self.full:
                read.wrong(
                    where, f": with this more than {_MOST_SIZES} sizes are counted; no cabinet here holds so many"
                )
            self.full = True
        elif material in self.counts:
            read.wrong(
                where,
                f": {size_words(material.thickness, material.length)} is counted twice; one count for each size was "
                "expected",
            )
        else:
            self.counts[material], self.places[material] = number, where


def read_furniture(read: Reading, file: Mapping[str, Any], kind: Literal["furniture", "metal"], stock: Stock) -> None:
    """Read a table of wood or metal furniture: a grid of lengths and counts, single lines, or both."""
    table, where = read.table(file, kind), (kind,)
    if kind not in file:
        return
    read.only(table, where, ("lengths", "counts", "pieces", "labels"))
    if "pieces" not in table or "lengths" in table or "counts" in table:
        _grid(read, table, kind, stock)
    if "pieces" in table:
        _lines(read, table, kind, stock, where)
    _labels(read, table, kind, stock, where)


def _grid(read: Reading, table: Mapping[str, Any], kind: Literal["furniture", "metal"], stock: Stock) -> None:
    expected = 'a list of lengths such as ["10 picas", "15 picas"]'
    columns: list[float] | None = None
    if read.has(table, "lengths", (kind,), expected):
        lengths = table["lengths"]
        if isinstance(lengths, list) and lengths:
            columns = [read.points(length, (kind, "lengths", n)) for n, length in enumerate(lengths)]
        else:
            read.wrong((kind, "lengths"), f": {shown_value(lengths)} was read; {expected} was expected")
    for width, counts in read.table(table, "counts", (kind,)).items():
        where = (kind, "counts", width)
        thickness = read.points(width, where)
        if columns is None:
            continue
        if not isinstance(counts, list) or len(counts) != len(columns):
            read.wrong(
                where,
                f": {shown_value(counts)} was read; a list of {len(columns)} counts was expected, one for each of "
                f"{kind}.lengths",
            )
            continue
        for n, (length, count) in enumerate(zip(columns, counts, strict=True)):
            stock.add(read, Material(kind, thickness, length), count, (*where, n))


def read_reglet(read: Reading, table: Mapping[str, Any], stock: Stock) -> None:
    """Read the table of reglet: for each thickness how many of each length, single lines, or both."""
    for written in table:
        where = ("reglet", written)
        if written in ("pieces", "labels"):
            continue
        thickness = read.points(written, where)
        for lengths, count in read.table(table, written, ("reglet",)).items():
            number = read.count(count, (*where, lengths))
            for length in _range(read, lengths, (*where, lengths), stock):
                stock.add(read, Material("reglet", thickness, length), number, (*where, lengths))
    if "pieces" in table:
        _lines(read, table, "reglet", stock, ("reglet",))
    _labels(read, table, "reglet", stock, ("reglet",))


def read_strips(read: Reading, table: Mapping[str, Any], stock: Stock) -> None:
    """Read the leads and slugs that lie in the rack by their length."""
    if "pieces" in table:
        _lines(read, table, "lead", stock, ("spacing",))


def _lines(read: Reading, table: Mapping[str, Any], kind: MaterialKind, stock: Stock, where: Path) -> None:
    """Read single lines: text, or a table of the text with what is told of these pieces besides."""
    entries, at = table["pieces"], (*where, "pieces")
    if not isinstance(entries, list):
        read.wrong(at, f": {shown_value(entries)} was read; a list of lines such as {_A_LINE[7:]} was expected")
        return
    for n, entry in enumerate(entries):
        told = entry if isinstance(entry, dict) else {"pieces": entry}
        _one_line(read, told, kind, stock, (*at, n))


def _one_line(read: Reading, told: Mapping[str, Any], kind: MaterialKind, stock: Stock, where: Path) -> None:
    read.only(told, where, ("pieces", "measures", "keep", "place"))
    keep = read.yes(told, "keep", where)
    place = read.text(told, "place", where) if "place" in told else ""
    measured = read.length(told, "measures", where) if "measures" in told else None
    line = told.get("pieces")
    found = _LINE.fullmatch(line.strip()) if isinstance(line, str) else None
    if found is None:
        read.wrong(where, f": {shown_value(line)} was read; {_A_LINE} was expected")
        return
    thickness = read.points(found[2], where)
    for length in _range(read, found[3], where, stock):
        size = Material(kind, thickness, length)
        material = size if measured is None else size._replace(thickness=measured)
        stock.add(read, material, int(found[1][:9]), where)
        if keep:
            stock.keep.add(material)
        if material != size:
            stock.kept_as[material] = size
        if place:
            stock.labels[material] = place


def _labels(read: Reading, table: Mapping[str, Any], kind: MaterialKind, stock: Stock, where: Path) -> None:
    """Read the cabinet's own words: for a whole row by its thickness, or for one size."""
    if "labels" not in table:
        return
    labels = read.table(table, "labels", where)
    lying = [(_lying(stock, material), material) for material in stock.of(kind)]
    for written in labels:
        at = (*where, "labels", written)
        label = read.text(labels, written, (*where, "labels"))
        thickness, _, length = written.replace(" x ", "×").partition("×")
        size = [read.points(part, at) for part in (thickness, length) if part]
        there = [(place, material) for place, material in lying if list(place[1 : 1 + len(size)]) == size]
        if not there and all(points == points for points in size):
            read.wrong(at, ": no such size is counted; a thickness, or a size, that the table holds was expected")
        row = sorted({place.length for place, _ in there})
        for place, material in there:
            where_in_row = f", place {row.index(place.length) + 1}" if len(size) == 1 else ""
            stock.labels.setdefault(material, label + where_in_row)


def _lying(stock: Stock, material: Material) -> Material:
    """Return the size under which a piece lies in the cabinet."""
    return stock.kept_as.get(material, material)


def _range(read: Reading, written: str, where: Path, stock: Stock) -> Iterator[float]:
    """Read ``31 picas``, or ``10 to 60 picas`` as every whole pica between."""
    if " to " not in written:
        yield read.points(written, where)
        return
    found = _RANGE.fullmatch(written.strip())
    first, last = (int(found[n][:9]) for n in (1, 2)) if found else (0, 0)
    if not found or not 0 < last - first < _LONGEST_RANGE:
        read.wrong(where, ": a range such as “10 to 60 picas” was expected, smaller number first")
        return
    for n in range(first, last + 1):
        if stock.full:
            return
        with read.part() as tried:
            points = read.points(f"{n}{found[3]}", where)
        if not tried.sound:
            return
        yield points
