"""Paper to carry to the stone: one sheet that says what to do, and the plan at its true size.

A PDF's unit, 1/72 inch, is a little more than a point: the one sheet is laid out in units, the plan all in points.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from matplotlib.figure import Figure
from matplotlib.transforms import Bbox, TransformedBbox

from stonework.drawing.form_words import lockup_weight_words
from stonework.drawing.paper import PAPERS as PAPERS
from stonework.drawing.paper import measure, paper_size, pdf, plain, short, wrap
from stonework.drawing.picture import INK, LABEL, PAPER, Picture, Segment, corners, shapes, strokes
from stonework.drawing.plan import PlanView, dots, head_edge
from stonework.drawing.quoins import quoin_marks, quoin_room
from stonework.drawing.words import in_picas, openings, piece_name, strip_name
from stonework.lockup import Filling, Item, Lockup, PlacedForm, Rectangle, Side, along_x, as_read, letter, pattern_of
from stonework.putting_away import cabinet_places, put_away
from stonework.readiness import Readiness, readiness
from stonework.rounds import card_of, rounds
from stonework.shop import Material, Shop
from stonework.tightening import CAUTIONS
from stonework.units import PICA, POINTS_PER_INCH, write_length

MM = POINTS_PER_INCH / 25.4  # points


def _form(form: PlacedForm, head: Side) -> str:
    """Name a form by its size as one reads it."""
    wide, high = as_read(form, head)
    return f"Form {write_length(wide)} × {write_length(high)}"


# --- the stone sheet --------------------------------------------------------------------------------------

_MARGIN, _GUTTER = 30.0, 14.0  # round the page, as printers leave a centimetre white, and between columns
_TITLE, _SIZES = 12.0, [quarters / 4 for quarters in range(36, 21, -1)]  # type sizes: the title's, and others to try
_LINE, _INDENT = 1.28, 1.5  # from line to line, and before an entry, where its mark stands: parts of the type size
_BOX = "☐"
# Both are common practice, no source; what the tightening card says isn't repeated.
_CARE = (
    "Type metal holds lead: no food or drink at the stone, and wash your hands when you leave it.",
    "A form in its iron chase is heavy: judge it before you lift, and never lift alone what you can't hold with ease.",
)
_REASONS = 4  # as many as are printed across the head
_LIFT = (
    "The trial lift dropped nothing, and the form lies flat on the stone.",
    "The key is out; nothing lies loose on the form or the chase.",
    "Help is at hand if it is wanted, and the way and the place to set the form down are clear.",
    "Hands hold the chase; nobody's hands or feet are beneath.",
)


_Entries = list[tuple[str, str | None]]  # words, and the mark before them; a heading has none
_Lines = list[tuple[int, float, float, str, str]]  # column, depth below its top, indent, words, weight


def stone_sheet(lockup: Lockup, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF of one page. ``ValueError``, one sentence, for an unknown paper or too many pieces to list.

    The lockup is judged first. Where it isn't finished or would not hold, that and the reasons stand across the page's
    head, and how to tighten and lift it is left out.
    """
    return pdf("Stone sheet", [sheet_figure(lockup, shop, paper)])


def sheet_words(lockup: Lockup, shop: Shop, _paper: str = "A4") -> str:
    """Say what the sheet for the stone is good for."""
    if unready := readiness(lockup, shop).words:
        return f"One page, with a warning across its head. {unready}"
    return "One page: print it, and carry it to the stone."


def sheet_figure(lockup: Lockup, shop: Shop, paper: str = "A4", heading: str = "") -> Figure:
    """Return the page of ``stone_sheet`` as a figure; a ``heading`` stands large below its title."""
    upright = lockup.chase.width >= lockup.chase.height
    width, height = (72 * inches for inches in paper_size(paper)[:: 1 if upright else -1])
    ready = readiness(lockup, shop)
    wide, head = width - 2 * _MARGIN, height - _MARGIN - _LINE * _TITLE
    above = _headed(heading, wide) + _job(lockup) + _warning(ready, wide)
    top = head - sum(_LINE * points for _, points, _ in above) - 6 * bool(above)
    view = PlanView("stone-sheet")
    view.draw(lockup, shop)
    across, up = _place(view, width, height, top, (wide, 0.4 * height) if upright else (0.48 * width, top - _MARGIN))
    left, start, columns = (_MARGIN, top - up - 6, 3) if upright else (_MARGIN + across + _GUTTER, top, 2)
    pitch = (width - _MARGIN - left + _GUTTER) / columns
    size, lines = _fit(_entries(lockup, shop, ready), pitch - _GUTTER, start - _MARGIN, columns)
    form = _form(lockup.form, lockup.head).replace("Form", "Block" if lockup.block else "Form")
    title = f"{form}, chase {short(lockup.chase.name)}, {short(shop.name)}"
    texts = [(_MARGIN, head + 0.5 * _TITLE, title, min(_TITLE, 0.98 * wide / measure(title, "bold")), "bold")]
    at = head
    for words, points, weight in above:
        at -= _LINE * points
        texts.append((_MARGIN, at + 0.2 * points, words, points, weight))
    texts += [(left + n * pitch + inset, start - depth, words, size, w) for n, depth, inset, words, w in lines]
    for x, y, words, points, weight in texts:
        view.figure.text(x / width, y / height, words, size=points, weight=weight, color=INK, family="sans-serif")
    return view.figure


