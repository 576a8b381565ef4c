"""Eight pages in one form, as they lie on the stone: which page lies where, and how wide the gaps are."""

from __future__ import annotations

from collections.abc import Iterator

from stonework.drawing.picture import (
    INK,
    LEAD,
    NOW,
    PAPER,
    STONE,
    Corner,
    Picture,
    Segment,
    corners,
    shapes,
    strokes,
)
from stonework.form import Form
from stonework.placing import Sheet, page_gaps
from stonework.units import POINTS_PER_INCH

# The worked example: S. J. Vaughn, Printing and Bookbinding for Schools, 1912, pp. 36-37.
SHEET = Sheet(25 * POINTS_PER_INCH, 19 * POINTS_PER_INCH)
PAGE = Form(4 * POINTS_PER_INCH, 7 * POINTS_PER_INCH)
BACK = POINTS_PER_INCH

LOWER, UPPER = (1, 8, 7, 2), (4, 5, 6, 3)
"""The pages from left to right, seen from the foot of the lower row; the upper row stands on its head.

Common practice, from memory, for a sheet printed on both sides from one form, turned left to right between, then cut
in two; a test turns and folds it. Odd pages lie left of even ones, each row seen from its own foot (Vaughn p. 37).
"""

_NUMBER, _NAME, _NOTE = 19.0, 14.5, 12.0


def eight_pages() -> Picture:
    """Draw the form of the worked example, with its gaps in inches."""
    view = Picture("eight-pages")
    gaps = page_gaps(SHEET, PAGE, across=4, up=2, back=BACK)
    edge = (SHEET.width - 4 * PAGE.width - 2 * gaps.backs - gaps.fronts) / 2
    lefts = [edge]
    for gap in (gaps.backs, gaps.fronts, gaps.backs):
        lefts.append(lefts[-1] + PAGE.width + gap)
    low = gaps.feet / 2
    high = low + PAGE.height + gaps.heads
    view.frame(-90, -130, SHEET.width + 90, SHEET.height + 100, (10, 9))
    ground = corners(-90, -130, SHEET.width + 180, SHEET.height + 230)
    view.area(STONE, "none", 0, 0).set_path(shapes([ground]))
    view.area(PAPER, NOW, 1.8, 1, linestyle=(0, (5, 2))).set_path(shapes([corners(0, 0, *SHEET)]))
    pages = [corners(x, y, PAGE.width, PAGE.height) for y in (low, high) for x in lefts]
    knife = view.area("none", NOW, 1.4, 3, linestyle=(0, (9, 3, 1, 3)))
    knife.set_path(strokes([((SHEET.width / 2, 0), (SHEET.width / 2, SHEET.height))]))
    words = "cut here, when both sides are printed"
    view.write(SHEET.width / 2, 0.74 * SHEET.height, words, _NOTE, rotation=90, colour=NOW, pill=True)
    view.area(LEAD, INK, 1.4, 2).set_path(shapes(pages))
    heads = [_head(x, low + PAGE.height, -1) for x in lefts] + [_head(x, high, 1) for x in lefts]
    view.area("none", INK, 4, 3).set_path(strokes(heads))
    for row, y, turn in ((LOWER, low, 0), (UPPER, high, 180)):
        for number, x in zip(row, lefts, strict=True):
            # Type is a mirror image; the figures here only say which page it is.
            middle = (x + PAGE.width / 2, y + PAGE.height / 2)
            view.write(*middle, f"page {number}", _NUMBER, rotation=turn, weight="bold")
    lines: list[Segment] = []
    for n, gap in enumerate((gaps.backs, gaps.fronts, gaps.backs)):
        start, y = lefts[n] + PAGE.width, low + 0.3 * PAGE.height
        lines += _measure((start, y), (start + gap, y))
        view.write(start + gap / 2, y + 44, _inches(gap), _NAME, weight="bold", pill=True)
    x, start = lefts[1] + PAGE.width / 2, low + PAGE.height
    lines += _measure((x, start), (x, high))
    view.write(x + 24, start + gaps.heads / 2, _inches(gaps.heads), _NAME, weight="bold", ha="left")
    two_leaves = ((lefts[0], -40.0), (lefts[2], -40.0))
    lines += _measure(*two_leaves)
    across = _inches(lefts[2] - lefts[0])
    view.write((lefts[0] + lefts[2]) / 2, -86, f"page 1 to page 7, front edge to front edge: {across}", _NOTE)
    view.area("none", NOW, 1.6, 4).set_path(strokes(lines))
    view.write(
        SHEET.width / 2, SHEET.height + 60, "Eight pages on the stone, the paper over them", _NAME, weight="bold"
    )
    view.finish(
        "Eight pages of type on the stone, in two rows whose heads meet, under a sheet of 25 by 19 inches: "
        f"in the lower row from the left pages {_listed(LOWER)}, in the upper row, standing on its head, "
        f"{_listed(UPPER)}; between pages that meet at the back lie {_inches(gaps.backs)}, between the others "
        f"{_inches(gaps.fronts)}, and between the heads {_inches(gaps.heads)}; between pages 8 and 7 the sheet "
        "is cut in two when both its sides are printed."
    )
    return view


def _head(x: float, y: float, inward: int) -> Segment:
    """Return the thick line along a page's head."""
    return (x, y + 6 * inward), (x + PAGE.width, y + 6 * inward)


def _measure(start: Corner, stop: Corner) -> Iterator[Segment]:
    """Yield a line between two places with a tick at each end."""
    yield start, stop
    along = start[1] == stop[1]
    for x, y in (start, stop):
        yield ((x, y - 24), (x, y + 24)) if along else ((x - 24, y), (x + 24, y))


def _inches(points: float) -> str:
    whole, halves = divmod(round(2 * points / POINTS_PER_INCH), 2)
    return f"{whole}{'½' if halves else ''} in"


def _listed(pages: tuple[int, ...]) -> str:
    return ", ".join(map(str, pages[:-1])) + f" and {pages[-1]}"
