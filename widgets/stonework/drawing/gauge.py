"""A form on the stone with a line gauge along one of its edges, in true proportion, and a lens on the mark."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from stonework.drawing.picture import (
    BRASS,
    INK,
    LABEL,
    LEAD,
    NOW,
    PALE,
    SAWN,
    SMALL,
    STONE,
    TYPE,
    Corner,
    Picture,
    Segment,
    corners,
    lines_of_type,
    shapes,
    strokes,
)
from stonework.form import Edges
from stonework.moving import Edge
from stonework.units import PICA, POINTS_PER_INCH

SLUG = 6.0  # the slugs drawn at head and foot, in points

_MOST = (9.6, 6.6)  # the most the picture takes, in inches
_BROAD, _CLEAR, _BEYOND = 54.0, 3.0, 40.0  # the gauge: how broad, how far from the form, how far past its end
_WINDOW = 27.0  # how many points of the edge the lens shows
_MARGIN = 10.0

Place = Callable[[float, float], Corner]


class GaugeView(Picture):
    """A form and the gauge along one edge, drawn from four edges; it can be drawn again and again."""

    def __init__(self, name: str = "gauge") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._form = self.area(LEAD, INK, 1.2, 2)
        self._slugs = self.area(BRASS, INK, 0.8, 3)
        self._type = self.area(TYPE, "none", 0, 3)
        self._gauge = self.area(PALE, SAWN, 1.2, 4)
        self._marks = self.area("none", INK, 0.9, 5)
        self._leader = self.area("none", NOW, 1.2, 5)
        self._lens = self.area(STONE, NOW, 2.6, 6)
        self._near_form = self.area(LEAD, INK, 1.2, 7)
        self._near_gauge = self.area(PALE, SAWN, 1.2, 7)
        self._points = self.area("none", INK, 1.1, 8)

    def draw(self, edges: Edges, edge: Edge) -> None:
        """Draw the form with the gauge's nought at one end of an edge: the left end, or the head."""
        width, height = max(edges.head, edges.foot), max(edges.left, edges.right)
        length = getattr(edges, edge)
        at = _along(edge, edges, width, height)
        around = _BROAD + _CLEAR + _MARGIN
        gauge = [at(-12, _CLEAR), at(length + _BEYOND, _CLEAR + _BROAD)]
        xs, ys = zip(*gauge, (-around, -around), (width + around, height + around), strict=True)
        self.frame(min(xs), min(ys), max(xs), max(ys), _MOST)
        self._stone.set_path(shapes([corners(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))]))
        outline = [(0.0, 0.0), (edges.foot, 0.0), (edges.head, edges.right), (0.0, edges.left)]
        self._form.set_path(shapes([outline]))
        low, narrow = min(edges.left, edges.right), min(edges.head, edges.foot)
        left, right = edges.left - SLUG, edges.right - SLUG
        head = [(0.0, left), (edges.head, right), (edges.head, edges.right), (0.0, edges.left)]
        self._slugs.set_path(shapes([corners(0, 0, edges.foot, SLUG), head]))
        self._type.set_path(shapes(lines_of_type(0, SLUG, narrow, low - 2 * SLUG)))
        self._gauge.set_path(shapes([_strip(at, -12, length + _BEYOND, _CLEAR, _CLEAR + _BROAD)]))
        self._marks.set_path(strokes(self._graduations(at, length + _BEYOND, upright=edge in ("left", "right"))))
        size = min(0.86 * length, 0.95 * min(width, height), 260.0)
        self._look_close(edge, length, (width / 2, height / 2), size, at(length, 0))
        self.finish(gauge_words(edges, edge))

    def _graduations(self, at: Place, end: float, *, upright: bool) -> Iterator[Segment]:
        """Yield picas and half picas on the edge toward the form, inches and quarters on the other; number them."""
        for n in range(int(end / (PICA / 2)) + 1):
            u, long = n * PICA / 2, 13 if n % 10 == 0 else 9 if n % 2 == 0 else 5
            yield at(u, _CLEAR), at(u, _CLEAR + long)
            if n % 10 == 0:
                self.write(*at(u, _CLEAR + (21 if upright else 18)), str(n // 2), LABEL, weight="bold")
        outer = _CLEAR + _BROAD
        for n in range(int(end / (POINTS_PER_INCH / 4)) + 1):
            u = n * POINTS_PER_INCH / 4
            yield at(u, outer), at(u, outer - (8 if n % 4 == 0 else 4))
            if n % 4 == 0 and n:
                self.write(*at(u + 7, outer - 12), f"{n // 4}″", LABEL)
        self.write(*at(-7, _CLEAR + _BROAD / 2), "PICAS", SMALL, rotation=0 if upright else 90)

    def _look_close(self, edge: Edge, length: float, middle: Corner, size: float, looked_at: Corner) -> None:
        """Draw what stands at the edge's end under a lens, in the middle of the form, with a line to that end."""
        times = size / _WINDOW
        upright = edge in ("left", "right")
        deep = (0.5 if upright else 0.42) * size
        turn = _turn(edge)

        def at(u: float, v: float) -> Corner:
            x, y = turn((u - length) * times, v)
            return middle[0] + x, middle[1] + y

        half = _WINDOW / 2
        low, high = length - half, length + half
        self._lens.set_path(shapes([_strip(at, low, high, -deep / 2, deep / 2)]))
        self._near_form.set_path(shapes([_strip(at, low, length, -deep / 2, 0)]))
        self._near_gauge.set_path(shapes([_strip(at, low, high, deep * 0.03, deep / 2)]))
        marks: list[Segment] = []
        for n in range(math.ceil(low), math.floor(high) + 1):
            long = 0.3 if n % 12 == 0 else 0.22 if n % 6 == 0 else 0.12
            marks.append((at(n, deep * 0.03), at(n, deep * (0.03 + long))))
            if n % 12 == 0 and abs(n - length) < half - 1:
                self.write(*at(n, deep * 0.415), str(n // 12), LABEL, weight="bold")
        self._points.set_path(strokes(marks))
        self._leader.set_path(strokes([(at(length, deep / 2), looked_at)]))
        told = f"lens, {times:.0f} times:\na mark a point"
        self.write(*at(length - half / 2, -deep * 0.25), told, LABEL, rotation=90 if upright else 0)


def gauge_words(edges: Edges, edge: Edge) -> str:
    """Say what the gauge shows at one edge as an eye reads it: the pica mark passed last, and the points beyond."""
    length = getattr(edges, edge)
    picas, points = divmod(round(length, 1), PICA)
    start, end = ("left end", "right end") if edge in ("head", "foot") else ("head", "foot")
    beyond = "right on that mark" if points < 0.05 else f"{points:g} of the twelve small divisions past it"
    return (
        f"A form with a slug at its head and foot. A line gauge lies along its {edge} edge, with its nought at the "
        f"{start}. At the {end} the last pica mark passed is number {picas:.0f}; the edge ends {beyond}."
    )


def _turn(edge: Edge) -> Place:
    """Return how along (u) and out from (v) an edge lie on the page."""
    return {
        "head": lambda u, v: (u, v),
        "foot": lambda u, v: (u, -v),
        "left": lambda u, v: (-v, -u),
        "right": lambda u, v: (v, -u),
    }[edge]


def _along(edge: Edge, edges: Edges, width: float, height: float) -> Place:
    """Return where a place along an edge and out from it lies; nought is the left end, or the head."""
    x, y = {
        "head": (0.0, height),
        "foot": (0.0, 0.0),
        "left": (0.0, edges.left),
        "right": (width, edges.right),
    }[edge]
    turn = _turn(edge)

    def at(u: float, v: float) -> Corner:
        du, dv = turn(u, v)
        return x + du, y + dv

    return at


def _strip(at: Place, low: float, high: float, near: float, far: float) -> Sequence[Corner]:
    return [at(low, near), at(high, near), at(high, far), at(low, far)]
