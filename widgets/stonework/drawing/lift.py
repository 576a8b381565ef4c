"""A form propped up at one edge: its lines from above, and those that have dropped."""

from __future__ import annotations

from collections.abc import Sequence

from stonework.drawing.picture import (
    INK,
    LABEL,
    LEAD,
    PALE,
    PAPER,
    SAWN,
    STONE,
    TYPE,
    WRONG,
    Corner,
    Picture,
    corners,
    shapes,
)

_MOST = (9.6, 4.6)  # the most the picture takes, in inches
_LEAD = 2.0


class LiftView(Picture):
    """The lines of a form, numbered; dropped ones stand lower, in a broken frame; a long lead sticks out."""

    def __init__(self, name: str = "lift") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._body = self.area(LEAD, INK, 1.0, 2)
        self._leads = self.area(PALE, SAWN, 0.7, 3)
        self._words = self.area(TYPE, "none", 0, 4)
        self._fallen = self.area(PAPER, WRONG, 2.2, 5, linestyle=(0, (3, 1.4)))
        self._fallen_words = self.area("none", WRONG, 1.2, 6)
        self._wood = self.area(PALE, SAWN, 1.0, 2)

    def draw(
        self,
        measure: float,
        body: float,
        spaces: Sequence[int],
        dropped: Sequence[int],
        long_lead: int | None,
        words: str,
    ) -> None:
        """Draw lines of so many word spaces each; ``words`` say what is seen."""
        step = body + _LEAD
        depth = step * len(spaces)
        self.frame(-60, -20, measure + 60, depth + 20, _MOST)
        self._stone.set_path(shapes([corners(-60, -20, measure + 120, depth + 40)]))
        self._wood.set_path(shapes([corners(-18, 0, 16, depth), corners(measure + 2, 0, 16, depth)]))
        rows = [(n, depth - (n + 1) * step + _LEAD) for n in range(len(spaces))]
        fallen = set(dropped)
        self._body.set_path(shapes(corners(0, y, measure, body) for n, y in rows if n not in fallen))
        self._words.set_path(
            shapes(word for n, y in rows if n not in fallen for word in _words(measure, body, spaces[n], y, n))
        )
        self._fallen.set_path(shapes(corners(0, y - 3, measure, body) for n, y in rows if n in fallen))
        self._fallen_words.set_path(
            shapes(word for n, y in rows if n in fallen for word in _words(measure, body, spaces[n], y - 3, n))
        )
        self._leads.set_path(
            shapes(
                corners(-6 if n == long_lead else 0, y - _LEAD, measure + (12 if n == long_lead else 0), _LEAD)
                for n, y in rows[:-1]
            )
        )
        for n, y in rows:
            mark = " ✗" if n in fallen else ""
            self.write(-24, y + body / 2, f"{n + 1}{mark}", LABEL, ha="right")
        self.finish(words)


def _words(measure: float, body: float, spaces: int, y: float, line: int) -> list[list[Corner]]:
    """Return the words of a line, evenly spaced, of lengths that differ from line to line."""
    shares = [1.0 + 0.22 * ((line * 3 + k * 5) % 4) for k in range(spaces + 1)]
    room = measure - 6 - spaces * body / 3
    words, at = [], 3.0
    for share in shares:
        long = room * share / sum(shares)
        words.append(corners(at, y + 0.25 * body, long, 0.5 * body))
        at += long + body / 3
    return words
