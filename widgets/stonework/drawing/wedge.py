"""A quoin seen from above, each kind in its own way, and a bar of its travel: finger-tight, reserve, and the end."""

from __future__ import annotations

import math

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
    STONE,
    WRONG,
    Corner,
    Picture,
    Segment,
    arrow,
    corners,
    shapes,
    strokes,
)
from stonework.drawing.words import in_points
from stonework.lockup import SLACK
from stonework.shop import LAST_NOTCH, Quoin
from stonework.units import write_length

_MOST = (9.6, 4.4)  # the most the picture takes, in inches
_NUT, _HOLLOW, _HOLE = 0.30, 0.34, 0.12  # of one piece: radii, and half its keyhole's side, as parts of it shut
_ENDS = {"two wedges": "last notch", "one piece": "end of its travel"}


class WedgeView(Picture):
    """A quoin between two reglets at some opening, and its travel as an upright bar."""

    def __init__(self, name: str = "wedge") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._furniture = self.area(MAPLE, SAWN, 1.0, 2)
        self._reglet = self.area(PALE, SAWN, 1.0, 2)
        self._halves = self.area(BRASS, BRASS_EDGE, 1.4, 3, hatch="////")
        self._pins = self.area(PAPER, BRASS_EDGE, 1.2, 4)
        self._keyhole = self.area(INK, "none", 0, 5)
        self._travel = self.area(PAPER, INK, 1.0, 3)
        self._reserve = self.area("none", NOW, 1.0, 4, hatch="///")
        self._end = self.area("none", WRONG, 1.0, 5, hatch="xxxx")
        self._used = self.area(NOW, PAPER, 1.0, 6)
        self._leaders = self.area("none", INK, 0.8, 7)
        self._arrows = self.area(NOW, NOW, 1.0, 5)

    def draw(self, quoin: Quoin, opening: float, reglets: bool = True) -> None:
        """Draw a quoin open so many points, with reglet on both faces or against bare furniture.

        ``ValueError``, a sentence, for an opening that it can't have.
        """
        words = wedge_words(quoin, opening)
        length, thick = quoin.length, quoin.closed + opening
        top = quoin.closed + quoin.travel + 30
        self.frame(-60, -64, length + 350, top + 8, _MOST)
        self._stone.set_path(shapes([corners(-60, -64, length + 410, top + 72)]))
        strip = 6.0 if reglets else 0.0
        boxes = [corners(-20, -18 - strip, length + 40, 18), corners(-20, thick + strip, length + 40, 18)]
        self._furniture.set_path(shapes(boxes))
        strips = [corners(-20, -6, length + 40, 6), corners(-20, thick, length + 40, 6)] if reglets else []
        self._reglet.set_path(shapes(strips))
        one_piece = quoin.kind == "one piece"
        self._halves.set_path(shapes(jaws(quoin, opening) if one_piece else wedges(quoin, opening)))
        self._pins.set_path(shapes(_pins(quoin, opening) if one_piece else []))
        hole = _HOLE * quoin.closed
        keyhole = corners(length / 2 - hole, thick / 2 - hole, 2 * hole, 2 * hole)
        self._keyhole.set_path(shapes([keyhole] if one_piece else []))
        moves = _parting(quoin, opening) if one_piece else _sliding(quoin, opening)
        self._arrows.set_path(shapes(moves if opening > SLACK else []))
        self._bar(quoin, opening, length + 62, top)
        state = f"open {in_points(round(opening, 2))}" if opening > SLACK else "shut"
        self.write(length / 2, thick + strip + 9, state, LABEL, pill=True)
        bare = "bare furniture: " + ("this quoin may bear on it" if quoin.bears_on == "any wood" else "it is bruised")
        self.write(length / 2, -32 - strip, "reglet, then furniture" if reglets else bare, LABEL, va="top")
        self.finish(words)

    def _bar(self, quoin: Quoin, opening: float, x: float, top: float) -> None:
        """Draw the travel from shut upward: how far it is open, and what the rest of it is for."""
        low, high, wide = -18.0, top - 14, 20.0
        per_point = (high - low) / quoin.travel
        finger, tight = low + quoin.most_open * per_point, low + max(0.0, quoin.most_tight) * per_point
        self._travel.set_path(shapes([corners(x, low, wide, high - low)]))
        self._reserve.set_path(shapes([corners(x, finger, wide, tight - finger)] if tight > finger else []))
        self._end.set_path(shapes([corners(x, tight, wide, high - tight)]))
        used = corners(x + 6, low, wide - 12, opening * per_point)
        self._used.set_path(shapes([used] if opening > SLACK else []))
        self.write(x + wide / 2, low - 6, "shut", LABEL, va="top")
        told = [
            (low + quoin.rest * per_point, f"rests at {in_points(quoin.rest)}"),
            (finger, f"finger-tight: {in_points(quoin.most_open)} at most"),
            ((finger + max(finger, tight)) / 2, f"reserve, for tightening: to {in_points(quoin.most_tight)}"),
            ((tight + high) / 2, f"{_ENDS[quoin.kind]}, {in_points(quoin.travel)}: nothing may reach it"),
        ]
        if quoin.most_tight <= quoin.most_open:
            del told[2]
        apart, at = 1.4 * LABEL / self.scale, -math.inf
        leaders: list[Segment] = []
        for height, words in told:
            at = max(at + apart, height)
            leaders.append(((x + wide, height), (x + wide + 7, at)))
            self.write(x + wide + 9, at, words, LABEL, ha="left")
        self._leaders.set_path(strokes(leaders))


