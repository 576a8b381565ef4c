"""The true point beside the seventy-second of an inch, over a whole length, with a lens on where they part."""

from __future__ import annotations

import math

from stonework.drawing.picture import (
    INK,
    IRON,
    IRON_EDGE,
    LABEL,
    NOW,
    PALE,
    SAWN,
    SMALL,
    STONE,
    Picture,
    Segment,
    corners,
    shapes,
    strokes,
)
from stonework.units import PICA, POINTS_PER_INCH, write_length

FALSE_POINT = POINTS_PER_INCH / 72
"""How many true points a seventy-second of an inch is: a little over one."""

_MOST = (9.6, 4.6)  # the most the picture takes, in inches
_BROAD = 0.05  # how broad a rule is drawn, as a part of the length


class TruePointView(Picture):
    """Two rules along one length, one in true picas and one in sixths of an inch, and their ends under a lens."""

    def __init__(self, name: str = "true-point") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._iron = self.area(IRON, IRON_EDGE, 1.2, 2)
        self._rules = self.area(PALE, SAWN, 1.2, 3)
        self._marks = self.area("none", INK, 0.8, 4)
        self._lens = self.area("none", NOW, 2.4, 5)
        self._gap = self.area("none", INK, 1.2, 6, hatch="////")
        self._things = self.area(PALE, SAWN, 1.2, 6)

    def draw(self, length: float, things: dict[str, float]) -> None:
        """Draw a length in points measured both ways, and ``things`` beside the difference: name and thickness."""
        broad, rail = _BROAD * length, 0.04 * length
        self.frame(-2 * rail, -9.2 * broad, length + 2 * rail, 3 * broad, _MOST)
        self._stone.set_path(shapes([corners(-2 * rail, -9.2 * broad, length + 4 * rail, 12.2 * broad)]))
        self._iron.set_path(shapes([corners(x, -0.4 * broad, rail, 3 * broad) for x in (-rail, length)]))
        self._rules.set_path(shapes([corners(0, y, length, broad) for y in (0, 1.3 * broad)]))
        marks: list[Segment] = []
        step = math.ceil(length / (150 * PICA))  # a long rule has a mark only every so many picas
        for y, pica, name in ((1.3 * broad, PICA, "true picas"), (0.0, PICA * FALSE_POINT, "sixths of an inch")):
            for n in range(0, int(length / pica + 1e-6) + 1, step):
                tick = 0.5 if n % (10 * step) == 0 else 0.3 if n % (5 * step) == 0 else 0.16
                marks.append(((n * pica, y), (n * pica, y + tick * broad)))
                if n % (10 * step) == 0 and n > 10 * step:  # the name stands where the first number would
                    self.write(n * pica - 0.004 * length, y + 0.72 * broad, str(n), SMALL, ha="right")
            self.write(0.006 * length, y + 0.74 * broad, name, SMALL, ha="left")
        self._marks.set_path(strokes(marks))
        self._compare(length, things, broad)
        self.finish(true_point_words(length, things))

    def _compare(self, length: float, things: dict[str, float], broad: float) -> None:
        """Draw the difference, and known thicknesses, all as many times their size as the picture has room for."""
        off = difference(length)
        rows = {"what a rule of sixths gives away": off, **things}
        times = 0.5 * length / max(rows.values())
        self._lens.set_path(shapes([corners(0, -9 * broad, length, 7.9 * broad)]))
        step = 7.2 * broad / len(rows)
        boxes = []
        for n, (name, thick) in enumerate(rows.items()):
            y = -1.5 * broad - (n + 0.8) * step
            boxes.append(corners(0.02 * length, y, thick * times, 0.62 * step))
            told = f"{name}: {write_length(thick)}"
            self.write(0.02 * length + thick * times + 0.012 * length, y + 0.31 * step, told, LABEL, ha="left")
        self._gap.set_path(shapes(boxes[:1]))
        self._things.set_path(shapes(boxes[1:]))
        self.write(0.985 * length, -8.5 * broad, f"{times:.0f} times their size", SMALL, ha="right")


def difference(length: float) -> float:
    """Return how many points are given away by counting 72 to the inch over a length in points."""
    return length - length / FALSE_POINT


def true_point_words(length: float, things: dict[str, float]) -> str:
    """Say how far the two ways of counting are apart over a length, and what that is beside known thicknesses."""
    off = difference(length)
    beside = [f"{'thicker' if off > thick else 'thinner'} than {name}" for name, thick in things.items()]
    return (
        f"Over {length / POINTS_PER_INCH:.4g} inches there are {length:.2f} points. Counting 72 to the inch gives "
        f"{length / FALSE_POINT:.2f}: {off:.2f} too few. What is missing is {', '.join(beside)}."
    )
