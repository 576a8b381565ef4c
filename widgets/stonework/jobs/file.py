"""The jobs file, beside the shop file: every ticket of the day, read whole, with all that is wrong in it at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, get_args

from stonework.files import plain_name
from stonework.form import Content, Cut, Form, Lines, Part, Strip
from stonework.jobs.ticket import Ticket
from stonework.placing import Sheet
from stonework.saying import shown_value
from stonework.shop import MaterialKind, Note, Shop, ShopFileError
from stonework.shop.file import tables_in, text_of
from stonework.shop.lines import Path
from stonework.shop.reading import Reading
from stonework.units import write_length

VERSION = 1
"""The version of jobs files that this workbook writes."""

_KEYS = (
    *("name", "told", "copy", "measure", "set", "form", "abreast", "gutter"),
    *("sheet", "left", "head", "chase", "sheets", "after", "held"),
)
_MANY = 12  # forms side by side
_LINES, _LONGEST_LINE = 200, 200  # of copy; more than any form here is set of


@dataclass(frozen=True)
class JobsFile:
    """A jobs file that was read: its tickets by their names, if nothing in it was wrong, its mistakes and questions."""

    name: str
    tickets: Mapping[str, Ticket] | None
    mistakes: tuple[Note, ...] = ()
    questions: tuple[Note, ...] = ()


def load_jobs(path: str | FilePath, shop: Shop) -> dict[str, Ticket]:
    """Return a file's tickets by their names, in its order; ``ShopFileError`` with every mistake in it."""
    file = read_jobs(path, shop)
    if file.tickets is None:
        raise ShopFileError(file.name, list(file.mistakes))
    return dict(file.tickets)


def jobs_beside(shop_file: str | FilePath) -> FilePath:
    """Return where the jobs of a shop are kept: ``breakwater.jobs.toml`` beside ``breakwater.shop.toml``."""
    path = FilePath(shop_file)
    return path.with_name(f"{path.name.removesuffix('.toml').removesuffix('.shop')}.jobs.toml")


def read_jobs(path: str | FilePath, shop: Shop) -> JobsFile:
    """Read a jobs file for a shop; ``ShopFileError`` only if there is no text in it to read."""
    path = FilePath(path)
    return jobs_in(text_of(path, "jobs file"), path.name, shop)


def jobs_in(text: str, name: str, shop: Shop) -> JobsFile:
    """Read the text of a jobs file of that name for a shop."""
    table, reading = tables_in(text, name)
    tickets = _Jobs(table, reading, shop).read() if table is not None else []
    mistakes = tuple(sorted(reading.mistakes, key=lambda note: note.line or 0))
    by_name = {ticket.name: ticket for ticket in tickets}
    return JobsFile(name, None if mistakes else by_name, mistakes, tuple(reading.questions))


