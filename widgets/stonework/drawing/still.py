"""What the still drawings for the lessons share: a plan drawn once, pieces from the side, names, notes and arrows."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any

from matplotlib.path import Path

from stonework.drawing import picture as ink
from stonework.drawing.picture import Corner, Picture, Segment, corners, lines_of_type, shapes, strokes
from stonework.drawing.plan import PlanView
from stonework.lockup import Item, PlacedForm
from stonework.shop import Quoin

WIDE = 720.0  # every picture is ten inches wide; most are drawn in its own points
TITLE, NAME, NOTE = 17.0, 14.5, 12.0  # type sizes that can be read when the picture is 640 pixels wide
BROKEN = (0, (3, 1.4))

# How a piece looks from the side: its face, its edge and how thick that is, and what lies over what.
_LOOKS = {
    "stone": (ink.STONE, ink.INK, 1.0, 1),
    "rail": (ink.IRON, ink.IRON_EDGE, 1.5, 2),
    "furniture": (ink.MAPLE, ink.SAWN, 1.2, 2),
    "reglet": (ink.PALE, ink.SAWN, 1.1, 2),
    "quoin": (ink.BRASS, ink.BRASS_EDGE, 1.2, 2),
    "line": (ink.LEAD, ink.INK, 1.0, 2),
    "fallen": (ink.LEAD, ink.WRONG, 2.2, 4),
}
_MARKS: dict[str, dict[str, Any]] = {"quoin": {"hatch": "////"}, "fallen": {"linestyle": BROKEN}}


class StillPlan(PlanView):
    """A plan that is drawn once, without the labels of the working view."""

    def lie(self, forms: Sequence[PlacedForm], items: Iterable[Item], patterns: Sequence[Quoin] = ()) -> None:
        """Lay forms and pieces on the stone; quoins are drawn as what they are among the patterns."""
        boxes = [(form.x, form.y, form.width, form.height) for form in forms]
        self._lead.set_path(shapes(corners(*box) for box in boxes))
        self._type.set_path(shapes(line for box in boxes for line in lines_of_type(*box)))
        tops = [(x, y + height - 2.5 / self.scale, x + width) for x, y, width, height in boxes]
        self._head.set_path(strokes([((x, y), (right, y)) for x, y, right in tops]))
        self._draw_items(items, patterns)


def draw(view: Picture, path: Path, face: str, edge: str, width: float, zorder: int, **looks: Any) -> None:
    """Draw one path in an ink of its own."""
    view.area(face, edge, width, zorder, **looks).set_path(path)


def show(view: Picture, left: float, bottom: float, right: float, top: float, face: str) -> None:
    """Show this much, ten inches wide, on a ground that lets the ink stand out on any page."""
    view.frame(left, bottom, right, top, (10, 8))
    draw(view, shapes([corners(left, bottom, right - left, top - bottom)]), face, "none", 0, 0)


def lead_to(view: Picture, *leaders: Segment) -> None:
    """Draw leader lines, each from a name to a dot on what it names; paper on both sides keeps them clear of grain."""
    dots = Path.make_compound_path(*(Path.circle(end, 3.2 / view.scale) for _, end in leaders))
    draw(view, strokes(leaders), "none", ink.PAPER, 4.2, 7, capstyle="butt")
    draw(view, strokes(leaders), "none", ink.INK, 1.3, 8)
    draw(view, dots, ink.INK, ink.PAPER, 1.0, 8)


def note(view: Picture, place: Corner, words: str, *leaders: Segment, ha: str = "center", va: str = "center") -> None:
    """Write a note, with leader lines to what it tells of."""
    view.write(*place, words, NOTE, ha=ha, va=va)
    if leaders:
        lead_to(view, *leaders)


def name_part(view: Picture, x: float, y: float, name: str, told: str, *leaders: Segment) -> None:
    """Write a part's name and, below it, what it is."""
    view.write(x, y, name, NAME, weight="bold", va="bottom")
    note(view, (x, y - 2 / view.scale), told, *leaders, va="top")


def arrow(start: Corner, end: Corner, broad: float) -> list[Corner]:
    """Return an arrow from one place to another, its shaft so broad."""
    long = math.dist(start, end)
    neck = long - 1.8 * broad
    outline = ((0, -0.5), (neck, -0.5), (neck, -1.1), (long, 0), (neck, 1.1), (neck, 0.5), (0, 0.5))
    return turned([(u, v * broad) for u, v in outline], math.atan2(end[1] - start[1], end[0] - start[0]), start)


def turned(points: Iterable[Corner], angle: float, to: Corner) -> list[Corner]:
    """Turn points about 0, 0, anticlockwise in radians, and carry them to a place."""
    cos, sin = math.cos(angle), math.sin(angle)
    return [(to[0] + x * cos - y * sin, to[1] + x * sin + y * cos) for x, y in points]


def _sort(width: float, height: float) -> list[Corner]:
    """Return a piece of type from the side: groove between its feet, nick, shoulder and face."""
    w, h = width, height
    feet = [(0, 0), (0.36 * w, 0), (0.42 * w, 0.04 * h), (0.58 * w, 0.04 * h), (0.64 * w, 0), (w, 0)]
    face = [(w, 0.88 * h), (0.86 * w, 0.88 * h), (0.76 * w, h), (0.24 * w, h), (0.14 * w, 0.88 * h), (0, 0.88 * h)]
    return [*feet, *face, (0, 0.27 * h), (0.09 * w, 0.245 * h), (0, 0.22 * h)]


def _rings(width: float, height: float) -> list[Segment]:
    """Return the rings in the end of a block of wood, as lines inside it."""
    rings: list[Segment] = []
    for radius in range(int(0.6 * height), int(2 * (width + height)), 9):
        turns = [n / 24 for n in range(76)]
        arc = [(0.3 * width + radius * math.cos(a), -0.5 * height + radius * math.sin(a)) for a in turns]
        inside = [1.5 < x < width - 1.5 and 1.5 < y < height - 1.5 for x, y in arc]
        rings += [pair for pair, both in zip(pairwise(arc), pairwise(inside), strict=True) if all(both)]
    return rings


def draw_piece(view: Picture, kind: str, width: float, height: float, turn: float, foot: Corner) -> None:
    """Draw one piece from the side, its lower left corner at ``foot``, turned so far anticlockwise about it."""
    outline = _sort(width, height) if kind in ("line", "fallen") else corners(0, 0, width, height)
    draw(view, shapes([turned(outline, turn, foot)]), *_LOOKS[kind], **_MARKS.get(kind, {}))
    if kind == "furniture":
        rings = [(one, other) for one, other in (turned(ring, turn, foot) for ring in _rings(width, height))]
        draw(view, strokes(rings), "none", ink.SAWN, 0.7, 3, alpha=0.6)


def smooth(points: Sequence[Corner]) -> Path:
    """Return a smooth line from the first point to the last, drawn toward each point between."""
    path = [points[0]]
    for (x, y), (next_x, next_y) in pairwise(points[1:-1]):
        path += [(x, y), ((x + next_x) / 2, (y + next_y) / 2)]
    path += points[-2:]
    return Path(path, [Path.MOVETO, *[Path.CURVE3] * (len(path) - 1)])