def _headed(heading: str, width: float) -> list[tuple[str, float, str]]:
    """Return the line that says large whose sheet it is: its words, type size and weight; none without a heading."""
    words = short(heading, 80)
    return [(words, min(18.0, 0.98 * width / measure(words, "bold")), "bold")] if words else []


def _job(lockup: Lockup) -> list[tuple[str, float, str]]:
    """Return the line below the title: which way the form lies and whose it is, as far as that was written down."""
    job = lockup.job
    told = [
        f"head to the {lockup.head}" if lockup.head != "top" else "",
        f"job {short(job.name)}" if job.name else "",
        f"press {short(job.press)}" if job.press else "",
        f"laid by {short(job.hand)}" if job.hand else "",
        short(job.date),
    ]
    words = ", ".join(filter(None, told))
    return [(words[:1].upper() + words[1:], 9.0, "normal")] if words else []


def _warning(ready: Readiness, width: float) -> list[tuple[str, float, str]]:
    """Return the lines across the head of a sheet whose lockup isn't ready: words, type size and weight."""
    if not ready.mark:
        return []
    told = " ".join(ready.reasons[:_REASONS])
    if (more := len(ready.reasons) - _REASONS) > 0:
        told += f" And {more} more: see the panel."
    return [(ready.mark, 22.0, "bold"), *((line, 9.0, "normal") for line in wrap(plain(told), width / 9, "normal"))]


def pieces_to_place(lockup: Lockup, shop: Shop) -> list[str]:
    """Return every piece in placing order, named as in the plan, a block's own first, with its place.

    Sizes are thickness × length in picas, but points for the thickness of leads; places are row/place in the cabinet.
    """
    opened = {side: f", open {write_length(round(by, 1))}" for side, by in openings(lockup, shop).items()}
    places = {place.material: place.short for place in cabinet_places(shop)}
    inside = lockup.block.pieces if lockup.block else ()

    def found(piece: Filling | Item) -> str:
        material = Material(piece.kind, piece.thickness, piece.length)
        return places.get(material, "cut it" if piece.kind == "lead" else "no place")

    return [f"{letter(n)}: {piece_name(piece)}, block ({found(piece)})" for n, piece in enumerate(inside)] + [
        f"{n}: quoin {in_picas(item.length)} long, {item.side}{opened.get(item.side, '')}"
        + (f" ({item.pattern})" if item.pattern else "")
        if item.kind == "quoin"
        else f"{n}: {piece_name(item)}, {item.side} ({found(item)})"
        for n, item in enumerate(lockup.placing_order(), 1)
    ]


def pieces_to_put_away(lockup: Lockup, shop: Shop) -> list[str]:
    """Return every size with its count and its place, in the order of one walk: wood, metal, leads, quoins."""
    away = put_away(lockup, shop)
    told = [f"{n} of {piece_name(place.material)}, {place.words}" for place, n in (*away.wood, *away.metal)]
    told += [f"{n} of {strip_name(thickness)}, to its rack" for thickness, n in away.leads]
    told += [f"{n} of {piece_name(material)}, no place in this cabinet" for material, n in away.homeless]
    return told + [f"{n} of quoin, {short(name)}" for name, n in away.quoins]


def _size(piece: Item) -> str:
    return f"{in_picas(piece.thickness)} × {in_picas(piece.length)}"