class _Jobs:
    """One file on its way to being tickets."""

    def __init__(self, table: dict[str, Any], reading: Reading, shop: Shop) -> None:
        self._table, self._read, self._shop = table, reading, shop

    def read(self) -> list[Ticket]:
        """Return the tickets that could be read; all that was wrong is in the reading."""
        read, table = self._read, self._table
        read.only(table, (), ("version", "job"))
        version = table.get("version", 1)
        if version != VERSION:
            read.wrong(("version",), f": {shown_value(version)} was read; {VERSION} was expected")
        entries = read.tables(table, "job") if "job" in table else []  # a file may hold nothing but remarks yet
        found = [(where, ticket) for where, entry in entries if (ticket := self._job(entry, where))]
        read.no_twins("job", [((*where, "name"), ticket.name) for where, ticket in found])
        before: list[str] = []
        for where, ticket in found:
            if ticket.after is not None and ticket.after not in before:
                read.wrong(
                    (*where, "after"), f": {shown_value(ticket.after)} was read; the name of a job above was expected"
                )
            before.append(ticket.name)
        return [ticket for _, ticket in found]

    def _job(self, entry: dict[str, Any], where: Path) -> Ticket | None:
        read = self._read
        with read.part() as tried:
            read.only(entry, where, _KEYS)
            name = self._name(entry, where)
            told = read.prose(entry, "told", where) if "told" in entry else ""
            content = self._content(entry, where) if "measure" in entry or "set" in entry else None
            form = Form(content.measure, content.depth) if content else self._size(entry, "form", where)
            sheet = self._size(entry, "sheet", where)
            left, head = (read.length(entry, key, where, nothing=True) for key in ("left", "head"))
            chase = read.one_of(entry, "chase", where, ("", *(one.name for one in self._shop.chases)))
            abreast, gutter = self._abreast(entry, where)
            sheets = read.count(entry["sheets"], (*where, "sheets"), "sheets") if "sheets" in entry else 0
            after = read.text(entry, "after", where) if "after" in entry else None
            held = self._held(read.table(entry, "held", where), (*where, "held")) if "held" in entry else None
            copy = self._copy(entry, where)
        if not tried.sound or form is None or sheet is None:
            return None
        ticket = Ticket(
            *(name, told, copy, form, Sheet(sheet.width, sheet.height), left, head, chase, sheets, content),
            *(abreast, gutter, after, held),
        )
        self._look_over(ticket, where)
        return ticket

    def _name(self, entry: dict[str, Any], where: Path) -> str:
        read = self._read.text(entry, "name", where)
        try:
            return plain_name(entry["name"], "a job") if read else ""  # whole: files are called after it
        except ValueError as error:
            self._read.wrong((*where, "name"), f": {str(error).removesuffix('.')}")
            return ""

    def _copy(self, entry: dict[str, Any], where: Path) -> tuple[str, ...]:
        lines = entry.get("copy", [])
        if isinstance(lines, list) and len(lines) <= _LINES and all(map(_is_line, lines)):
            return tuple(lines)
        self._read.wrong(
            (*where, "copy"),
            f": a list of lines, each in quotation marks, was expected: at most {_LINES}, of {_LONGEST_LINE} "
            "characters that can be seen",
        )
        return ()

    def _size(self, entry: dict[str, Any], key: str, where: Path) -> Form | None:
        """Read a width and a height."""
        expected = 'a width and a height, such as ["27 picas", "17 picas"],'
        if not self._read.has(entry, key, where, expected):
            return None
        return self._pair(entry[key], (*where, key), expected)

    def _pair(self, written: Any, where: Path, expected: str) -> Form | None:
        if not isinstance(written, list) or len(written) != 2:
            self._read.wrong(where, f": {expected} was expected")
            return None
        with self._read.part() as tried:
            width, height = (self._read.points(one, (*where, n)) for n, one in enumerate(written))
        return Form(width, height) if tried.sound else None

    def _abreast(self, entry: dict[str, Any], where: Path) -> tuple[int, float]:
        read = self._read
        many = (
            read.count(entry["abreast"], (*where, "abreast"), "forms side by side", _MANY) if "abreast" in entry else 1
        )
        if many < 1:
            read.wrong((*where, "abreast"), ": 0 was read; 1 form or more was expected")
        gutter = read.length(entry, "gutter", where, nothing=True) if "gutter" in entry or many > 1 else 0.0
        return max(1, many), gutter

    def _held(self, table: dict[str, Any], where: Path) -> tuple[MaterialKind, float]:
        read = self._read
        read.only(table, where, ("kind", "from"))
        read.has(table, "kind", where, "a kind of wood")
        return read.one_of(table, "kind", where, get_args(MaterialKind)), read.length(table, "from", where)

    def _content(self, entry: dict[str, Any], where: Path) -> Content | None:
        """Read what a form is made of, from head to foot."""
        read = self._read
        with read.part() as tried:
            measure = read.length(entry, "measure", where)
            if "form" in entry:
                read.wrong((*where, "form"), ": a measure and what is set to it make the form; leave one of them out")
            written = entry.get("set")
            if not isinstance(written, list) or not written or not all(isinstance(part, dict) for part in written):
                read.wrong((*where, "set"), ': a list such as [{ lines = 7, body = "10 pt" }] was expected')
                return None
            parts = [self._part(part, (*where, "set", n)) for n, part in enumerate(written)]
        if not tried.sound:
            return None
        try:
            return Content(measure, tuple(part for part in parts if part))
        except ValueError as error:
            read.wrong((*where, "set"), f": {str(error).removesuffix('.')}")
            return None

    def _part(self, table: dict[str, Any], where: Path) -> Part | None:
        read = self._read
        kind = next((key for key in ("lines", "quads", "strip", "cut") if key in table), None)
        if kind == "strip":
            read.only(table, where, ("strip",))
            return Strip(depth) if (depth := read.length(table, "strip", where)) > 0 else None
        if kind == "cut":
            read.only(table, where, ("cut",))
            size = self._pair(table["cut"], (*where, "cut"), 'a width and a height, such as ["9 picas", "8 picas"],')
            return size and Cut(size.width, size.height)
        if kind is None:
            read.wrong(where, ": lines, quads, a strip or a cut was expected")
            return None
        read.only(table, where, (kind, "body", "lead"))
        number, body = read.count(table[kind], (*where, kind), "lines"), read.length(table, "body", where)
        lead = read.length(table, "lead", where, nothing=True) if "lead" in table else 0.0
        if number < 1:
            read.wrong((*where, kind), ": 0 was read; 1 line or more was expected")
        return Lines(number, body, lead, quads=kind == "quads") if number > 0 and body > 0 and lead >= 0 else None

    def _look_over(self, ticket: Ticket, where: Path) -> None:
        """Note what can be read and can't be printed, and ask about what is likely a slip."""
        read, printed = self._read, ticket.printed
        try:
            ticket.margins  # noqa: B018 - it refuses a sheet that is too small
        except ValueError as error:
            read.wrong((*where, "sheet"), f": {str(error).removesuffix('.')}")
        chases = [one for one in self._shop.chases if ticket.chase in ("", one.name)]
        if not any(printed.width < one.width and printed.height < one.height for one in chases):
            size = f"{write_length(printed.width)} × {write_length(printed.height)}"
            read.wrong((*where, "chase"), f": all that prints is {size}, and that goes into {_no(ticket.chase)}")
        bodies = {round(body.size, 2) for body in self._shop.bodies}
        for part in ticket.content.parts if ticket.content else ():
            if isinstance(part, Lines) and round(part.body, 2) not in bodies:
                read.ask((*where, "set"), f"the shop has no type of {part.body:g} pt. Is that right?")