def wedges(quoin: Quoin, opening: float) -> list[list[Corner]]:
    """Return the halves of a pair: touching all along their slopes, they have slid as far as makes them so thick.

    The taper is the drawing's, not the quoin's: real ones are finer.
    """
    length, thick = quoin.length, quoin.closed + opening
    thin, broad = 0.1 * quoin.closed, 0.9 * quoin.closed
    slide = opening * length / (broad - thin) / 2
    low = [(slide, 0.0), (length + slide, 0.0), (length + slide, thin), (slide, broad)]
    return [low, [(length - x, thick - y) for x, y in low]]


def jaws(quoin: Quoin, opening: float) -> list[list[Corner]]:
    """Return the jaws of a quoin of one piece, each with a hollow for the nut; they have parted by the opening.

    How the nut drives them apart differs from pattern to pattern, and isn't drawn.
    """
    length, thick, half = quoin.length, quoin.closed + opening, quoin.closed / 2
    low = [(0.0, half), (0.0, 0.0), (length, 0.0), (length, half)]
    hollow = _HOLLOW * quoin.closed
    low += [(length / 2 + hollow * math.cos(a), half - hollow * math.sin(a)) for a in _turn(0, math.pi)]
    return [low, [(length - x, thick - y) for x, y in low]]


def _pins(quoin: Quoin, opening: float) -> list[list[Corner]]:
    """Return what joins the jaws, the nut and its stem in the middle and a pin at each end, as in a plain sketch."""
    length, thick, shut = quoin.length, quoin.closed + opening, quoin.closed
    stem = 0.14 * shut
    foot = (0.5 - _HOLLOW) * shut
    made = [corners(length / 2 - stem, foot, 2 * stem, thick - 2 * foot)]
    for x in (0.05 * length, 0.95 * length):
        made.append(corners(x - stem / 2, 0.2 * shut, stem, thick - 0.4 * shut))
    round_it = _turn(0, 2 * math.pi)[:-1]
    nut = [(length / 2 + _NUT * shut * math.cos(a), thick / 2 + _NUT * shut * math.sin(a)) for a in round_it]
    return [*made, nut]


def _turn(start: float, stop: float, steps: int = 24) -> list[float]:
    """Return angles from one to another, both among them."""
    return [start + (stop - start) * n / steps for n in range(steps + 1)]


def _sliding(quoin: Quoin, opening: float) -> list[list[Corner]]:
    """Return the arrows along which two wedges have come together."""
    quarter = (quoin.closed + opening) / 4
    return [arrow(-34, quarter, 22, 5), arrow(quoin.length + 34, 3 * quarter, -22, 5)]


def _parting(quoin: Quoin, opening: float) -> list[list[Corner]]:
    """Return the arrows along which two jaws have parted, a pair beside each end."""
    middle = (quoin.closed + opening) / 2
    upright = [arrow(middle + 1, 0, middle - 2, 4), arrow(middle - 1, 0, 2 - middle, 4)]
    return [[(x + v, u) for u, v in one] for x in (-10, quoin.length + 10) for one in upright]


def wedge_words(quoin: Quoin, opening: float) -> str:
    """Say how far a quoin is open and what is left of its travel; ``ValueError`` for an opening it can't have."""
    if not -SLACK <= opening < math.inf:
        raise ValueError(
            f"The opening of the {quoin.name} was read as {opening:g} pt; from nothing to {in_points(quoin.travel)} "
            "was expected."
        )
    quoin.allow(opening)
    halves, way = {
        "two wedges": ("two wedges", "have slid along each other"),
        "one piece": ("two jaws", "have been spread"),
    }[quoin.kind]
    thick = write_length(round(quoin.closed + opening, 2))
    told = f"A {quoin.name} quoin, {write_length(quoin.length)} long when shut: its {halves} " + (
        f"{way} until it is open {in_points(round(opening, 2))} of {in_points(quoin.travel)} and {thick} thick."
        if opening > SLACK
        else f"are shut, and it is {thick} thick."
    )
    end = _ENDS[quoin.kind]
    if opening <= quoin.most_open + SLACK:
        left = max(0.0, quoin.most_open - opening)
        return (
            f"{told} Finger-tight it may be open {in_points(quoin.most_open)} at most: {_are(left)} left before its "
            "reserve."
        )
    if opening <= quoin.most_tight + SLACK:
        left = max(0.0, quoin.most_tight - opening)
        return (
            f"{told} It is in its reserve, which is for tightening: {_are(left)} left before tightening must stop, "
            f"{in_points(LAST_NOTCH)} before the {end}."
        )
    return f"{told} That is too near the {end}, which nothing may reach: slacken it and put in more wood."


def _are(points: float) -> str:
    left = round(points, 2)
    return f"{in_points(left)} {'is' if left == 1 else 'are'}"
