"""Words set on paper in columns, page after page, under a picture if there is one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from matplotlib.figure import Figure

from stonework.drawing.paper import measure, paper_size, plain, wrap
from stonework.drawing.picture import INK, Picture

_MARGIN, _GUTTER = 34.0, 16.0  # round the page, as printers leave a centimetre white, and between columns: 1/72 inch
_TITLE, _LINE, _INDENT = (
    13.0,
    1.3,
    1.2,
)  # the title's size; from line to line and before what is set in: parts of a size
_TALLEST = (0.62, 0.55)  # of a page, for a picture across its head; the second where words need the room


class Paragraph(NamedTuple):
    """Words of one kind; a heading stays with what follows it, and what is ``inset`` stands a little to the right."""

    words: str
    heading: bool = False
    inset: bool = False


class _Line(NamedTuple):
    words: str
    inset: bool
    heading: bool
    starts: bool  # the first of its paragraph


def print_pages(
    title: str,
    told: str,
    paragraphs: Sequence[Paragraph],
    *,
    paper: str = "A4",
    columns: int = 2,
    sizes: Sequence[float] = (8.5,),
    picture: Picture | None = None,
) -> list[Figure]:
    """Return pages under a title and a line below it, in the largest of the sizes that needs no more than one page.

    If none does, in the first. A ``picture`` stands across the head of the first page. ``ValueError`` with a sentence
    for an unknown paper.
    """
    width, height = (72 * inches for inches in paper_size(paper))
    across = width - 2 * _MARGIN
    column = (across - (columns - 1) * _GUTTER) / columns
    head = height - _MARGIN - 2.6 * _TITLE
    wide, high = (72 * inches for inches in picture.figure.get_size_inches()) if picture else (1.0, 0.0)
    ways = [(size, min(across / wide, share * height / max(high, 1.0))) for share in _TALLEST for size in sizes]
    for size, ratio in (*ways, ways[0]):
        under = head - ratio * high - 8 * bool(picture)
        laid = _lay(paragraphs, size, column, columns, (under, head))
        if len(laid) == 1:
            break
    figures = []
    for n, lines in enumerate(laid, 1):
        figure = picture.figure if picture is not None and n == 1 else Figure()
        if picture is not None and n == 1:
            _place(picture, ratio, (_MARGIN, under + 8), (width, height))
        else:
            figure.set_size_inches(width / 72, height / 72)
        _head(figure, title, told, f"page {n} of {len(laid)}" if len(laid) > 1 else "", (width, height))
        for x, y, line in lines:
            weight = "bold" if line.heading else "normal"
            place = ((_MARGIN + x) / width, y / height)
            figure.text(*place, line.words, size=size, weight=weight, color=INK, family="sans-serif")
        figures.append(figure)
    return figures


def _head(figure: Figure, title: str, told: str, page: str, size: tuple[float, float]) -> None:
    """Write a page's title, the line below it, and which page it is."""
    width, height = size
    top = height - _MARGIN - 0.8 * _TITLE
    fit = min(_TITLE, 0.84 * (width - 2 * _MARGIN) / max(measure(plain(title), "bold"), 1))
    figure.text(_MARGIN / width, top / height, plain(title), size=fit, weight="bold", color=INK, family="sans-serif")
    below = (top - 1.1 * _TITLE) / height
    figure.text(_MARGIN / width, below, plain(told), size=8.5, color=INK, family="sans-serif")
    right = 1 - _MARGIN / width
    figure.text(right, top / height, page, size=8.5, ha="right", color=INK, family="sans-serif")


def _lay(
    paragraphs: Sequence[Paragraph], size: float, column: float, columns: int, tops: tuple[float, float]
) -> list[list[tuple[float, float, _Line]]]:
    """Return for each page its lines and where they stand; the first page's columns begin lower than the others'."""
    lines = [line for paragraph in paragraphs for line in _lines(paragraph, size, column)]
    step = _LINE * size
    pages: list[list[tuple[float, float, _Line]]] = [[]]
    n, top = 0, tops[0]
    y = top
    for at, line in enumerate(lines):
        air = 0.45 * step if line.starts and line.heading and y < top else 0.0
        # A heading isn't left alone at a column's foot: two lines more must go below it.
        rest = 2 if line.heading and at + 2 < len(lines) else 0
        if y - air - step * (1 + rest) < _MARGIN:
            n, air = n + 1, 0.0
            if n % columns == 0:
                pages.append([])
                top = tops[1]
            y = top
        y -= air + step
        x = (n % columns) * (column + _GUTTER) + (_INDENT * size if line.inset else 0)
        pages[-1].append((x, y + 0.3 * step, line))
    return pages


def _lines(paragraph: Paragraph, size: float, column: float) -> list[_Line]:
    ems = (column - (_INDENT * size if paragraph.inset else 0)) / size
    wrapped = wrap(plain(paragraph.words), ems, "bold" if paragraph.heading else "normal")
    return [_Line(words, paragraph.inset, paragraph.heading, n == 0) for n, words in enumerate(wrapped)]


def _place(picture: Picture, ratio: float, corner: tuple[float, float], page: tuple[float, float]) -> None:
    """Make a picture's figure a page, the picture in it at a corner, all in proportion."""
    across, up = (72 * ratio * inches for inches in picture.figure.get_size_inches())
    for text in picture.axes.texts:
        text.set_fontsize(ratio * text.get_fontsize())
    for patch in picture.axes.patches:
        patch.set_linewidth(ratio * patch.get_linewidth())
    picture.figure.set_size_inches(page[0] / 72, page[1] / 72)
    picture.axes.set_position((corner[0] / page[0], corner[1] / page[1], across / page[0], up / page[1]))
