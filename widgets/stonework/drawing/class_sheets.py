"""A plan of a class on paper: who has what, each student's sheet, a list to take stock by, and what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from stonework.drawing.class_sheets_words import (
    CARE,
    COUNTED,
    HEADS,
    in_order,
    outcome,
    ready_words,
    thing_name,
    who_rows,
)
from stonework.drawing.paper import measure, paper_size, pdf, plain, wrap
from stonework.drawing.picture import INK
from stonework.drawing.printed import Paragraph, print_pages
from stonework.drawing.stone_sheet import sheet_figure
from stonework.planning import Given, Plan, Thing
from stonework.planning.things import piece, things_of
from stonework.putting_away import cabinet_places
from stonework.shop import Material, MaterialKind, Shop
from stonework.units import write_length

_MARGIN, _TITLE = 34.0, 13.0  # round the page, and the title's size: 1/72 inch
_LINE, _AIR = 1.3, 0.55  # from line to line, and round a row: parts of a size
_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.5)
_SMALL = 9.0  # from which size down names may be broken into lines, to keep all on one page
_GUTTER = 1.2  # ems between columns
_WIDEST = 22.0  # ems of a column before its words are broken
_LOOSE = 1.06  # a column's width, so that its longest words aren't broken by a hair
_BOX = "☐"


# --- who has what ---------------------------------------------------------------------------------------------


def class_sheet(plan: Plan, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF of who has what: one page, on which the pieces are named of which none is left over."""
    return pdf("Who has what", class_figures(plan, shop, paper))


def class_figures(plan: Plan, shop: Shop, paper: str = "A4") -> list[Figure]:
    """Return the pages of ``class_sheet``: one, unless the class is too large for any type that can be read."""
    width, height = (72 * inches for inches in paper_size(paper)[::-1])
    rows = who_rows(plan)
    across = width - 2 * _MARGIN
    head = height - _MARGIN - 1.4 * _TITLE
    notes = " ".join([outcome(plan), *ready_words(plan, shop), COUNTED, CARE])
    laid: list[list[_Row]] = []
    for size in _SIZES:
        foot = _MARGIN + _LINE * size * (1 + len(wrap(plain(notes), across / size)))
        widths = _widths(rows, across / size)
        laid = _pages([_row(row, widths) for row in (HEADS, *rows)], size, head - foot)
        if len(laid) == 1 and (size <= _SMALL or all(len(row.cells[1]) == 1 for row in laid[0])):
            break
    return [
        _class_page(page, n, len(laid), (size, widths, foot), notes, f"Who has what, {shop.name}", (width, height))
        for n, page in enumerate(laid, 1)
    ]


class _Row(NamedTuple):
    cells: tuple[list[str], ...]
    heading: bool

    @property
    def lines(self) -> int:
        return max(map(len, self.cells))


def _widths(rows: Sequence[Sequence[str]], across: float) -> list[float]:
    """Return how wide the columns are, in ems: as wide as their words, the last what is left."""
    wide = [
        min(
            _WIDEST,
            _LOOSE * max(measure(plain(row[n]), "bold" if row is HEADS else "normal") for row in (HEADS, *rows)),
        )
        for n in range(len(HEADS) - 1)
    ]
    least = max(10.0, measure(HEADS[-1], "bold"))
    given = sum(wide) + _GUTTER * (len(HEADS) - 1)
    if given + least > across:  # the names and jobs give way
        names = wide[1] + wide[2]
        share = max(0.3, (names - (given + least - across)) / names)
        wide[1], wide[2] = wide[1] * share, wide[2] * share
    return [*wide, max(least, across - sum(wide) - _GUTTER * (len(HEADS) - 1))]


def _row(row: Sequence[str], widths: Sequence[float]) -> _Row:
    weight = "bold" if row is HEADS else "normal"
    return _Row(
        tuple(wrap(plain(words), ems, weight) or [""] for words, ems in zip(row, widths, strict=True)), row is HEADS
    )


def _pages(rows: Sequence[_Row], size: float, room: float) -> list[list[_Row]]:
    """Part rows into pages, the headings on each."""
    pages, used = [[rows[0]]], _tall(rows[0], size)
    for row in rows[1:]:
        if used + _tall(row, size) > room and len(pages[-1]) > 1:
            pages.append([rows[0]])
            used = _tall(rows[0], size)
        pages[-1].append(row)
        used += _tall(row, size)
    return pages


def _tall(row: _Row, size: float) -> float:
    return size * (_LINE * row.lines + _AIR)


def _class_page(
    rows: Sequence[_Row],
    number: int,
    pages: int,
    type_: tuple[float, Sequence[float], float],
    notes: str,
    title: str,
    paper: tuple[float, float],
) -> Figure:
    (size, widths, foot), (width, height) = type_, paper
    figure = Figure(figsize=(width / 72, height / 72))

    def write(x: float, y: float, words: str, points: float, weight: str = "normal", ha: str = "left") -> None:
        figure.text(x / width, y / height, words, size=points, weight=weight, ha=ha, color=INK, family="sans-serif")

    y = height - _MARGIN - 0.8 * _TITLE
    write(_MARGIN, y, plain(title), _TITLE, "bold")
    if pages > 1:
        write(width - _MARGIN, y, f"page {number} of {pages}", 8.5, ha="right")
    y -= 0.6 * _TITLE
    for row in rows:
        x = _MARGIN
        for words, ems in zip(row.cells, widths, strict=True):
            for n, line in enumerate(words):
                write(x, y - _LINE * size * (n + 1), line, size, "bold" if row.heading else "normal")
            x += (ems + _GUTTER) * size
        y -= _tall(row, size)
        _rule(figure, y / height, _MARGIN / width, 1.2 if row.heading else 0.4)
    for n, line in enumerate(wrap(plain(notes), (width - 2 * _MARGIN) / size)):
        write(_MARGIN, foot - _LINE * size * (n + 1.2), line, size)
    return figure


