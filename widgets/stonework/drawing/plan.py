"""The plan view: a lockup as it lies on the stone, seen from above.

Artists are made once and moved, never remade, so that a control can redraw the plan while it is dragged.
"""

from __future__ import annotations

import io
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from html import escape
from typing import Any

import matplotlib
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.text import Text

from stonework.drawing.words import in_picas, openings, sentence
from stonework.lockup import SIDES, SLACK, Item, Lockup, Side, along_x
from stonework.shop import Shop
from stonework.units import PICA, read_length, write_length

# Inks and woods. Each kind also has a mark of its own (grain, wedge, lines of type), so no reading needs colour.
STONE, IRON, IRON_EDGE = "#e9ecea", "#3f474d", "#22282c"
MAPLE, GRAIN, SAWN = "#d8ae74", "#a97f45", "#6b4a1f"
PALE, BRASS, BRASS_EDGE = "#f6e8c6", "#8d97a0", "#1f2b38"
LEAD, TYPE, PAPER, INK = "#c3c8cc", "#39414a", "#ffffff", "#1b1b1b"
NOW, WRONG = "#0b3d66", "#b3261e"

RAIL = 46.0  # how wide the chase's rails are drawn, in points; a drawing only, no chase was measured for it
INCH = read_length("1 in")
_WIDTH, _HEIGHT = 10.0, 7.4  # the most the picture takes, in inches
_EDGE, _RULER = 0.08, 0.62  # margins in inches: around, and below for the ruler
_LABEL, _NUMBER = 10.5, 12.5  # type sizes in the picture, in its points

Corner = tuple[float, float]
Segment = tuple[Corner, Corner]


