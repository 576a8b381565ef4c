"""The chase as a frame that bows."""

from __future__ import annotations

from typing import NamedTuple

from stonework.pressing.assuming import MM, number


class Rail(NamedTuple):
    """A rail of the chase, pushed outward; its opposite is pushed alike.

    ``length`` is between the middles of the corners. Half the ``push`` bears at each of two places ``apart`` from
    each other about the rail's middle; or all of it is spread evenly, if that is ``None``.
    """

    length: float
    push: float
    apart: float | None = None

    def beam(self) -> tuple[float, float, float]:
        """Return its end moments if held fast, and its middle's moment (N·mm) and bow × EI (N·mm³) if free."""
        length = number("A rail's length", self.length, " pt", 1) * MM
        push = number("A rail's push", self.push, " N", 0)
        if self.apart is None:
            return push * length / 12, push * length / 8, push * length**3 * 5 / 384
        end = (length - number("The distance between two pushes", self.apart, " pt", 0, self.length) * MM) / 2
        half = push / 2
        return half * end * (length - end) / length, half * end, half * end * (3 * length**2 - 4 * end**2) / 24


class Frame(NamedTuple):
    """The moments at the corners and at each rail's middle (N·mm), and how far each rail bows (points)."""

    corner: float
    middles: tuple[float, ...]
    bows: tuple[float, ...]


def chase_frame(one: Rail, other: Rail, rigidity: float) -> Frame:
    """Bend a chase as a closed frame of like bars: to rank lockups and to teach, never to say what a chase bears.

    ``rigidity`` is EI in N·mm²; for a plain bar, modulus × depth³ × thickness / 12, its depth as seen from above.
    A corner takes the mean of both rails' held-fast moments, weighed by length.
    """
    number("The rigidity", rigidity, " N·mm²", 1, 1e15)
    bars = [(rail.length * MM, *rail.beam()) for rail in (one, other)]
    corner = sum(length * fast for length, fast, _, _ in bars) / sum(length for length, *_ in bars)
    bows = (sag - corner * length**2 / 8 for length, _, _, sag in bars)
    return Frame(corner, tuple(free - corner for _, _, free, _ in bars), tuple(bow / rigidity / MM for bow in bows))