def _entries(lockup: Lockup, shop: Shop, ready: Readiness) -> _Entries:
    """Return all that the sheet says beside its plan; of tightening and lifting nothing unless it is ready for it."""
    refusal = "" if ready.mark else rounds(lockup, shop).refusal
    goes = not ready.mark and not refusal
    parts = (
        ("Care, before you begin", "–", (CAUTIONS[0], *_CARE, *CAUTIONS[1:])),
        ("Pull and place: thickness × length, picas (row/place in the cabinet)", _BOX, pieces_to_place(lockup, shop)),
        ("Before you tighten", "–", (refusal,) if refusal else ()),
        ("Tighten", "–", card_of(lockup, shop).steps if goes else ()),
        ("Before the lift", _BOX, (lockup_weight_words(lockup, shop), *_LIFT) if goes else ()),
        ("Back to the cabinet, and the key", _BOX, pieces_to_put_away(lockup, shop)),
    )
    return [
        entry
        for heading, mark, told in parts
        if told
        for entry in ((heading, None), *((words, mark) for words in told))
    ]


def _place(view: PlanView, width: float, height: float, top: float, most: tuple[float, float]) -> tuple[float, float]:
    """Make the plan's figure a page, the plan below ``top``, all in proportion; return how wide and high it is."""
    across, up = (72 * inches for inches in view.figure.get_size_inches())
    ratio = min(most[0] / across, most[1] / up)
    for text in view.axes.texts:
        text.set_fontsize(ratio * text.get_fontsize())
    for patch in view.axes.patches:
        patch.set_linewidth(ratio * patch.get_linewidth())
    across, up = ratio * across, ratio * up
    left = (width - across) / 2 if width < height else _MARGIN
    view.figure.set_size_inches(width / 72, height / 72)
    view.axes.set_position((left / width, (top - up) / height, across / width, up / height))
    return across, up


def _fit(entries: _Entries, width: float, height: float, columns: int) -> tuple[float, _Lines]:
    """Return the largest type size at which everything goes into the columns, and its lines there."""
    for size in _SIZES:
        if (lines := _flow(entries, size, width, height))[-1][0] < columns:
            return size, lines
    raise ValueError(f"The sheet was given {len(entries)} entries, too many for a page; use fewer pieces.")


def _flow(entries: _Entries, size: float, width: float, height: float) -> _Lines:
    """Return every entry's lines, down one column after another; a heading stays with what it heads."""
    step, column, depth = _LINE * size, 0, 0.0
    lines: _Lines = []
    for words, mark in entries:
        indent, weight = (0.0, "bold") if mark is None else (_INDENT * size, "normal")
        wrapped = wrap(words, (width - indent) / size, weight)
        above = 0.5 * step if mark is None and depth else 0.0
        if depth + above + step * (len(wrapped) + 3 * (mark is None)) > height:
            column, depth, above = column + 1, 0.0, 0.0
        baselines = [depth + above + (n + 0.8) * step for n in range(len(wrapped))]
        lines += [(column, at, indent, line, weight) for at, line in zip(baselines, wrapped, strict=True)]
        lines += [(column, baselines[0], 0.0, mark, weight)] if mark else []
        depth += above + len(wrapped) * step
    return lines


# --- the full-size plan -----------------------------------------------------------------------------------

_RIM, _STRIP, _HEADER = 10 * MM, 10 * MM, 6 * MM  # white edge; left and foot, for rulers; head, for the label
_BEYOND = 4 * MM  # shown beyond the chase's inside edge
_RULERS = (72, 60, 48, 36, 24)  # picas
OVERLAP = 15 * MM


class Tiling(NamedTuple):
    """How a chase is cut up over sheets, in points; ``window`` is the width and height that a sheet shows of it."""

    paper: tuple[float, float]
    window: tuple[float, float]
    rows: int
    columns: int
    rulers: tuple[int, int]  # picas, across and up


def tiling(lockup: Lockup, paper: str = "A4") -> Tiling:
    """Return the tiling of fewest sheets, upright or sideways. ``ValueError``, one sentence, for an unknown paper."""
    chase, size = lockup.chase, [POINTS_PER_INCH * inches for inches in paper_size(paper)]
    ways = []
    for width, height in (size, size[::-1]):
        window = (width - 2 * _RIM - _STRIP, height - 2 * _RIM - _STRIP - _HEADER)
        columns, rows = (
            max(1, math.ceil((inside + 2 * _BEYOND - OVERLAP) / (shown - OVERLAP)))
            for inside, shown in zip((chase.width, chase.height), window, strict=True)
        )
        rulers = tuple(next(n for n in _RULERS if n * PICA <= side - 2 * _RIM) for side in (width, height))
        ways.append(Tiling((width, height), window, rows, columns, rulers))
    return min(ways, key=lambda way: way.rows * way.columns)


