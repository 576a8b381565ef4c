"""A quoin seen from above: two wedges that slide past each other as the key turns, and how much travel is left."""

from __future__ import annotations

from stonework.drawing.picture import (
    BRASS,
    BRASS_EDGE,
    INK,
    LABEL,
    MAPLE,
    NOW,
    PALE,
    PAPER,
    SAWN,
    SMALL,
    STONE,
    WRONG,
    Corner,
    Picture,
    arrow,
    corners,
    shapes,
)
from stonework.shop import Quoin
from stonework.units import write_length

_MOST = (9.6, 4.4)  # the most the picture takes, in inches


class WedgeView(Picture):
    """A quoin between two reglets at some opening, and a bar of its travel: used, left, and kept in reserve."""

    def __init__(self, name: str = "wedge") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._furniture = self.area(MAPLE, SAWN, 1.0, 2)
        self._reglet = self.area(PALE, SAWN, 1.0, 2)
        self._wedges = self.area(BRASS, BRASS_EDGE, 1.4, 3, hatch="////")
        self._travel = self.area(PAPER, INK, 1.0, 3)
        self._used = self.area(NOW, NOW, 1.0, 4)
        self._reserve = self.area("none", WRONG, 1.0, 4, hatch="xxx")
        self._arrows = self.area(NOW, NOW, 1.0, 5)

    def draw(self, quoin: Quoin, opening: float, reglets: bool = True) -> None:
        """Draw a quoin open so many points, with reglet on both faces or against bare furniture."""
        length, thick = quoin.length, quoin.closed + opening
        top = quoin.closed + quoin.travel + 30
        self.frame(-60, -64, length + 170, top + 8, _MOST)
        self._stone.set_path(shapes([corners(-60, -64, length + 230, top + 72)]))
        strip = 6.0 if reglets else 0.0
        boxes = [corners(-20, -18 - strip, length + 40, 18), corners(-20, thick + strip, length + 40, 18)]
        self._furniture.set_path(shapes(boxes))
        strips = [corners(-20, -6, length + 40, 6), corners(-20, thick, length + 40, 6)] if reglets else []
        self._reglet.set_path(shapes(strips))
        self._wedges.set_path(shapes(self._halves(quoin, opening)))
        quarter = thick / 4
        self._arrows.set_path(
            shapes([arrow(-34, quarter, 22, 5), arrow(length + 34, thick - quarter, -22, 5)] if opening > 0 else [])
        )
        self._bar(quoin, opening, length + 70, top)
        self.write(length / 2, thick / 2, f"open {write_length(round(opening, 2))}", LABEL, pill=True)
        wood = "reglet, then furniture" if reglets else "bare furniture: it is bruised"
        self.write(length / 2, -32 - strip, wood, SMALL, va="top")
        self.finish(wedge_words(quoin, opening))

    @staticmethod
    def _halves(quoin: Quoin, opening: float) -> list[list[Corner]]:
        """Return the two wedges: touching all along their slopes, they have slid as far as makes them so thick.

        The taper is the drawing's, not the quoin's: real ones are finer.
        """
        length, thick = quoin.length, quoin.closed + opening
        thin, broad = 0.1 * quoin.closed, 0.9 * quoin.closed
        slide = opening * length / (broad - thin) / 2
        low = [(slide, 0.0), (length + slide, 0.0), (length + slide, thin), (slide, broad)]
        return [low, [(length - x, thick - y) for x, y in low]]

    def _bar(self, quoin: Quoin, opening: float, x: float, top: float) -> None:
        """Draw the travel as an upright bar with marks where the quoin rests, and where its reserve begins."""
        low, high = -18.0, top - 14
        per_point = (high - low) / quoin.travel
        self._travel.set_path(shapes([corners(x, low, 16, high - low)]))
        self._used.set_path(
            shapes([corners(x, low, 16, min(opening, quoin.travel) * per_point)] if opening > 0 else [])
        )
        start = low + quoin.most_open * per_point
        self._reserve.set_path(shapes([corners(x, start, 16, high - start)]))
        self.write(x + 8, low - 6, "shut", SMALL, va="top")
        self.write(x + 22, (start + high) / 2, f"reserve {write_length(quoin.reserve)}", SMALL, ha="left")
        self.write(x + 22, low + quoin.rest * per_point, f"rests at {write_length(quoin.rest)}", SMALL, ha="left")


def wedge_words(quoin: Quoin, opening: float) -> str:
    """Say how far a quoin is open, and what is left of its travel."""
    left = quoin.travel - opening
    told = (
        f"A {quoin.name} quoin {write_length(quoin.length)} long, open {write_length(round(opening, 2))} of its "
        f"{quoin.travel:g}; so it is {write_length(round(quoin.closed + opening, 2))} thick."
    )
    if left < 0:
        return f"{told} That is past its last notch: no quoin opens so far."
    if left < quoin.reserve:
        return f"{told} It is in its reserve: only {write_length(round(left, 2))} are left. Put in more wood instead."
    return f"{told} {write_length(round(left - quoin.reserve, 2))} are left before its reserve."
