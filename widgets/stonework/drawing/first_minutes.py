"""The first minutes at the stone, in six small scenes: from the galley to a page that stands in its chase untied.

All of it is common practice, without a source.
"""

from __future__ import annotations

import math

from matplotlib.path import Path

from stonework.drawing import picture as ink
from stonework.drawing.picture import Corner, Picture, corners, rounded_box, shapes, strokes
from stonework.drawing.still import BROKEN, NAME, NOTE, WIDE, StillPlan, arrow, draw, draw_piece, show, smooth, turned
from stonework.lockup import SIDES, Item, PlacedForm, along_x, lay
from stonework.pressing import ASSUMED

_CELL = (232.0, 176.0)  # a scene's picture
_LEFTS, _FEET = (8.0, 244.0, 480.0), (300.0, 52.0)  # where they stand; below each are two lines of words
_PAGE = (84.0, 68.0)
_THICK, _SHORT = 22.0, 4.0  # the wood set against a page: how thick, and how far its ends stop short
_CORD = 4.6  # how thick the string is drawn, far thicker than it is

# Each scene's title, and what to do.
TOLD = (
    ("1  Slide it from its galley", "The open end meets the stone, level.\nPush the whole side; never lift it."),
    ("2  Square it", "Push the tied page, from two sides,\nup against straight sticks."),
    ("3  Set wood against it", "On all four sides, before the string\nis touched, so that no line tips."),
    ("4  Lay the chase round it", "Lower it over page and wood;\ndon't drag it along the stone."),
    ("5  Take the string off", "Wood holds every side, no quoin is in:\nunwind it, a turn at a time."),
    ("If something tips", "Stop: hold it with a stick, and set it up\nagain line by line. Don't force it."),
)


def first_minutes() -> Picture:
    """Show how a tied page comes from its galley into its chase, and loses its string."""
    view = StillPlan("the-first-minutes")
    show(view, 0, 0, WIDE, 506, ink.PAPER)
    cells = [(x, y) for y in _FEET for x in _LEFTS]
    rooms = Path.make_compound_path(*(rounded_box(*cell, *_CELL, 6) for cell in cells))
    draw(view, rooms, ink.STONE, ink.IRON_EDGE, 1.0, 1)
    for (x, y), (title, told) in zip(cells, TOLD, strict=True):
        view.write(x + _CELL[0] / 2, y + _CELL[1] + 12, title, NAME, weight="bold")
        view.write(x + _CELL[0] / 2, y - 20, told, NOTE)
    galley, square, wood, chase, string, tipped = cells
    pages = [_page(x, y) for x, y in (galley, square, wood, chase, string)]
    pages[0] = PlacedForm(galley[0] + 70, pages[0].y, *_PAGE)  # half over the stone's edge
    stop, foot = _squared(pages[1])
    around = [piece for page in pages[2:] for piece in _wood(page)]
    _galley(view, galley, pages[0])
    view.lie(pages, [_pusher(pages[0]), stop, foot, *around])
    for page in pages[:4]:
        _tied(view, page)
    _before(view, pages[1])
    for page in pages[3:]:
        _chase(view, page)
    _untied(view, pages[4])
    _tipped(view, tipped)
    view.finish(
        "Six small scenes of a page's first minutes at the stone: the tied page is pushed along its whole side from "
        "the galley's open end; it is squared against straight sticks; wood is set against all four sides; the chase "
        "is lowered round page and wood; the string comes off while wood holds every side and no quoin is in; and "
        "lines that tip are held with a stick and set up again."
    )
    return view


def _page(x: float, y: float) -> PlacedForm:
    """Return a page in the middle of a scene whose lower left corner is given."""
    return PlacedForm(x + (_CELL[0] - _PAGE[0]) / 2, y + (_CELL[1] - _PAGE[1]) / 2, *_PAGE)


def _wood(page: PlacedForm) -> list[Item]:
    """Return a piece on each side of a tied page, as in a pinwheel: each runs on at one corner only."""
    ends = {
        "bottom": (-_THICK, -_SHORT),
        "right": (-_THICK, -_SHORT),
        "top": (_SHORT, _THICK),
        "left": (_SHORT, _THICK),
    }
    laid = []
    for side in SIDES:
        low, past = ends[side]
        long = (page.width if along_x(side) else page.height) + past - low
        laid.append(lay(page, side, 1, "furniture", thickness=_THICK, length=long, low=low, near=_CORD))
    return laid


def _tied(view: Picture, page: PlacedForm) -> None:
    """Draw the string round a page."""
    half = _CORD / 2
    _cord(view, shapes([corners(page.x - half, page.y - half, page.width + _CORD, page.height + _CORD)]))


def _cord(view: Picture, path: Path) -> None:
    """Draw a cord with its twist."""
    draw(view, path, "none", ink.INK, _CORD, 8, joinstyle="round", capstyle="round")
    draw(view, path, "none", ink.PAPER, 0.6 * _CORD, 8, linestyle=(0, (1.4, 0.5)), capstyle="butt")


