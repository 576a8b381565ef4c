"""The register of standing forms, and the slip that goes with each on its galley: words, and paper to print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from html import escape

from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from stonework.drawing.paper import paper_size, pdf, plain, short, wrap
from stonework.drawing.picture import INK
from stonework.drawing.words import name_of_size
from stonework.ledger import Form, held_by, left
from stonework.lockup import as_read
from stonework.readiness import readiness
from stonework.shop import Shop
from stonework.units import write_length

_MARGIN, _SIZE, _LINE = 40.0, 9.5, 1.35  # in units of 1/72 inch; type size; from line to line as part of it
_SLIPS, _MOST_LINES = 4, 11  # on a page, one below another, and lines on each below the name
_HEADS = ("Whose", "Form", "Size", "Since", "Chase", "Pieces", "Quoins")
_WIDTHS = (0.16, 0.2, 0.17, 0.12, 0.1, 0.08, 0.17)  # parts of the width


def register_table(forms: Sequence[Form], shop: Shop) -> str:
    """Return the forms that stand, with what each holds, and the sizes of which none is left, as HTML."""
    if not forms:
        return "<p>Nothing stands: all the wood is in the cabinet.</p>"
    head = "".join(f'<th scope="col">{name}</th>' for name in _HEADS)
    rows = ""
    for form in forms:
        first, *cells = map(escape, _row(form, shop))
        cells[4] = f"<details><summary>{cells[4]}</summary>{escape(wood_of(form))}</details>"
        rows += f'<tr><th scope="row">{first}</th>' + "".join(f"<td>{cell}</td>" for cell in cells) + "</tr>"
    table = (
        f'<div class="stonework-wide"><table class="stonework-table"><caption>Forms that stand in {escape(shop.name)}'
        f"</caption><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
    )
    return table + "".join(f"<p>{escape(line)}</p>" for line in _summed(forms, shop))


def _summed(forms: Sequence[Form], shop: Shop) -> list[str]:
    """Return what there is to say of all that stands together, in sentences."""
    none, over = used_up(forms, shop), too_many(forms, shop)
    said = [f"None is left of: {'; '.join(none)}."] if none else []
    if over:
        said.append(f"More is written down than the shop has, so count these: {'; '.join(over)}.")
    return said


def used_up(forms: Sequence[Form], shop: Shop) -> list[str]:
    """Say of which sizes, quoins and chases none is left."""
    there, held = left(shop, forms), [held_by(form.lockup, shop) for form in forms]
    said = [f"{chase.name} chase" for chase in shop.chases if chase.name not in {one.name for one in there.chases}]
    said += [f"quoins, {one.name}" for one in there.quoins if one.count == 0 and any(h.quoins[one.name] for h in held)]
    return said + [
        name_of_size(m) for m, n in sorted(there.pieces.items()) if n == 0 and any(h.pieces[m] for h in held)
    ]


def too_many(forms: Sequence[Form], shop: Shop) -> list[str]:
    """Say of what more is written down than the shop has: somebody has put a form away and not said so."""
    held = [held_by(form.lockup, shop) for form in forms]
    out, quoins, chases = (sum((one[n] for one in held), Counter()) for n in range(3))
    said = [
        f"{chase.name} chase ({chases[chase.name]} written down, {chase.count} there)"
        for chase in shop.chases
        if chases[chase.name] > chase.count
    ]
    said += [
        f"quoins, {one.name} ({quoins[one.name]} written down, {one.count} there)"
        for one in shop.quoins
        if one.count is not None and quoins[one.name] > one.count
    ]
    return said + [
        f"{name_of_size(m)} ({n} written down, {shop.pieces[m]} there)"
        for m, n in sorted(out.items())
        if n > shop.pieces[m]
    ]


def wood_of(form: Form) -> str:
    """Return the pieces that a form holds, by their sizes, quoins apart."""
    pieces = Counter((*form.lockup.materials, *form.lockup.leads))
    return ", ".join(f"{count} {name_of_size(size)}" for size, count in sorted(pieces.items())) or "none"


def register(forms: Sequence[Form], shop: Shop, day: str, paper: str = "A4") -> bytes:
    """Return a PDF of the register as it stands on a day; ``ValueError`` with a sentence for an unknown paper."""
    return pdf("Register of standing forms", register_pages(forms, shop, day, paper))


def slips(forms: Sequence[Form], shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF of a slip for each form, to lie with it; ``ValueError`` with a sentence for an unknown paper."""
    return pdf("Galley slips", slip_pages(forms, shop, paper))


