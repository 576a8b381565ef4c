"""The shop file: what a printer writes in an evening, read whole, with everything that is wrong in it at once."""

from __future__ import annotations

import errno
import re
import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import Any, get_args

from stonework.files import read_plain
from stonework.saying import shown, shown_value
from stonework.shop.broken import what_is_wrong
from stonework.shop.lines import Path, lines_of
from stonework.shop.reading import Note, Reading
from stonework.shop.slips import likely_slips
from stonework.shop.stock import Stock, read_furniture, read_reglet, read_strips
from stonework.shop.things import (
    LEAST,
    BearsOn,
    Body,
    Chase,
    Mount,
    Placing,
    Press,
    Quoin,
    QuoinKind,
    Shop,
)
from stonework.units import POINTS_PER_INCH, write_length

VERSION = 2
"""The version of shop files that this workbook writes of; a file that says nothing is of version 1."""

MOST_TOLD = 25
"""The most mistakes that are told at once: whoever mends those finds the others mended, or soon told."""

_LARGEST = 120 * POINTS_PER_INCH  # of a chase or bed: our own figure, beyond any hand press
_LONGEST_LINE = 2500
_MANY_PARTS = re.compile(r"(?:(?:(?<![\w-])[\w-]++|\"[^\"]*\"|'[^']*')[ \t]*\.[ \t]*){12}")  # a.b.c and so on
_BIGGEST = 250_000  # bytes; a shop file is some ten thousand


class ShopFileError(ValueError):
    """A shop file, or one beside it, that can't be used.

    Its text is for the instructor, and ``mistakes`` are all of them, each alone.
    """

    def __init__(self, name: str, mistakes: list[Note]) -> None:
        self.mistakes = tuple(mistakes)
        if len(mistakes) == 1:
            super().__init__(f"{name}, {mistakes[0]}")
        else:
            told = " ".join(f"({n}) {note}" for n, note in enumerate(mistakes[:MOST_TOLD], 1))
            more = f" And {len(mistakes) - MOST_TOLD} more." if len(mistakes) > MOST_TOLD else ""
            super().__init__(f"{name} holds {len(mistakes)} mistakes. {told}{more}")

    def _render_traceback_(self) -> list[str]:
        """Show the sentence alone in a notebook, which asks for this instead of its traceback."""
        return [str(self)]


class CannotOpen(ShopFileError):
    """A file that can't even be read as text."""

    def __init__(self, sentence: str) -> None:
        ValueError.__init__(self, sentence)
        self.mistakes = (Note(None, sentence),)


@dataclass(frozen=True)
class ShopFile:
    """A shop file that was read: the shop, if nothing in it was wrong, its mistakes, and what to ask about."""

    name: str
    shop: Shop | None
    mistakes: tuple[Note, ...] = ()
    questions: tuple[Note, ...] = field(default=())


def load(path: str | FilePath) -> Shop:
    """Return the shop of a file; ``ShopFileError`` with every mistake in it."""
    file = read_file(path)
    if file.shop is None:
        raise ShopFileError(file.name, list(file.mistakes))
    return file.shop


def read_file(path: str | FilePath) -> ShopFile:
    """Read a shop file; ``ShopFileError`` only if there is no text in it to read."""
    path = FilePath(path)
    table, reading = tables_in(text_of(path, "shop file"), path.name)
    shop = _Shop(table, reading).read() if table is not None else None
    return ShopFile(path.name, shop, tuple(sorted(reading.mistakes, key=_by_line)), tuple(reading.questions))


def tables_in(text: str, name: str) -> tuple[dict[str, Any] | None, Reading]:
    """Return the tables in TOML, or ``None`` if it is none, and a reading to note what is wrong in it.

    Raises ``ShopFileError`` for what no reading bears; ``name`` is the file's.
    """
    reading = Reading({})
    if line := _beyond_reason(text):
        reading.mistakes.append(Note(line, "this line is longer, or its key has more parts, than any file here needs."))
        return None, reading
    try:
        return tomllib.loads(text), Reading(lines_of(text))
    except tomllib.TOMLDecodeError as error:
        line, wrong = what_is_wrong(text, error)
        reading.mistakes.append(Note(line, f"{wrong}."))
        return None, reading
    except (ValueError, RecursionError) as error:
        raise CannotOpen(f"{shown(name)} holds a number or a nesting beyond all reason.") from error