def full_size_plan(lockup: Lockup, shop: Shop, paper: str = "A4") -> bytes:
    """Return a PDF of the plan at its true size, row after row from the head. ``ValueError`` for an unknown paper.

    The lockup is judged first: where it isn't finished or would not hold, every sheet says so at its head.
    """
    cut, view = tiling(lockup, paper), FullSizeView()
    places = (divmod(n, cut.columns) for n in range(cut.rows * cut.columns))
    return pdf("Full-size plan", (view.draw(lockup, shop, cut, row, column) for row, column in places))


def full_size_words(lockup: Lockup, shop: Shop, paper: str = "A4") -> str:
    """Say how many sheets the full-size plan has, and how to print, check and join them."""
    cut, unready = tiling(lockup, paper), readiness(lockup, shop).words
    sheets = cut.rows * cut.columns
    told = (
        f"{unready} The full-size plan takes {sheets} sheet{'s' * (sheets > 1)} of {paper}. Print at 100 %, never "
        "fitted to the page. Before you trust it, lay a line gauge on both check rulers of every sheet: "
        f"{cut.rulers[0]} picas across and {cut.rulers[1]} picas up the page; if either is off, print again."
    ).lstrip()
    if sheets == 1:
        return f"{told} There is nothing to trim or join."
    return (
        f"{told} The sheets make {cut.rows} row{'s' * (cut.rows > 1)} of {cut.columns} and overlap by 15 mm. Trim each "
        "at the broken lines by its left and upper edges, if it has them, and lay it there on the broken lines of the "
        "sheets beside and above it, the bars across them in line; then fix it."
    )