def _row(form: Form, shop: Shop) -> tuple[str, ...]:
    wide, high = as_read(form.lockup.type_area, form.lockup.head)
    held = held_by(form.lockup, shop)
    size = f"{write_length(round(wide, 1))} × {write_length(round(high, 1))}"
    quoins = ", ".join(f"{count} {name}" for name, count in held.quoins.items())
    pieces = len(form.lockup.materials) + len(form.lockup.leads)
    whose = form.person or "no name given"
    return whose, form.name, size, form.since, form.lockup.chase.name, str(pieces), quoins


def register_pages(forms: Sequence[Form], shop: Shop, day: str, paper: str) -> Iterator[Figure]:
    """Yield the pages of ``register`` as figures."""
    width, height = (72 * inches for inches in paper_size(paper))
    wide = width - 2 * _MARGIN
    lines: list[tuple[list[tuple[float, str]], str]] = []  # of each line what stands how far from the left, its weight
    for row, weight in [(_HEADS, "bold"), *((_row(form, shop), "normal") for form in forms)]:
        cells = [
            wrap(short(cell, 200), part * wide / _SIZE - 1, weight) for cell, part in zip(row, _WIDTHS, strict=True)
        ]
        starts = [sum(_WIDTHS[:n]) * wide for n in range(len(row))]
        for n in range(max(map(len, cells))):
            there = [(at, cell[n]) for at, cell in zip(starts, cells, strict=True) if n < len(cell)]
            lines.append((there, weight))
    if not forms:
        lines = [([(0.0, "Nothing stands: all the wood is in the cabinet.")], "normal")]
    for words in _summed(forms, shop):
        lines += [([], "normal"), *(([(0.0, line)], "normal") for line in wrap(plain(words), wide / _SIZE))]
    room = int((height - 3.4 * _MARGIN) / (_LINE * _SIZE))
    for start in range(0, len(lines), room):
        figure = Figure(figsize=(width / 72, height / 72))
        title = f"Standing forms, {short(shop.name)}, {day}"
        _write(figure, _MARGIN, height - 1.5 * _MARGIN, title, 14, "bold")
        for n, (there, weight) in enumerate(lines[start : start + room]):
            at = height - 2.4 * _MARGIN - n * _LINE * _SIZE
            for x, words in there:
                _write(figure, _MARGIN + x, at, words, _SIZE, weight)
        yield figure


def slip_pages(forms: Sequence[Form], shop: Shop, paper: str) -> Iterator[Figure]:
    """Yield the pages of ``slips`` as figures."""
    width, height = (72 * inches for inches in paper_size(paper))
    deep = height / _SLIPS
    for start in range(0, len(forms), _SLIPS):
        figure = Figure(figsize=(width / 72, height / 72))
        for n, form in enumerate(forms[start : start + _SLIPS]):
            _slip(figure, form, shop, height - n * deep, deep, width)
        yield figure


def _slip(figure: Figure, form: Form, shop: Shop, top: float, deep: float, width: float) -> None:
    """Write one slip: whose it is large, then what it is and what it holds; cut along the line below."""
    whose, name, size, since, chase, pieces, quoins = map(plain, _row(form, shop))
    _write(figure, _MARGIN, top - 36, short(whose, 36), 20, "bold")
    ready = readiness(form.lockup, shop)
    told = [
        *([f"{ready.mark}: not to be lifted before that is put right."] if ready.mark else ()),
        f"Form: {short(name, 60)}, {size}",
        f"Chase: {chase}. Standing since {since}",
        f"It holds {pieces} pieces and these quoins: {quoins or 'none counted'}",
        *([f"For: {short(form.lockup.job.name, 80)}"] if form.lockup.job.name not in ("", form.name) else ()),
        f"Shop: {short(shop.name, 80)}",
        "Lead: wash your hands. Heavy: slide it, and don't lift alone what you can't hold with ease.",
        f"Its pieces: {wood_of(form)}.",
    ]
    lines = [line for words in told for line in wrap(words, (width - 2 * _MARGIN) / 9.5)]
    if len(lines) > _MOST_LINES:
        lines = [*lines[: _MOST_LINES - 1], "… and more: the workbook's list of what stands has them all."]
    for n, line in enumerate(lines):
        _write(figure, _MARGIN, top - 58 - n * 13, line, 9.5, "normal")
    figure.add_artist(_cut(top - deep, figure))


def _cut(at: float, figure: Figure) -> Line2D:
    height = 72 * figure.get_figheight()
    return Line2D([0, 1], [at / height] * 2, color=INK, linewidth=0.6, linestyle=(0, (4, 4)))


def _write(figure: Figure, x: float, y: float, words: str, size: float, weight: str) -> None:
    width, height = 72 * figure.get_figwidth(), 72 * figure.get_figheight()
    figure.text(x / width, y / height, words, size=size, weight=weight, color=INK, family="sans-serif")
