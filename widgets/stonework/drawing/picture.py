"""What every picture shares: its inks, its shapes, its words, and how it becomes SVG.

Artists are made once and moved, never remade, so that a control can redraw a picture while it is dragged.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import Any

import matplotlib
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.text import Text

from stonework.lockup import Filling, Item, PlacedForm, Side

# Inks and woods. Each kind also has a mark of its own (grain, wedge, lines of type), so no reading needs colour.
STONE, IRON, IRON_EDGE = "#e9ecea", "#3f474d", "#22282c"
MAPLE, GRAIN, SAWN = "#d8ae74", "#a97f45", "#6b4a1f"
PALE, BRASS, BRASS_EDGE = "#f6e8c6", "#8d97a0", "#1f2b38"
LEAD, TYPE, PAPER, INK = "#c3c8cc", "#39414a", "#ffffff", "#1b1b1b"
NOW, WRONG = "#0b3d66", "#b3261e"

LABEL, SMALL = 12.5, 11.0  # type sizes in a picture, in its own points

Corner = tuple[float, float]
Segment = tuple[Corner, Corner]


class Picture:
    """A picture that can be drawn again and again; ``svg`` gives it, and ``words`` says what it shows.

    A picture of its own kind makes its areas at the start. To draw, it calls ``frame``, moves its areas,
    writes, and ends with ``finish``.
    """

    def __init__(self, name: str) -> None:
        self._name = name  # two pictures on one page must not share the names of their patterns
        self.figure = Figure(facecolor="none")
        self.axes = self.figure.add_axes((0, 0, 1, 1))
        self.axes.set_axis_off()
        self.scale = 1.0
        """Picture points for each point of what is drawn."""
        self.words = ""
        self._texts: list[Text] = []
        self._written = 0

    @property
    def texts(self) -> list[Text]:
        """What this drawing has written so far."""
        return self._texts[: self._written]

    def svg(self) -> str:
        """Return the picture as an SVG element that carries its own description."""
        sink = io.StringIO()
        with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": self._name}):
            self.figure.savefig(sink, format="svg", metadata={"Date": None, "Creator": None}, transparent=True)
        drawn = sink.getvalue()
        drawn = drawn[drawn.index("<svg") :]
        drawn = re.sub(r"<metadata>.*?</metadata>", "", drawn, flags=re.S)
        drawn = re.sub(r'<g id="[^"]*">', "<g>", drawn)  # nothing refers to them, and each picture has the same
        # The page decides the size; the view box keeps the proportions.
        head, rest = drawn.split(">", 1)
        head = re.sub(r' (width|height)="[^"]*"', "", head)
        return f'{head} class="stonework-plan" role="img" aria-label="{escape(self.words)}">{rest}'

    def area(self, face: str, edge: str, width: float, zorder: int, **looks: Any) -> PathPatch:
        """Return an artist for any number of shapes at once: one path draws faster than many."""
        made = PathPatch(NOWHERE, facecolor=face, edgecolor=edge, linewidth=width, zorder=zorder, **looks)
        return self.axes.add_artist(made)

    def frame(self, left: float, bottom: float, right: float, top: float, most: tuple[float, float]) -> None:
        """Show this much of the drawing, in its points, as large as goes into ``most`` inches."""
        self._written = 0
        inches = min(most[0] / (right - left), most[1] / (top - bottom))
        self.scale = inches * 72
        self.figure.set_size_inches((right - left) * inches, (top - bottom) * inches)
        self.axes.set_xlim(left, right)
        self.axes.set_ylim(bottom, top)

    def finish(self, words: str) -> None:
        """Hide the texts that this drawing didn't need, and keep what the picture says in words."""
        for text in self._texts[self._written :]:
            text.set_visible(False)
        self.words = words

    def write(
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
        """Write words at a place; ``pill`` puts paper behind them."""
        if self._written == len(self._texts):
            self._texts.append(self.axes.text(0, 0, "", zorder=9, family="sans-serif", parse_math=False))
        text = self._texts[self._written]
        self._written += 1
        text.set_visible(True)
        text.set(x=x, y=y, text=words, rotation=rotation, color=colour, fontsize=size, fontweight=weight)
        text.set(horizontalalignment=ha, verticalalignment=va)
        text.set_bbox({"boxstyle": "round,pad=0.22", "fc": PAPER, "ec": "none", "alpha": 0.86} if pill else None)


# A path can't be empty; this one draws nothing.
NOWHERE = Path([(0, 0)], [Path.MOVETO])


def shapes(closed: Iterable[Sequence[Corner]]) -> Path:
    """Return one path of closed shapes."""
    points: list[Corner] = []
    codes: list[int] = []
    for shape in closed:
        points += [*shape, shape[0]]
        codes += [Path.MOVETO, *[Path.LINETO] * (len(shape) - 1), Path.CLOSEPOLY]
    return Path(points, codes) if points else NOWHERE


def strokes(segments: Iterable[Segment]) -> Path:
    """Return one path of separate lines."""
    points = [corner for segment in segments for corner in segment]
    return Path(points, [Path.MOVETO, Path.LINETO] * (len(points) // 2)) if points else NOWHERE


def corners(x: float, y: float, width: float, height: float) -> list[Corner]:
    """Return the four corners of a rectangle from its lower left one."""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def box(piece: Item | PlacedForm | Filling) -> list[Corner]:
    """Return the four corners of a piece where it lies."""
    return corners(piece.x, piece.y, piece.width, piece.height)


def arrow(x: float, y: float, length: float, half: float) -> list[Corner]:
    """Return an arrow that begins at a place and points right, or left if its length is below 0.

    ``half`` is half the breadth of its head.
    """
    outline = ((0, -0.3), (2 / 3, -0.3), (2 / 3, -1), (1, 0), (2 / 3, 1), (2 / 3, 0.3), (0, 0.3))
    return [(x + along * length, y + out * half) for along, out in outline]


def rounded_box(x: float, y: float, width: float, height: float, radius: float) -> Path:
    """Return a rectangle with rounded corners."""
    right, top, r = x + width, y + height, radius
    bends = [(x, y), (right, y), (right, top), (x, top)]
    inward = [((0, r), (r, 0)), ((-r, 0), (0, r)), ((0, -r), (-r, 0)), ((r, 0), (0, -r))]
    points: list[Corner] = []
    codes: list[int] = []
    for (cx, cy), ((ax, ay), (bx, by)) in zip(bends, inward, strict=True):
        points += [(cx + ax, cy + ay), (cx, cy), (cx + bx, cy + by)]
        codes += [Path.LINETO, Path.CURVE3, Path.CURVE3]
    codes[0] = Path.MOVETO
    return Path([*points, points[0]], [*codes, Path.CLOSEPOLY])


def turned(corners: Iterable[Corner], place: PlacedForm, head: Side) -> list[Corner]:
    """Return points of a form that lay with its head at the top and its corner at 0, as it lies with another head."""
    x, y, wide, high = place.x, place.y, place.width, place.height
    ways: dict[Side, Callable[[float, float], Corner]] = {
        "top": lambda u, v: (x + u, y + v),
        "bottom": lambda u, v: (x + wide - u, y + high - v),
        "left": lambda u, v: (x + wide - v, y + u),
        "right": lambda u, v: (x + v, y + high - u),
    }
    return [ways[head](u, v) for u, v in corners]


def lines_of_type(
    x: float, y: float, width: float, height: float, pitch: float | None = None
) -> Iterable[Sequence[Corner]]:
    """Yield words of a page that isn't any page: lines at an even pitch, words of uneven length."""
    margin = 6.0 if pitch is None else 0.0
    pitch = pitch or max(12.0, height / 40)
    for n in range(max(1, int((height - margin) / pitch + 1e-6))):
        base = y + height - margin - (n + 0.78) * pitch
        at, word = x + 5, n
        end = x + width - 5 - (width * 0.4 if n % 7 == 6 else 0)
        while end - at > 0.4 * pitch:  # no slivers
            long = pitch * (1.2 + 0.55 * ((word * 7 + n * 3) % 5))
            stop = min(at + long, end)
            yield [(at, base), (stop, base), (stop, base + 0.5 * pitch), (at, base + 0.5 * pitch)]
            at, word = stop + 0.45 * pitch, word + 1