class FullSizeView(Picture):
    """One sheet of the full-size plan: outlines, marks to join sheets at, and two rulers to check the print by."""

    def __init__(self, name: str = "full-size") -> None:
        super().__init__(name)
        self._window = Bbox.unit()
        self._chase = self.area(PAPER, INK, 1.4, 1)
        self._items = self.area(PAPER, INK, 0.6, 2)
        self._form = self.area(PAPER, INK, 1.0, 3)
        self._marks = self.area("none", INK, 0.5, 4)  # what kind each quoin is, and the form's head
        self._inside = self.area(PAPER, INK, 0.6, 3)
        self._type = self.area(PAPER, INK, 1.0, 3)
        self._dots = self.area(INK, "none", 0, 4)
        for artist in (self._chase, self._items, self._form, self._marks, self._inside, self._type, self._dots):
            artist.set_clip_box(TransformedBbox(self._window, self.axes.transData))
        self._joins = self.area("none", INK, 0.4, 6, linestyle=(0, (6, 4)))
        self._lines = self.area("none", INK, 0.5, 6)

    def draw(self, lockup: Lockup, shop: Shop, cut: Tiling, row: int, column: int) -> Figure:
        """Draw the sheet of that row, counted from the head, and column, both from 0; return its figure."""
        (width, height), (across, up) = cut.window, cut.paper
        x = column * (width - OVERLAP) - _BEYOND
        y = lockup.chase.height + _BEYOND - height - row * (height - OVERLAP)
        left, bottom = x - _RIM - _STRIP, y - _RIM - _STRIP
        self.frame(left, bottom, left + across, bottom + up, (across / POINTS_PER_INCH, up / POINTS_PER_INCH))
        self._window.intervalx, self._window.intervaly = (x, x + width), (y, y + height)
        self._draw_plan(lockup, shop)
        joins, lines = [], []
        for axis, n, of in ((0, column, cut.columns), (1, cut.rows - 1 - row, cut.rows)):
            start, across_start, long = (x, y)[axis], (x, y)[1 - axis], cut.window[1 - axis]
            seams = [start + OVERLAP / 2] * (n > 0) + [start + cut.window[axis] - OVERLAP / 2] * (n < of - 1)
            joins += _turned([((at, across_start), (at, across_start + long)) for at in seams], axis)
            bars = [(at, across_start + part * long) for at in seams for part in (0.25, 0.75)]
            lines += _turned([((a - 3 * MM, b), (a + 3 * MM, b)) for a, b in bars], axis)
            lines += self._ruler(cut, axis, start, across_start)
        self._joins.set_path(strokes(joins))
        self._lines.set_path(strokes(lines))
        place = f"Row {row + 1} of {cut.rows}, column {column + 1} of {cut.columns}"
        label = f"{place}. Full-size plan, inside of chase {short(lockup.chase.name)}."
        above = y + height + 3 * MM
        if mark := readiness(lockup, shop).mark:
            self.write(x + 2 * MM, above, mark, 12, weight="bold", ha="left")
            self.write(x + width - 2 * MM, above, place, 8, ha="right")  # a long name would run into the mark
        else:
            self.write(x + 2 * MM, above, label, 8, ha="left")
        self.finish(f"The plan at its true size. {place}.")
        return self.figure

    def _draw_plan(self, lockup: Lockup, shop: Shop) -> None:
        chase, items, block = lockup.chase, lockup.placing_order(), lockup.block
        forms, pieces = (block.forms, block.pieces) if block else ((lockup.form,), ())
        quoins = [item for item in items if item.kind == "quoin"]
        told = [mark for quoin in quoins for mark in quoin_marks(quoin, pattern_of(quoin, shop.quoins))]
        rules = [head_edge(form, lockup.head, 2.0 * n) for form in forms for n in (1, 2)]
        self._chase.set_path(shapes([corners(0, 0, chase.width, chase.height)]))
        self._items.set_path(shapes(corners(i.x, i.y, i.width, i.height) for i in items))
        self._form.set_path(shapes([corners(lockup.form.x, lockup.form.y, lockup.form.width, lockup.form.height)]))
        self._inside.set_path(shapes(corners(p.x, p.y, p.width, p.height) for p in pieces))
        self._type.set_path(shapes(corners(f.x, f.y, f.width, f.height) for f in forms if block))
        self._dots.set_path(shapes(dot for p in (*pieces, *items) if p.kind == "metal" for dot in dots(p)))
        self._marks.set_path(strokes([*told, *rules]))
        for n, item in enumerate(items, 1):
            words, where = f"{n}: {_size(item) if item.kind != 'quoin' else 'quoin'}", item
            if item.kind == "quoin":
                where = quoin_room(item, pattern_of(item, shop.quoins))
            self._say(where, words, turned=not along_x(item.side))
        for n, piece in enumerate(pieces):
            turned = piece.width < piece.height
            self._say(piece, f"{letter(n)}: {piece_name(piece)}", turned=turned, pill=piece.kind == "metal")
        for form in forms:
            if lockup.head != "top":
                self._say(
                    form, f"HEAD to the {lockup.head}. {_form(form, lockup.head)}", turned=not along_x(lockup.head)
                )
                continue
            head, left = form.y + form.height, 0.0
            if form.height >= 72:
                self._say(PlacedForm(form.x, head - 24, form.width, 20), "HEAD", turned=False)
            else:  # too low for two lines
                left = form.width / 2
                self._say(PlacedForm(form.x, form.y, left, form.height - 4), "HEAD", turned=False)
            self._say(
                PlacedForm(form.x + left, form.y, form.width - left, form.height - 4 * bool(left)),
                _form(form, lockup.head),
                turned=False,
            )

    def _say(self, what: Rectangle | Filling, words: str, *, turned: bool, pill: bool = False) -> None:
        """Write words in the middle of what the window shows of a rectangle, unless the rest shows more of it."""
        shown = Bbox.intersection(self._window, Bbox.from_bounds(what.x, what.y, what.width, what.height))
        if shown is None or min(shown.size) <= 0:
            return
        (long, thick), whole = (shown.size, what.width) if not turned else (shown.size[::-1], what.height)
        fits = 0.9 * long * self.scale / measure(words, "normal")
        if fits >= 5 or long >= whole - 1:
            size = min(LABEL, fits, 0.75 * thick * self.scale)
            self.write(*(shown.p0 + shown.p1) / 2, words, size, rotation=90 * turned, pill=pill)

    def _ruler(self, cut: Tiling, axis: int, start: float, foot: float) -> list[Segment]:
        """Return the lines of a check ruler beside the window, across for axis 0 and up for 1, and write on it."""
        picas = cut.rulers[axis]
        start += (cut.paper[axis] - picas * PICA) / 2 - _RIM - _STRIP
        base, middle = foot - MM, start + picas * PICA / 2
        figures = [(start + n * PICA, base - 5 * MM, str(n)) for n in range(0, picas + 1, 12)]
        said = f"Measure this: it must be {picas} picas ({picas * PICA / MM:.1f} mm)."
        for *at, words in (*figures, (middle, base - 7.7 * MM, said)):
            self.write(*(at[::-1] if axis else at), words, 7, rotation=90 * axis)
        ticks = [(start + n * PICA, 3.5 if n % 12 == 0 else 2.5 if n % 6 == 0 else 1.5) for n in range(picas + 1)]
        rule = ((start, base), (start + picas * PICA, base))
        return _turned([rule, *(((at, base), (at, base - long * MM)) for at, long in ticks)], axis)


def _turned(lines: list[Segment], axis: int) -> list[Segment]:
    """Return lines, with across and up exchanged for axis 1."""
    return [(one[::-1], other[::-1]) for one, other in lines] if axis else lines
