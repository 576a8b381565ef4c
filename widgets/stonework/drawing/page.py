"""What a form is made of, from head to foot: each part in true proportion, and which of it prints."""

from __future__ import annotations

from collections.abc import Iterator

from stonework.drawing.picture import (
    BRASS,
    INK,
    LABEL,
    LEAD,
    MAPLE,
    NOW,
    PALE,
    SAWN,
    STONE,
    TYPE,
    Corner,
    Picture,
    Segment,
    corners,
    lines_of_type,
    shapes,
    strokes,
)
from stonework.form import Content, Cut, Lines, Part, Strip
from stonework.units import write_length

# From a nonpareil up a strip is a slug, below it a lead: T. MacKellar, *The American Printer*, 1893, p. 384.
SLUG = 6.0

_MOST = (9.6, 6.6)  # the most the picture takes, in inches
_ROOM = 0.55  # room beside the form for the two depths, as a part of the picture's height


class PageView(Picture):
    """The parts of a form with its depth on the left and the printed depth on the right."""

    def __init__(self, name: str = "page") -> None:
        super().__init__(name)
        self._stone = self.area(STONE, "none", 0, 1)
        self._form = self.area(LEAD, INK, 1.4, 2)
        self._leads = self.area(PALE, "none", 0, 3)
        self._strips = self.area(BRASS, INK, 0.7, 3)
        self._quads = self.area("none", INK, 0.6, 3)
        self._mount = self.area(MAPLE, SAWN, 1.2, 3, hatch="..")
        self._type = self.area(TYPE, "none", 0, 4)
        self._depths = self.area("none", NOW, 1.6, 5)

    def draw(self, content: Content, *, depths: bool = True) -> None:
        """Draw the form, its parts named, with both its depths unless they are to be found out."""
        width, depth = content.measure, content.depth
        room, edge = _ROOM * max(depth, 0.6 * width), 0.06 * depth
        self.frame(-room, -edge, width + room, depth + edge, _MOST)
        self._stone.set_path(shapes([corners(-room, -edge, width + 2 * room, depth + 2 * edge)]))
        self._form.set_path(shapes([corners(0, 0, width, depth)]))
        placed = [(depth - top - part.depth, part) for top, part in zip(content.tops, content.parts, strict=True)]
        self._strips.set_path(shapes(corners(0, y, width, p.depth) for y, p in placed if isinstance(p, Strip)))
        lines = [(y, part) for y, part in placed if isinstance(part, Lines)]
        self._leads.set_path(shapes(lead for y, part in lines for lead in _leads(y, part, width)))
        self._quads.set_path(strokes(line for y, part in lines if part.quads for line in _quads(y, part, width)))
        cuts = [(y, part) for y, part in placed if isinstance(part, Cut)]
        self._mount.set_path(shapes(corners((width - c.width) / 2, y, c.width, c.depth) for y, c in cuts))
        self._type.set_path(
            shapes(
                word
                for y, part in lines
                if part.prints
                for word in lines_of_type(0, y, width, part.depth + part.lead, part.body + part.lead)
            )
        )
        for y, part in placed:
            if part.depth * self.scale > 1.3 * LABEL:
                self.write(width / 2, y + part.depth / 2, part_words(part), LABEL, pill=True)
        self._depths.set_path(strokes(self._brackets(content) if depths else ()))
        self.finish(page_words(content) if depths else parts_words(content))

    def _brackets(self, content: Content) -> Iterator[Segment]:
        """Yield the form's depth on the left and the printed depth on the right, and write them."""
        depth, (start, stop) = content.depth, content.printed
        gap, tick = 10 / self.scale, 5 / self.scale
        yield from _bracket(-gap, 0, depth, tick)
        self._say_depth(-gap - tick, depth / 2, "form", depth, "right")
        if stop:
            yield from _bracket(content.measure + gap, depth - stop, depth - start, tick)
            middle = depth - (start + stop) / 2
            self._say_depth(content.measure + gap + tick, middle, "printed", stop - start, "left")

    def _say_depth(self, x: float, y: float, what: str, depth: float, ha: str) -> None:
        space = " " if ha == "left" else ""
        self.write(x, y, f"{space}{what} depth\n{space}{write_length(depth)}".strip("\n"), LABEL, ha=ha)


def part_words(part: Part) -> str:
    """Say what a part is, in a phrase."""
    if isinstance(part, Cut):
        return f"a cut {write_length(part.width)} × {write_length(part.depth)}"
    if isinstance(part, Strip):
        return f"a {'slug' if part.depth >= SLUG else 'lead'} of {part.depth:g} pt"
    many = f"{part.number} lines" if part.number > 1 else "a line"
    what = f"{many} of {part.body:g} pt" + (" quads" if part.quads else "")
    return what + (f" with {part.lead:g} pt leads between" if part.lead and part.number > 1 else "")


def parts_words(content: Content) -> str:
    """Say what the form is made of, from head to foot."""
    parts = "; ".join(part_words(part) for part in content.parts)
    return f"A form {write_length(content.measure)} wide, from head to foot: {parts}."


def page_words(content: Content) -> str:
    """Say what the form is made of and how deep it is and prints."""
    told = f"{parts_words(content)} The form is {write_length(content.depth)} deep"
    if content.printed_depth:
        return f"{told}; what prints in it is {write_length(content.printed_depth)} deep."
    return f"{told}; nothing in it prints."


def _leads(y: float, part: Lines, width: float) -> Iterator[list[Corner]]:
    """Yield the leads between the lines."""
    for n in range(1, part.number if part.lead else 1):
        yield corners(0, y + n * part.body + (n - 1) * part.lead, width, part.lead)


def _quads(y: float, part: Lines, width: float) -> Iterator[Segment]:
    """Yield the joints between the quads of lines that print nothing."""
    for n in range(part.number):
        low = y + n * (part.body + part.lead)
        yield (0.0, low), (width, low)
        yield (0.0, low + part.body), (width, low + part.body)
        for k in range(1, int(width / (2 * part.body)) + 1):
            yield (2 * k * part.body, low), (2 * k * part.body, low + part.body)


def _bracket(x: float, low: float, high: float, tick: float) -> Iterator[Segment]:
    yield (x, low), (x, high)
    for y in (low, high):
        yield (x - tick, y), (x + tick, y)