def _galley(view: Picture, cell: Corner, page: PlacedForm) -> None:
    """Draw the galley, a tray with three rims; its open end lies at the edge of the stone."""
    edge, (x, y) = page.x + page.width / 2, cell
    draw(view, shapes([corners(x + 2, y + 2, edge - x - 2, _CELL[1] - 4)]), ink.PAPER, "none", 0, 1)
    tray = corners(x + 12, page.y - 18, edge - x - 12, page.height + 36)
    draw(view, shapes([tray]), ink.LEAD, ink.INK, 1.0, 2, alpha=0.6)
    left, low, right, high = tray[0][0], tray[0][1], tray[2][0], tray[2][1]
    rim = Path([(right, low), (left, low), (left, high), (right, high)])
    draw(view, rim, "none", ink.IRON, 7, 2, capstyle="butt", joinstyle="miter")
    draw(view, strokes([((edge, y + 2), (edge, y + _CELL[1] - 2))]), "none", ink.INK, 2.0, 2)
    push = arrow((page.x - 48, page.y + page.height / 2), (page.x - 20, page.y + page.height / 2), 8)
    draw(view, shapes([push]), ink.NOW, ink.PAPER, 0.8, 9)
    view.write((left + right) / 2, high + 16, "galley", NOTE)
    view.write((edge + x + _CELL[0]) / 2, high + 16, "stone", NOTE)


def _pusher(page: PlacedForm) -> Item:
    """Return the stick that pushes a page along its whole side."""
    return lay(page, "left", 1, "furniture", thickness=14, length=page.height, low=0, near=_CORD)


def _squared(page: PlacedForm) -> tuple[Item, Item]:
    """Return the straight sticks that a page is squared against: on its left, and at its foot."""
    left = lay(page, "left", 1, "furniture", thickness=14, length=page.height + 34, low=-4, near=_CORD)
    return left, lay(page, "bottom", 1, "furniture", thickness=14, length=page.width + 40, low=-4, near=_CORD)


def _before(view: Picture, page: PlacedForm) -> None:
    """Draw how a page lay before it was squared, and the two pushes."""
    lay_askew = turned(corners(4, 10, *_PAGE), math.radians(5), (page.x, page.y))
    draw(view, shapes([lay_askew]), "none", ink.NOW, 1.6, 9, linestyle=BROKEN)
    x, y, right, top = page.x, page.y, page.x + page.width, page.y + page.height
    pushes = [arrow((right + 46, y + 34), (right + 14, y + 34), 8), arrow((x + 42, top + 48), (x + 42, top + 22), 8)]
    draw(view, shapes(pushes), ink.NOW, ink.PAPER, 0.8, 9)


def _chase(view: Picture, page: PlacedForm) -> None:
    """Draw the chase round a page and its wood."""
    clear, rail = _THICK + 10, 10.0
    inner = corners(page.x - clear - 14, page.y - clear + 4, page.width + 2 * clear + 28, page.height + 2 * clear - 8)
    (x, y), (right, top) = inner[0], inner[2]
    outer = rounded_box(x - rail, y - rail, right - x + 2 * rail, top - y + 2 * rail, 4)
    hole = Path([*inner[::-1], inner[-1]], [Path.MOVETO, *[Path.LINETO] * 3, Path.CLOSEPOLY])
    draw(view, Path.make_compound_path(outer, hole), ink.IRON, ink.IRON_EDGE, 1.2, 4)


def _untied(view: Picture, page: PlacedForm) -> None:
    """Draw the string half off: still round three sides, its end drawn up over the wood."""
    half, right, top = _CORD / 2, page.x + page.width, page.y + page.height
    round_it = [
        (page.x - half, top),
        (page.x - half, page.y - half),
        (right + half, page.y - half),
        (right + half, top),
    ]
    end = smooth(
        [round_it[-1], (right + half, top + 16), (right + 14, top + 30), (right + 40, top + 20), (right + 66, top + 40)]
    )
    vertices = [*round_it, *end.vertices[1:].tolist()]
    _cord(view, Path(vertices, [Path.MOVETO, *[Path.LINETO] * 3, *end.codes[1:]]))


def _tipped(view: Picture, cell: Corner) -> None:
    """Draw lines from the side, three of them leaning on a stick that is pushed against them."""
    (x, y), (wide, high, lean) = cell, (13.0, ASSUMED.type_height * 1.2, 0.2)
    base, wood = y + 34, ASSUMED.furniture_height * 1.2
    draw_piece(view, "stone", _CELL[0] - 4, 30, 0, (x + 2, base - 30))
    draw_piece(view, "furniture", 40, wood, 0, (x + 10, base))
    at = x + 50
    for _ in range(4):
        draw_piece(view, "line", wide, high, 0, (at, base))
        at += wide
    step = wide / math.cos(lean)
    for n in range(3):  # each stands on its right foot
        draw_piece(view, "fallen", wide, high, -lean, (at + n * step, base + wide * math.sin(lean)))
    face = at + 2 * step + wide * math.cos(lean) + wood * math.tan(lean)  # where the last meets the stick's upper edge
    draw_piece(view, "furniture", 30, wood, 0, (face, base))
    push = arrow((face + 66, base + wood / 2), (face + 34, base + wood / 2), 8)
    draw(view, shapes([push]), ink.NOW, ink.PAPER, 0.8, 9)
    view.write(x + _CELL[0] / 2, y + _CELL[1] - 18, "seen from the side", NOTE)