def _rule(figure: Figure, y: float, margin: float, thick: float) -> None:
    """Draw a line across a page."""
    figure.add_artist(Line2D([margin, 1 - margin], [y, y], color=INK, linewidth=thick))


# --- each student's sheet -------------------------------------------------------------------------------------


def student_sheets(plan: Plan, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF with the sheet for the stone of each person, shift by shift.

    ``ValueError`` with a sentence if one has too many pieces for a page.
    """
    ordered = sorted(plan.given, key=lambda given: given.shift)
    figures = (sheet_figure(one.lockup, shop, paper, _heading(one, plan)) for one in ordered)
    return pdf("Sheets for the stone", figures)


def _heading(one: Given, plan: Plan) -> str:
    """Return whose a sheet is and when its turn comes, as it stands large across its head."""
    shift = f", shift {one.shift + 1}" if plan.score.shifts > 1 else ""
    return f"{one.task.name}{shift}, {one.lockup.chase.name} chase"


# --- taking stock ---------------------------------------------------------------------------------------------

_NAMES: Mapping[MaterialKind, str] = {
    "furniture": "Furniture",
    "reglet": "Reglet",
    "metal": "Metal furniture",
    "lead": "Leads and slugs by length",
}


def stock_sheet(plan: Plan | None, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF to take stock by: every size of the shop, how many there are and, by a plan, how many are out."""
    told = (
        "Tick what is all there. “Out” is what one shift has on the stone at the most."
        if plan
        else "Tick what is all there."
    )
    pages = print_pages(
        f"Taking stock, {shop.name}",
        told,
        [*stock_lines(plan, shop)],
        paper=paper,
        columns=4,
        sizes=(8.5, 8.0, 7.5, 7.0, 6.5),
    )
    return pdf("Taking stock", pages)


def stock_lines(plan: Plan | None, shop: Shop) -> Iterator[Paragraph]:
    """Yield what is to be counted, in the order in which one walks past it."""
    out: Counter[Thing] = Counter()
    for shift in range(plan.score.shifts if plan else 0):
        out |= plan.used(shift)
    yield Paragraph("Chases", heading=True)
    there = things_of(shop)
    for thing in (thing for thing in there if thing.kind == "chase"):
        yield Paragraph(_entry(thing.name, there[thing], out[thing]), inset=True)
    yield Paragraph("Quoins and keys", heading=True)
    for quoin in shop.quoins:
        keys = "" if quoin.keys is None else f", {quoin.keys} {'key' if quoin.keys == 1 else 'keys'}"
        yield Paragraph(_entry(quoin.name, quoin.count, out[Thing("quoin", quoin.name)]) + keys, inset=True)
    row: tuple[MaterialKind, int] | None = None
    for place in cabinet_places(shop):
        if (place.kind, place.row) != row:
            row = place.kind, place.row
            thick = shop.kept_as.get(place.material, place.material).thickness
            yield Paragraph(f"{_NAMES[place.kind]} {write_length(thick)}", heading=True)
        size = place.material
        yield Paragraph(_entry(_length(size, shop), shop.pieces[size], out[piece(size)]), inset=True)


def _length(size: Material, shop: Shop) -> str:
    worn = f", worn to {write_length(size.thickness)}" if size in shop.kept_as else ""
    return f"{write_length(size.length)}{worn}"


def _entry(what: str, there: int | None, out: int) -> str:
    counted = "___" if there is None else str(there)
    return f"{_BOX} {what}: {counted}" + (f", {out} out" if out else "")


# --- what to buy ----------------------------------------------------------------------------------------------


def buying_sheet(lines: Sequence[str], needed: Mapping[Thing, int] | None, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF of what to borrow or buy, ``None`` if that isn't known, with what else would help, in sentences."""
    told = "Measure before you buy: a chase by its inside, wood by its thickness."
    title, lines = f"What to buy, {shop.name}", buying_lines(lines, needed)
    return pdf("What to buy", print_pages(title, told, lines, paper=paper, columns=1, sizes=(11.0,)))


def buying_lines(lines: Sequence[str], needed: Mapping[Thing, int] | None) -> list[Paragraph]:
    """Return what stands on ``buying_sheet``."""
    paragraphs = [Paragraph("To borrow or buy, so that all work at once", heading=True)]
    paragraphs += (
        [Paragraph(f"{_BOX} {thing_name(thing)}: {needed[thing]} more", inset=True) for thing in in_order(needed or ())]
        if needed
        else [Paragraph("Not known." if needed is None else "Nothing.", inset=True)]
    )
    return [*paragraphs, Paragraph("What was found", heading=True), *(Paragraph(line, inset=True) for line in lines)]