def _beyond_reason(text: str) -> int:
    """Return the first line that would keep a reader of TOML busy for hours, from 1; 0 if there is none."""
    lines = enumerate(text.split("\n"), 1)
    return next((n for n, line in lines if len(line) > _LONGEST_LINE or _MANY_PARTS.search(line)), 0)


def text_of(path: FilePath, what: str) -> str:
    """Return the text of a file; ``ShopFileError`` if there is none to read. ``what`` says what the file is."""
    name = shown(path.name)
    try:
        text = read_plain(path, _BIGGEST).decode("utf-8-sig")  # some editors sign their files
    except UnicodeDecodeError as error:
        raise CannotOpen(f"{name} isn't plain UTF-8 text; save it as plain text.") from error
    except OSError as error:
        if error.errno == errno.EFBIG:
            raise CannotOpen(f"{name} is far larger than a {what} can be; look whether it is one.") from error
        raise CannotOpen(f"The {what} {shown(str(path), 120)} can't be opened: {error.strerror}.") from error
    except ValueError as error:  # a name may hold what no file's can
        raise CannotOpen(f"The {what} “{name}” can't be opened: that is no file's name.") from error
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _by_line(note: Note) -> int:
    return note.line or 0


_PARTS = ("version", "name", "chase", "press", "furniture", "reglet", "metal", "quoin", "type", "spacing", "placing")
_MOUNTS = ("base", "cut")
_QUOIN_LENGTHS = ("length", "closed", "travel", "reserve", "rest", "gap", "span")
_MAY_BE_NOTHING = ("reserve", "rest", "gap")
_PLACING = ("across", "up", "guides", "grippers", "bite", "tolerance")
_PRESS = ("name", "chases", "bed_width", "bed_height", "usable_width", "usable_height", *_PLACING)
_STRIPS = ("leads", "slugs", "thins")


def _at(table: Any, where: Path) -> Any:
    """Return what stands at a place in a file; ``None`` if nothing does."""
    for step in where:
        try:
            table = table[step]
        except (KeyError, IndexError, TypeError):
            return None
    return table


