"""What the labels of a plan cover: how much room words take, and what lies over what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from stonework.drawing.picture import Corner, Segment
from stonework.lockup import Filling, Item, PlacedForm

Reach = tuple[float, float, float, float]
"""What something covers of the drawing: left, foot, right, head, in points."""

PAD = 0.22  # the paper round words, as a part of their type size
LINE = 1.5  # how high one line is with that paper, as a part of the type size
SPARE = 1.04  # a browser may set the words in another face; few are wider than the one they are measured in


class Spot(NamedTuple):
    """Words at a place, written upward if turned; ``tip`` is where a line from them ends, if they stand off."""

    at: Corner
    words: str
    turned: bool = False
    bold: bool = False
    tip: Corner | None = None


class Asked(NamedTuple):
    """A label that is asked for: what it names, which way that runs, and what may be said, the fullest first."""

    body: Reach
    flat: bool
    says: tuple[str, ...]
    bold: bool = False
    strays: bool = True  # past its ends, to hide less; else the first clear place on it is the best


class Cover(NamedTuple):
    """What a label covers: its words with their paper, and the line from them if they stand off."""

    reach: Reach
    line: Segment | None = None


class Ground:
    """What a plan's labels stand on: their type size, the scale, the chase's inside, and the pieces they may hide.

    ``hides`` is how much of a label with a size may lie over other pieces.
    """

    def __init__(self, size: float, scale: float, inside: Corner, bodies: Sequence[Reach], hides: float) -> None:
        self.size, self.scale, self.inside, self.bodies, self.hides = size, scale, inside, bodies, hides
        self._rooms: dict[tuple[str, bool], Corner] = {}

    def room(self, words: str, *, turned: bool = False, bold: bool = False) -> Corner:
        """Return how much words take across and up with the paper behind them, in points of the drawing."""
        if (found := self._rooms.get((words, bold))) is None:
            found = self._rooms[words, bold] = (
                wide(words, self.size, bold) / self.scale,
                high(words, self.size) / self.scale,
            )
        return found[::-1] if turned else found

    def reach(self, spot: Spot) -> Reach:
        """Return what a spot's words cover."""
        (x, y), (across, up) = spot.at, self.room(spot.words, turned=spot.turned, bold=spot.bold)
        return x - across / 2, y - up / 2, x + across / 2, y + up / 2

    def cover(self, spot: Spot) -> Cover:
        """Return all that a spot covers: its line begins at the edge of its words."""
        reach = self.reach(spot)
        if spot.tip is None:
            return Cover(reach)
        (x, y), (left, low, right, top) = spot.tip, reach
        return Cover(reach, ((min(max(x, left), right), min(max(y, low), top)), (x, y)))

    def holds(self, reach: Reach) -> bool:
        """Say whether all of it is on the stone, none on the iron."""
        return min(reach[:2]) >= 0 and reach[2] <= self.inside[0] and reach[3] <= self.inside[1]

    def hidden(self, reach: Reach, own: Reach) -> float:
        """Return how much of it lies over other pieces, as a part of it."""
        area = (reach[2] - reach[0]) * (reach[3] - reach[1])
        return sum(_shared(reach, body) for body in self.bodies if body != own and not clear(reach, [body])) / area


class Taken:
    """What is written so far."""

    def __init__(self, ground: Ground, spots: Iterable[Spot] = ()) -> None:
        self._ground, self._covers = ground, [ground.cover(spot) for spot in spots]

    def take(self, spot: Spot) -> None:
        """Write at a spot."""
        self._covers.append(self._ground.cover(spot))

    def free(self, spot: Spot) -> bool:
        """Say whether words may stand there: on the stone, clear of all others, and their line too."""
        cover = self._ground.cover(spot)
        return self._ground.holds(cover.reach) and not any(clash(cover, other) for other in self._covers)

    def over(self, spot: Spot) -> float:
        """Return how much of other words a spot would cover, in square points."""
        return sum(_shared(self._ground.reach(spot), other.reach) for other in self._covers)


@cache
def _em(character: str, bold: bool) -> float:
    font = FontProperties(family="sans-serif", size=100, weight="bold" if bold else "normal")
    return text_to_path.get_text_width_height_descent(character, font, ismath=False)[0] / 100


def wide(words: str, size: float, bold: bool = False) -> float:
    """Return how wide words are with the paper behind them, in points of the picture."""
    longest = max(sum(_em(character, bold) for character in line) for line in words.split("\n"))
    return (SPARE * longest + 2 * PAD) * size


def high(words: str, size: float) -> float:
    """Return how high words are with the paper behind them, in points of the picture."""
    return (LINE + 1.4 * words.count("\n")) * size


def outline(piece: Item | PlacedForm | Filling) -> Reach:
    """Return what a piece covers."""
    return (piece.x, piece.y, piece.x + piece.width, piece.y + piece.height)


def clear(one: Reach, others: Iterable[Reach]) -> bool:
    """Say whether it lies over none of the others."""
    left, low, right, top = one
    return not any(left < o[2] and o[0] < right and low < o[3] and o[1] < top for o in others)


def clash(one: Cover, other: Cover) -> bool:
    """Say whether the words or the line of one lie over those of the other."""
    (a, line), (b, far) = one, other
    if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
        return True
    if line and (crosses(line, b) or (far and meet(line, far))):
        return True
    return far is not None and crosses(far, a)


def _shared(one: Reach, other: Reach) -> float:
    across, up = (min(one[n + 2], other[n + 2]) - max(one[n], other[n]) for n in (0, 1))
    return max(0.0, across) * max(0.0, up)


def crosses(line: Segment, reach: Reach) -> bool:
    """Say whether a line runs through a rectangle: some of it is left once it is cut off at all four edges."""
    (x, y), (a, b) = line
    left, low, right, top = reach
    if (x <= left and a <= left) or (x >= right and a >= right) or (y <= low and b <= low) or (y >= top and b >= top):
        return False
    enters, leaves = 0.0, 1.0
    for start, step, near, far in ((x, a - x, left, right), (y, b - y, low, top)):
        if step:
            one, other = sorted(((near - start) / step, (far - start) / step))
            enters, leaves = max(enters, one), min(leaves, other)
    return enters < leaves


def meet(line: Segment, other: Segment) -> bool:
    """Say whether two lines cross: the ends of each lie on both sides of the other."""

    def side(at: Corner, of: Segment) -> float:
        (x, y), (a, b) = of
        return (a - x) * (at[1] - y) - (b - y) * (at[0] - x)

    return all(side(one[0], two) * side(one[1], two) <= 0 for one, two in ((line, other), (other, line)))