class PlanView:
    """A plan view that can be drawn again and again; ``svg`` gives the picture."""

    def __init__(self, name: str = "plan") -> None:
        self._name = name  # two pictures on one page must not share the names of their patterns
        self.figure = Figure(figsize=(_WIDTH, _HEIGHT), facecolor="none")
        self._axes = self.figure.add_axes((0, 0, 1, 1))
        self._axes.set_axis_off()
        self._chase = self._area(IRON, IRON_EDGE, 1.5, 1)
        self._stone = self._area(STONE, IRON_EDGE, 1.5, 2)
        self._lead = self._area(LEAD, INK, 1.4, 3)
        self._type = self._area(TYPE, "none", 0, 4)
        self._head = self._area("none", INK, 4, 5)
        self._furniture = self._area(MAPLE, SAWN, 1.1, 5)
        self._grain = self._area("none", GRAIN, 0.7, 6)
        self._reglet = self._area(PALE, SAWN, 1.1, 5)
        self._wedges = self._area(BRASS, BRASS_EDGE, 1.2, 6, hatch="////")
        self._now = self._area("none", NOW, 3.2, 8)
        self._wrong = self._area("none", WRONG, 3.2, 8, linestyle=(0, (3, 1.4)))
        self._ruler = self._area("none", INK, 0.9, 3)
        self._texts: list[Text] = []
        self._used = 0
        self._scale = 1.0  # picture points for each point of the stone
        self._alt = ""

    def draw(self, lockup: Lockup, shop: Shop, *, placed: int | None = None, wrong: Collection[Item] = ()) -> None:
        """Move every artist to where this lockup needs it; the shop says how its quoins measure closed.

        ``placed`` leaves out what comes later in the placing order, and frames the piece just laid. Items in
        ``wrong`` get a broken frame and a mark on their labels.
        """
        order = lockup.placing_order()
        shown = order if placed is None else order[:placed]
        self._used = 0
        self._frame(lockup)
        self._draw_form(lockup)
        self._draw_items(shown)
        self._draw_labels(lockup, shown, wrong)
        self._wrong.set_path(_shapes(_box(item) for item in shown if item in wrong))
        self._draw_rails(lockup, shop, whole=len(shown) == len(order))
        self._draw_ruler(lockup)
        self._now.set_path(_shapes([_box(shown[-1])] if placed is not None and shown else []))
        for text in self._texts[self._used :]:
            text.set_visible(False)
        self._alt = sentence(lockup, shop, shown)

    def svg(self) -> str:
        """Return the picture as an SVG element that carries its own description."""
        sink = io.StringIO()
        with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": self._name}):
            self.figure.savefig(sink, format="svg", metadata={"Date": None, "Creator": None}, transparent=True)
        drawn = sink.getvalue()
        drawn = drawn[drawn.index("<svg") :]
        drawn = re.sub(r"<metadata>.*?</metadata>", "", drawn, flags=re.S)
        # The page decides the size; the view box keeps the proportions.
        head, rest = drawn.split(">", 1)
        head = re.sub(r' (width|height)="[^"]*"', "", head)
        return f'{head} class="stonework-plan" role="img" aria-label="{escape(self._alt)}">{rest}'

    # --- parts of the picture ------------------------------------------------------------------------

    def _area(self, face: str, edge: str, width: float, zorder: int, **looks: Any) -> PathPatch:
        """Return an artist for any number of shapes at once: one path draws faster than many."""
        made = PathPatch(_NOWHERE, facecolor=face, edgecolor=edge, linewidth=width, zorder=zorder, **looks)
        return self._axes.add_artist(made)

    def _frame(self, lockup: Lockup) -> None:
        """Fit the picture to the chase."""
        width, height = lockup.chase.width, lockup.chase.height
        across, up = width + 2 * RAIL, height + 2 * RAIL
        inches = min((_WIDTH - 2 * _EDGE) / across, (_HEIGHT - _EDGE - _RULER) / up)
        self._scale = inches * 72
        size = (across * inches + 2 * _EDGE, up * inches + _EDGE + _RULER)
        self.figure.set_size_inches(*size)
        left, bottom = -RAIL - _EDGE / inches, -RAIL - _RULER / inches
        self._axes.set_xlim(left, left + size[0] / inches)
        self._axes.set_ylim(bottom, bottom + size[1] / inches)
        self._chase.set_path(_rounded_box(-RAIL, -RAIL, across, up, RAIL / 3))
        self._stone.set_path(_shapes([_corners(0, 0, width, height)]))

    def _draw_form(self, lockup: Lockup) -> None:
        form = lockup.form
        self._lead.set_path(_shapes([_corners(form.x, form.y, form.width, form.height)]))
        self._type.set_path(_shapes(_lines_of_type(form.x, form.y, form.width, form.height)))
        top = form.y + form.height - 2.5 / self._scale
        self._head.set_path(_strokes([((form.x, top), (form.x + form.width, top))]))
        size = f"{write_length(form.width)} × {write_length(form.height)}"
        x, y = form.x + form.width / 2, form.y + form.height
        self._write(x, y - 9 / self._scale, "HEAD", _LABEL, weight="bold", va="top", pill=True)
        turned = form.width * self._scale < 0.62 * _LABEL * len(size) and form.height > form.width
        self._write(x, form.y + form.height / 2, size, _LABEL, rotation=90 * turned, pill=True)

    def _draw_items(self, items: Iterable[Item]) -> None:
        by_kind: dict[str, list[Item]] = {"furniture": [], "reglet": [], "quoin": []}
        for item in items:
            by_kind[item.kind].append(item)
        self._furniture.set_path(_shapes(_box(item) for item in by_kind["furniture"]))
        self._grain.set_path(_strokes(line for item in by_kind["furniture"] for line in _grain(item)))
        self._reglet.set_path(_shapes(_box(item) for item in by_kind["reglet"]))
        self._wedges.set_path(_shapes(wedge for item in by_kind["quoin"] for wedge in _wedges(item)))

    def _draw_labels(self, lockup: Lockup, items: tuple[Item, ...], wrong: Collection[Item]) -> None:
        on_side: dict[str, int] = {}
        for number, item in enumerate(items, 1):
            x, y = item.x + item.width / 2, item.y + item.height / 2
            mark = " ✗" if item in wrong else ""
            if item.kind == "quoin":
                self._write(x, y, f"{number}{mark}", _LABEL, weight="bold", pill=True)
                continue
            label = f"{number}: {in_picas(item.thickness)} × {in_picas(item.length)}{mark}"
            if item.thickness * self._scale < 1.5 * _LABEL:
                nth = on_side[item.side] = on_side.get(item.side, 0) + 1
                step = self._beside(lockup, item, 0.62 * _LABEL * len(label) / self._scale, high=nth % 2 == 0)
                x, y = (x + step, y) if along_x(item.side) else (x, y + step)
            self._write(x, y, label, _LABEL, rotation=0 if along_x(item.side) else 90, pill=True)

    @staticmethod
    def _beside(lockup: Lockup, item: Item, size: float, *, high: bool) -> float:
        """Return how far along a piece too thin for its label the label goes: past an end, if there is room.

        Neighbours' labels go to opposite ends, so that they don't meet.
        """
        start, end = (item.x, lockup.chase.width) if along_x(item.side) else (item.y, lockup.chase.height)
        room = end - start - item.length if high else start
        outside = item.length / 2 + size / 2 + 4
        inside = min(0.38 * item.length, max(0.0, item.length / 2 - size / 2))
        return (1 if high else -1) * (outside if room > size + 8 else inside)

    def _draw_rails(self, lockup: Lockup, shop: Shop, *, whole: bool) -> None:
        """Write on each rail how wide the gap before it is, and what closes it."""
        chase, opening = lockup.chase, openings(lockup, shop)
        for side in SIDES:
            what = f"{side} gap {write_length(round(lockup.gap(side), 1))}"
            if whole:
                what += f", {_closed_by(lockup, side, opening)}"
            x = {"left": -RAIL / 2, "right": chase.width + RAIL / 2}.get(side, chase.width / 2)
            y = {"bottom": -RAIL / 2, "top": chase.height + RAIL / 2}.get(side, chase.height / 2)
            self._write(x, y, what, _NUMBER, rotation=0 if along_x(side) else 90, colour=PAPER)

    def _draw_ruler(self, lockup: Lockup) -> None:
        """Lay a rule below the chase: picas on its upper edge, inches on its lower."""
        unit, width = 1 / self._scale, lockup.chase.width
        top = -RAIL - 10 * unit
        segments: list[Segment] = [((0, top), (width, top)), ((0, top - 26 * unit), (width, top - 26 * unit))]
        for n in range(int(width / PICA) + 1):
            tick = 9 if n % 10 == 0 else 6 if n % 5 == 0 else 3
            segments.append(((n * PICA, top), (n * PICA, top - tick * unit)))
            if n % 10 == 0:
                label = f"{n} picas" if n == 10 else str(n)
                self._write(n * PICA + 2 * unit, top - 11 * unit, label, 7.5, ha="left")
        for n in range(int(width / INCH + 1e-6) + 1):
            segments.append(((n * INCH, top - 26 * unit), (n * INCH, top - 35 * unit)))
            label = f"{n} in" if n == 1 else str(n)
            self._write(n * INCH + 2 * unit, top - 32 * unit, label, 7.5, ha="left")
        self._ruler.set_path(_strokes(segments))

    def _write(
        self,
        x: float,
        y: float,
        words: str,
        size: float,
        *,
        rotation: float = 0,
        weight: str = "normal",
        colour: str = INK,
        ha: str = "center",
        va: str = "center",
        pill: bool = False,
    ) -> None:
        if self._used == len(self._texts):
            self._texts.append(self._axes.text(0, 0, "", zorder=9, family="sans-serif"))
        text = self._texts[self._used]
        self._used += 1
        text.set_visible(True)
        text.set(x=x, y=y, text=words, rotation=rotation, color=colour, fontsize=size, fontweight=weight)
        text.set(horizontalalignment=ha, verticalalignment=va)
        text.set_bbox({"boxstyle": "round,pad=0.22", "fc": PAPER, "ec": "none", "alpha": 0.86} if pill else None)