class _Shop:
    """One file on its way to being a shop."""

    def __init__(self, table: dict[str, Any], reading: Reading) -> None:
        self._table, self._read = table, reading

    def read(self) -> Shop | None:
        """Return the shop, or ``None`` if anything was wrong; all that was is in the reading."""
        read, table = self._read, self._table
        self._version()
        read.only(table, (), (*_PARTS, *_MOUNTS))
        name = read.text(table, "name", ())
        chases = [chase for where, entry in read.tables(table, "chase") if (chase := self._chase(entry, where))]
        placing = self._placing(read.table(table, "placing"), ("placing",)) if "placing" in table else Placing()
        presses = self._presses(chases, placing) if "press" in table else []
        quoins = [quoin for where, entry in read.tables(table, "quoin") if (quoin := self._quoin(entry, where))]
        stock = Stock()
        read_furniture(read, table, "furniture", stock)
        read_reglet(read, read.table(table, "reglet"), stock)
        if "metal" in table:
            read_furniture(read, table, "metal", stock)
        bodies = [self._body(entry, where) for where, entry in read.tables(table, "type")]
        read.no_twins("type", [(("type", n, "body"), write_length(b.size)) for n, b in enumerate(bodies) if b.spaces])
        spacing = read.table(table, "spacing")
        read.only(spacing, ("spacing",), (*_STRIPS, "pieces"))
        strips = {key: read.thicknesses(spacing, key, ("spacing",)) for key in _STRIPS}
        read_strips(read, spacing, stock)
        mounts = {key: self._mounts(key) if key in table else [] for key in _MOUNTS}
        if read.mistakes:
            return None
        shop = Shop(
            name,
            tuple(chases),
            stock.of("furniture", "reglet"),
            tuple(quoins),
            tuple(bodies),
            **strips,
            placing=placing,
            metal=stock.of("metal"),
            strips=stock.of("lead"),
            presses=tuple(presses),
            keep=frozenset(stock.keep),
            kept_as=stock.kept_as,
            labels=stock.labels,
            bases=tuple(mounts["base"]),
            cuts=tuple(mounts["cut"]),
        )
        for where, question in likely_slips(shop, stock.places, said=table):
            written = _at(table, where)
            read.ask(where, f"“{written}” was read: {question}" if isinstance(written, str) else question)
        return shop

    def _version(self) -> None:
        version = self._table.get("version", 1)
        if not isinstance(version, int) or isinstance(version, bool) or version < 1:
            self._read.wrong(("version",), f": {shown_value(version)} was read; a whole number from 1 was expected")
        elif version > VERSION:
            newer = f": the file is of version {shown_value(version)}, for a newer workbook; open it there"
            self._read.wrong(("version",), newer)

    def _chase(self, entry: dict[str, Any], where: Path) -> Chase | None:
        read = self._read
        with read.part() as tried:
            read.only(entry, where, ("name", "inside_width", "inside_height", "weight", "clear_corners", "count"))
            name = read.text(entry, "name", where)
            width, height = self._inside(entry, where, "inside_width", "inside_height")
            weight = read.weight(entry["weight"], (*where, "weight")) if "weight" in entry else None
            corners = read.length(entry, "clear_corners", where, nothing=True) if "clear_corners" in entry else 0.0
            count = read.count(entry["count"], (*where, "count"), "chases") if "count" in entry else 1
        self._no_twin("chase", name, where)
        return Chase(name, width, height, weight, corners, count) if tried.sound else None

    def _inside(self, entry: dict[str, Any], where: Path, width: str, height: str) -> tuple[float, float]:
        sizes = {key: self._read.length(entry, key, where) for key in (width, height)}
        for key, size in sizes.items():
            if size > _LARGEST:
                said = f": {shown_value(entry[key])} was read; no chase and no bed is longer than 10 feet"
                self._read.wrong((*where, key), said)
        return sizes[width], sizes[height]

    def _no_twin(self, what: str, name: str, where: Path) -> None:
        *_, n = where
        before = [(*where[:-1], m) for m in range(n)]
        names = [(at, self._table[what][at[-1]].get("name")) for at in before]
        if name and any(other == name for _, other in names):
            self._read.no_twins(what, [((*where, "name"), name)] * 2)

    def _quoin(self, entry: dict[str, Any], where: Path) -> Quoin | None:
        read = self._read
        with read.part() as tried:
            read.only(entry, where, ("name", *_QUOIN_LENGTHS, "kind", "turn", "bears_on", "count", "keys"))
            name = read.text(entry, "name", where)
            lengths = {key: read.length(entry, key, where, nothing=key in _MAY_BE_NOTHING) for key in _QUOIN_LENGTHS}
            kind = read.one_of(entry, "kind", where, get_args(QuoinKind))
            turn = read.length(entry, "turn", where) if "turn" in entry else None
            bears_on = read.one_of(entry, "bears_on", where, get_args(BearsOn))
            number = read.count(entry["count"], (*where, "count"), "quoins") if "count" in entry else None
            keys = read.count(entry["keys"], (*where, "keys"), "keys") if "keys" in entry else None
        self._no_twin("quoin", name, where)
        if lengths["reserve"] > lengths["travel"]:
            read.wrong(
                (*where, "reserve"),
                f": {write_length(lengths['reserve'])} is more than the whole travel of "
                f"{write_length(lengths['travel'])}; a part of the travel was expected",
            )
        elif lengths["rest"] > lengths["travel"] - lengths["reserve"]:
            read.wrong(
                (*where, "rest"),
                f": resting open at {write_length(lengths['rest'])} leaves less than the reserve; at most "
                f"{write_length(lengths['travel'] - lengths['reserve'])} was expected",
            )
        return (
            Quoin(name, **lengths, kind=kind, turn=turn, bears_on=bears_on, count=number, keys=keys)
            if tried.sound
            else None
        )

    def _presses(self, chases: list[Chase], custom: Placing) -> list[Press]:
        """Read the presses; the bed of one that has no chases is added to the chases."""
        read, presses = self._read, []
        names = tuple(chase.name for chase in chases)
        for where, entry in read.tables(self._table, "press"):
            read.only(entry, where, _PRESS)
            name = read.text(entry, "name", where)
            self._no_twin("press", name, where)
            # Without any chase that could be read, which is told, nothing can be said of their names.
            taken = read.words(entry, "chases", where, names) if "chases" in entry and names else ()
            if "bed_width" in entry or "bed_height" in entry:
                with read.part() as tried:
                    width, height = self._inside(entry, where, "bed_width", "bed_height")
                if tried.sound:
                    chases.append(Chase(f"bed of the {name}", width, height, bed=True))
                    taken = (*taken, chases[-1].name)
            elif "chases" not in entry:
                expected = "the names of its chases, or its bed's width and height, were expected"
                read.wrong((*where, "chases"), f" is missing; {expected}")
            usable = None
            if "usable_width" in entry or "usable_height" in entry:
                usable = (read.length(entry, "usable_width", where), read.length(entry, "usable_height", where))
            presses.append(Press(name, taken, self._placing(entry, where, custom), usable))
        return presses

    def _placing(self, table: dict[str, Any], where: Path, custom: Placing | None = None) -> Placing:
        """Read a custom in placing: whole, or as far as it differs from the shop's own."""
        read, own = self._read, {} if custom is None else table
        if custom is None:
            read.only(table, where, _PLACING)

        def said(key: str) -> bool:
            return custom is None or key in own

        values: dict[str, Any] = {}
        if said("across"):
            values["right"] = read.off_middle(table, "across", where, ("right", "left"))
        if said("up"):
            values["up"] = read.off_middle(table, "up", where, ("above", "below"))
        if said("guides"):
            values["guides"] = self._guides(table, where)
        if said("grippers"):
            values["grippers"] = read.words(table, "grippers", where, ("left", "right"))
        for key in ("bite", "tolerance"):
            if said(key):
                values[key] = read.length(table, key, where, nothing=True)
        return replace(custom or Placing(), **values)

    def _guides(self, table: dict[str, Any], where: Path) -> tuple[Any, Any]:
        guides = self._read.words(table, "guides", where, ("bottom", "top", "left", "right"))
        upright = [word for word in guides if word in ("bottom", "top")]
        sideways = [word for word in guides if word in ("left", "right")]
        if guides and not len(upright) == len(sideways) == 1:
            self._read.wrong(
                (*where, "guides"),
                f": {shown_value(list(guides))} was read; two sides that meet were expected, such as "
                '["bottom", "left"]',
            )
        return (upright[0], sideways[0]) if upright and sideways else ("bottom", "left")

    def _body(self, entry: dict[str, Any], where: Path) -> Body:
        read = self._read
        with read.part() as tried:
            read.only(entry, where, ("body", "spaces"))
            size = read.length(entry, "body", where)
            expected = "a list of the widths of its spaces, the em last,"
            spaces = read.thicknesses(entry, "spaces", where) if read.has(entry, "spaces", where, expected) else ()
            if entry.get("spaces") == []:
                read.wrong((*where, "spaces"), f": [] was read; {expected} was expected")
        if tried.sound and abs(spaces[-1] - size) > LEAST:
            read.wrong(
                (*where, "spaces"),
                f": the widest was read as {write_length(spaces[-1])}; the em, as wide as the body's "
                f"{write_length(size)}, was expected last",
            )
        return Body(size, spaces) if tried.sound else Body(0.0, ())

    def _mounts(self, key: str) -> list[Mount]:
        read, mounts = self._read, []
        for where, entry in read.tables(self._table, key):
            with read.part() as tried:
                read.only(entry, where, ("name", "width", "height", "count"))
                name = read.text(entry, "name", where)
                width, height = self._inside(entry, where, "width", "height")
                count = read.count(entry["count"], (*where, "count")) if "count" in entry else 1
            self._no_twin(key, name, where)
            if tried.sound:
                mounts.append(Mount(name, width, height, count))
        return mounts