def _is_line(line: Any) -> bool:
    return isinstance(line, str) and len(line) <= _LONGEST_LINE and line.isprintable()


def _no(chase: str) -> str:
    return f"no {chase} chase" if chase else "no chase of the shop"


def written_job(ticket: Ticket) -> str:
    """Return a ticket as it stands in a jobs file; its form by its size alone."""
    lengths: Sequence[tuple[str, float]] = (("left", ticket.left), ("head", ticket.head))
    lines = ["[[job]]", f"name = {_quoted(ticket.name)}"]
    told = _plain(ticket.told).strip()
    lines += [f"told = {_quoted(told)}"] if told else []
    lines += [f"{key} = [{_length(size.width)}, {_length(size.height)}]" for key, size in _sizes(ticket)]
    lines += [f"{key} = {_length(points)}" for key, points in lengths]
    lines += [f"chase = {_quoted(ticket.chase)}"] if ticket.chase else []
    lines += [f"sheets = {ticket.sheets}"] if ticket.sheets else []
    return "\n".join(lines) + "\n"


def _sizes(ticket: Ticket) -> tuple[tuple[str, Form | Sheet], ...]:
    return ("form", ticket.form), ("sheet", ticket.sheet)


def _length(points: float) -> str:
    return _quoted(write_length(round(points, 2)))


def _quoted(text: str) -> str:
    """Return text as TOML writes it."""
    escaped = _plain(text).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _plain(text: str) -> str:
    return "".join(c if c.isprintable() else " " for c in text)
