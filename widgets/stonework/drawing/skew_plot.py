"""Two orders of tightening side by side: how far the form sits cocked after every turn."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from stonework.drawing.picture import INK, LABEL, NOW, PAPER, WRONG, Picture, corners, shapes, strokes

_MOST = (6.6, 3.2)  # the most the picture takes, in inches: it stands in a column
_WIDE, _HIGH = 400.0, 150.0  # the field of the plot, in points of the drawing
_STEPS = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)  # how far apart the lines of the scale may be, in points


class SkewPlot(Picture):
    """How far the form sits cocked, either way, against turns of the key, for one order or two."""

    def __init__(self, name: str = "skew") -> None:
        super().__init__(name)
        self._field = self.area(PAPER, INK, 1.0, 1)
        self._scale_lines = self.area("none", "#c9cfcc", 0.8, 2)
        self._lines = (self.area("none", NOW, 2.4, 4), self.area("none", WRONG, 2.4, 4, linestyle=(0, (4, 2))))
        self._marks = (self.area(NOW, NOW, 1.0, 5), self.area(PAPER, WRONG, 1.6, 5))

    def draw(self, orders: dict[str, Sequence[float]]) -> None:
        """Draw one or two orders by name, each with its skews in points after every turn."""
        turns = max((len(skews) for skews in orders.values()), default=0) or 1
        worst = max((abs(skew) for skews in orders.values() for skew in skews), default=0.0) or 0.1
        step = next((step for step in _STEPS if worst / step <= 6), _STEPS[-1])
        top = step * (int(worst / step) + 1)
        self.frame(-84, -48, _WIDE + 16, _HIGH + 48, _MOST)
        self._field.set_path(shapes([corners(0, 0, _WIDE, _HIGH)]))
        rows = [n * step for n in range(round(top / step) + 1)]
        self._scale_lines.set_path(strokes(((0, _HIGH * y / top), (_WIDE, _HIGH * y / top)) for y in rows))
        for y in rows:
            self.write(-6, _HIGH * y / top, f"{y:g}", LABEL, ha="right")
        for n in range(1, turns + 1):
            self.write(_WIDE * n / (turns + 1), -10, str(n), LABEL, va="top")
        self.write(-62, _HIGH / 2, "points cocked, either way", LABEL, rotation=90)
        self.write(_WIDE / 2, -30, "small turns, one after another", LABEL, va="top")
        names = ("■ whole line: ", "□ broken line: ")
        drawn = list(orders.items())[:2]
        for n, (line, mark) in enumerate(zip(self._lines, self._marks, strict=True)):
            name, skews = drawn[n] if n < len(drawn) else ("", ())
            places = [(_WIDE * k / (turns + 1), _HIGH * abs(skew) / top) for k, skew in enumerate(skews, 1)]
            line.set_path(strokes(pairwise(places)))
            mark.set_path(shapes(corners(x - 4, y - 4, 8, 8) for x, y in places))
            if name:
                self.write(8, _HIGH + 34 - 18 * n, f"{names[n]}{name}", LABEL, ha="left")
        self.finish(plot_words(orders))


def plot_words(orders: dict[str, Sequence[float]]) -> str:
    """Say for each order how far the form sits cocked at worst, and after which turn."""
    told = []
    for name, skews in orders.items():
        if not skews:
            told.append(f"{name}: no turn yet.")
            continue
        worst = max(range(len(skews)), key=lambda n: abs(skews[n]))
        told.append(
            f"{name}: at worst {abs(skews[worst]):.2f} points cocked, after turn {worst + 1} of {len(skews)}, and "
            f"{abs(skews[-1]):.2f} at the end."
        )
    return " ".join(told)
