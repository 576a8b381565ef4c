"""A class's answers at a glance: a bar for each question, cut up by how many have it right, and at which try."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from stonework.drawing.paper import measure, plain
from stonework.drawing.picture import INK, LEAD, NOW, PAPER, WRONG, Picture, corners, shapes

_NAMES, _BARS, _NOTES, _AIR = 190.0, 200.0, 330.0, 10.0  # how wide the columns are, in points of the drawing


class Part(NamedTuple):
    """One part of a bar: what it counts, and how it is marked, so that no reading needs colour."""

    words: str
    face: str
    hatch: str


PARTS = (
    Part("right at the first try", NOW, ""),
    Part("at the second", PAPER, "/////"),
    Part("later", PAPER, "....."),
    Part("right, try not known", LEAD, ""),
    Part("not yet", PAPER, "xxxxx"),
)
"""The parts of a bar, in their order; what is left of it hasn't answered."""


class Bar(NamedTuple):
    """One question: its title, the heading that it stands under, how many are in each part, of how many, and notes."""

    name: str
    heading: str
    counts: tuple[int, ...]
    of: int
    notes: tuple[str, ...]


class ClassPlot(Picture):
    """A bar for each question, with its notes beside it; ``tight`` sets them closer, for paper."""

    def __init__(self, name: str = "class") -> None:
        super().__init__(name)
        self._ground = self.area(PAPER, "none", 0, 0)
        self._frames = self.area(PAPER, INK, 0.8, 1)
        self._parts = [
            self.area(part.face, WRONG if part.words == "not yet" else NOW, 0.8, 2, hatch=part.hatch) for part in PARTS
        ]

    def draw(self, bars: Sequence[Bar], *, tight: bool = False) -> None:
        """Draw the bars from the top down."""
        pitch, size = (13.5, 9.5) if tight else (21.0, 12.5)
        headings = len({bar.heading for bar in bars})
        high = pitch * (len(bars) + 1.3 * headings + 1.3)
        wide = _NAMES + _BARS + _NOTES + 2 * _AIR
        self.frame(0, 0, wide, high, (wide / 72, high / 72))
        self._ground.set_path(shapes([corners(0, 0, wide, high)]))
        boxes: list[list[list[tuple[float, float]]]] = [[] for _ in PARTS]
        frames = []
        y = self._legend(boxes, high - pitch, pitch, size)
        left, heading = _NAMES + _AIR, ""
        for bar in bars:
            if bar.heading != heading:
                heading = bar.heading
                y -= 1.3 * pitch
                self.write(0, y + 0.4 * pitch, plain(heading), size, weight="bold", ha="left")
            y -= pitch
            self.write(_NAMES, y + 0.4 * pitch, _cut(bar.name, _NAMES / size), size, ha="right")
            frames.append(corners(left, y, _BARS, 0.8 * pitch))
            at = left
            for n, count in enumerate(bar.counts):
                long = _BARS * count / max(bar.of, 1)
                if count:
                    boxes[n].append(corners(at, y, long, 0.8 * pitch))
                    figure, pill = str(count), PARTS[n].face == PAPER
                    colour = PAPER if PARTS[n].face == NOW else INK
                    if long > 1.1 * size:
                        self.write(at + long / 2, y + 0.38 * pitch, figure, 0.85 * size, colour=colour, pill=pill)
                at += long
            self.write(left + _BARS + _AIR, y + 0.4 * pitch, _fitting(bar.notes, _NOTES / size), size, ha="left")
        self._frames.set_path(shapes(frames))
        for area, told in zip(self._parts, boxes, strict=True):
            area.set_path(shapes(told))
        self.finish(plot_words(bars))

    def _legend(self, boxes: list[list[list[tuple[float, float]]]], y: float, pitch: float, size: float) -> float:
        """Show what each mark means, in a row; return where the bars begin."""
        blank = "blank: not answered"
        ems = sum(3.4 + measure(part.words, "normal") for part in PARTS) + measure(blank, "normal")
        size, x = min(size, (_NAMES + _BARS + _NOTES) / ems), 0.0
        for part, told in zip(PARTS, boxes, strict=True):
            told.append(corners(x, y, 1.6 * size, 0.8 * pitch))
            self.write(x + 2 * size, y + 0.4 * pitch, part.words, size, ha="left")
            x += (3.4 + measure(part.words, "normal")) * size
        self.write(x, y + 0.4 * pitch, blank, size, ha="left")
        return y


def plot_words(bars: Sequence[Bar]) -> str:
    """Say in a sentence for each question what its bar shows."""
    told = []
    for bar in bars:
        parts = [f"{count} {part.words}" for part, count in zip(PARTS, bar.counts, strict=True) if count]
        left = bar.of - sum(bar.counts)
        parts += [f"{left} not answered"] if left else []
        notes = f"; {'; '.join(bar.notes)}" if bar.notes else ""
        told.append(f"{bar.name.rstrip('.')}: {', '.join(parts)}{notes}.")
    return " ".join(told) or "No sheets yet."


def _fitting(notes: Sequence[str], ems: float) -> str:
    """Return as many notes as go into a line, the first in any case, and how many more there are."""
    for shown in range(len(notes), 0, -1):
        left = len(notes) - shown
        line, more = "; ".join(notes[:shown]), f"; and {left} more" if left else ""
        if measure(plain(line + more), "normal") <= ems:
            return plain(line + more)
    return _cut(line, ems - measure(more, "normal")) + more if notes else ""


def _cut(words: str, ems: float) -> str:
    line = plain(words)
    while line and measure(line, "normal") > ems:
        line = line[:-2].rstrip() + "…"
    return line