# A path can't be empty; this one draws nothing.
_NOWHERE = Path([(0, 0)], [Path.MOVETO])


def _closed_by(lockup: Lockup, side: Side, opening: Mapping[Side, float]) -> str:
    """Say what fills a side's gap, or how much of it is empty."""
    reached = max((lockup.seen_from(side, item).far for item in lockup.on(side)), default=0.0)
    empty = lockup.gap(side) - reached
    if empty < -SLACK:
        return f"overfull by {write_length(round(-empty, 1))}"
    if empty > SLACK:
        return f"{write_length(round(empty, 1))} still empty"
    return f"quoins open {write_length(round(opening[side], 1))}" if side in opening else "solid"


def _shapes(shapes: Iterable[Sequence[Corner]]) -> Path:
    """Return one path of closed shapes."""
    points: list[Corner] = []
    codes: list[int] = []
    for shape in shapes:
        points += [*shape, shape[0]]
        codes += [Path.MOVETO, *[Path.LINETO] * (len(shape) - 1), Path.CLOSEPOLY]
    return Path(points, codes) if points else _NOWHERE


def _strokes(segments: Iterable[Segment]) -> Path:
    """Return one path of separate lines."""
    points = [corner for segment in segments for corner in segment]
    return Path(points, [Path.MOVETO, Path.LINETO] * (len(points) // 2)) if points else _NOWHERE


def _corners(x: float, y: float, width: float, height: float) -> list[Corner]:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def _box(item: Item) -> list[Corner]:
    return _corners(item.x, item.y, item.width, item.height)


def _rounded_box(x: float, y: float, width: float, height: float, radius: float) -> Path:
    right, top, r = x + width, y + height, radius
    corners = [(x, y), (right, y), (right, top), (x, top)]
    inward = [((0, r), (r, 0)), ((-r, 0), (0, r)), ((0, -r), (-r, 0)), ((r, 0), (0, -r))]
    points: list[Corner] = []
    codes: list[int] = []
    for (cx, cy), ((ax, ay), (bx, by)) in zip(corners, inward, strict=True):
        points += [(cx + ax, cy + ay), (cx, cy), (cx + bx, cy + by)]
        codes += [Path.LINETO, Path.CURVE3, Path.CURVE3]
    codes[0] = Path.MOVETO
    return Path([*points, points[0]], [*codes, Path.CLOSEPOLY])


def _grain(item: Item) -> Iterator[Segment]:
    """Yield broken lines along a piece, the same each time."""
    lines = max(2, int(item.thickness / 7))
    for n in range(lines):
        across = item.thickness * (n + 0.5) / lines
        start, stop = 0.02 + 0.05 * ((n * 7) % 5), 0.98 - 0.06 * ((n * 3) % 4)
        middle = 0.35 + 0.08 * ((n * 5) % 4)
        for low, high in ((start, middle), (middle + 0.03, stop)):
            if along_x(item.side):
                yield ((item.x + low * item.length, item.y + across), (item.x + high * item.length, item.y + across))
            else:
                yield ((item.x + across, item.y + low * item.length), (item.x + across, item.y + high * item.length))


def _wedges(item: Item) -> Iterator[list[Corner]]:
    """Yield the two halves of a quoin: each thick at one end, thin at the other, with daylight between."""
    length, thick, slit = item.length, item.thickness, 0.06 * item.thickness
    inner = [(0.0, 0.0), (length, 0.0), (length, 0.28 * thick - slit), (0.0, 0.72 * thick - slit)]
    for half in (inner, [(length - u, thick - v) for u, v in inner]):
        yield [(item.x + u, item.y + v) if along_x(item.side) else (item.x + v, item.y + u) for u, v in half]


def _lines_of_type(x: float, y: float, width: float, height: float) -> Iterator[list[Corner]]:
    """Yield words of a page that isn't any page: lines at an even pitch, words of uneven length."""
    pitch = max(12.0, height / 40)
    lines = max(1, int((height - 6) / pitch))
    for n in range(lines):
        base = y + height - 6 - (n + 0.78) * pitch
        at, word = x + 5, n
        end = x + width - 5 - (width * 0.4 if n % 7 == 6 else 0)
        while at < end:
            long = pitch * (1.2 + 0.55 * ((word * 7 + n * 3) % 5))
            stop = min(at + long, end)
            yield [(at, base), (stop, base), (stop, base + 0.5 * pitch), (at, base + 0.5 * pitch)]
            at, word = stop + 0.45 * pitch, word + 1
