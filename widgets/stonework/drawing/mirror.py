"""A form's place and its sheet: on the left the stone from above, on the right the printed sheet as one reads it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from matplotlib.font_manager import FontProperties
from matplotlib.path import Path
from matplotlib.textpath import TextPath
from matplotlib.transforms import Affine2D

from stonework.drawing.picture import (
    BRASS,
    BRASS_EDGE,
    INK,
    IRON,
    IRON_EDGE,
    LABEL,
    LEAD,
    NOW,
    NOWHERE,
    PAPER,
    STONE,
    TYPE,
    Corner,
    Picture,
    box,
    corners,
    lines_of_type,
    rounded_box,
    shapes,
    strokes,
    turned,
)
from stonework.drawing.plan import RAIL
from stonework.lockup import PlacedForm, Side, as_read
from stonework.placing import Edge, Margins, Place, edge_over, gripper_edges
from stonework.shop import Placing
from stonework.units import write_length

_WIDTH, _HEIGHT = 9.0, 5.2  # the most the picture takes, in inches
_TITLE, _ABOVE = 14.0, 0.8  # above each half: a type size, and inches; the head margin is written below it
_HALF_TITLE = 0.92  # inches; half of the longer title over a narrow sheet
_APART, _EDGE = 1.3, 0.56  # inches: between the halves, for the mirror; and round it all, for guides and words
_GUIDE, _OUTSIDE = 13.0, 2.05 * LABEL  # on the page, in points: a guide, and how far from the sheet a margin is written
_ONE_LINE = 24.0  # points: a form lower than this is drawn as one line of type
_INITIAL = 0.36  # how much of the form's width the initial takes


class MirrorView(Picture):
    """Where the form stands, the paper over it, and what is printed; drawn again and again."""

    def __init__(self, name: str = "mirror") -> None:
        super().__init__(name)
        self._chase = self.area(IRON, IRON_EDGE, 1.5, 1)
        self._stone = self.area(STONE, IRON_EDGE, 1.5, 2)
        self._paper = self.area(PAPER, NOW, 1.8, 3, alpha=0.6, linestyle=(0, (5, 2)))
        self._sheet = self.area(PAPER, INK, 1.4, 3)
        self._lead = self.area(LEAD, INK, 1.4, 4)
        self._type = self.area(TYPE, "none", 0, 5)
        self._ink = self.area(INK, "none", 0, 5)
        self._grippers = self.area("none", BRASS_EDGE, 0.9, 6, hatch="xx")
        self._guides = self.area(BRASS, BRASS_EDGE, 1.2, 6)
        self._mirror = self.area("none", NOW, 1.6, 3, linestyle=(0, (7, 3, 1, 3)))

    def draw(self, place: Place, custom: Placing) -> None:
        """Move every artist to where this place needs it."""
        chase, form, paper = place.chase, place.form, place.sheet
        left, low = min(-RAIL, paper.x), min(-RAIL, paper.y)
        right = max(chase.width + RAIL, paper.x + paper.width)
        high = max(chase.height + RAIL, paper.y + paper.height)
        across, up = as_read(paper, place.head)
        high = max(high, low + up)
        inches = min((_WIDTH - _APART - 2 * _EDGE) / (right - left + across), (_HEIGHT - _ABOVE - _EDGE) / (high - low))
        apart, edge = _APART / inches, _EDGE / inches
        foot = paper.y if place.head == "top" else (low + high - up) / 2
        sheet = PlacedForm(right + apart, foot, across, up)
        top = high + _ABOVE / inches
        middle = right + apart / 2
        read = max(sheet.x + sheet.width / 2, middle + _HALF_TITLE / inches)
        end = max(sheet.x + sheet.width + edge, read + _HALF_TITLE / inches)
        self.frame(left - edge, low - edge, end, top, (_WIDTH, _HEIGHT))
        rails = rounded_box(-RAIL, -RAIL, chase.width + 2 * RAIL, chase.height + 2 * RAIL, RAIL / 3)
        self._chase.set_path(rails)
        self._stone.set_path(shapes([corners(0, 0, chase.width, chase.height)]))
        self._paper.set_path(shapes([box(paper)]))
        self._sheet.set_path(shapes([box(sheet)]))
        self._lead.set_path(shapes([box(form)]))
        white = place.margins
        printed = PlacedForm(sheet.x + white.left, sheet.y + white.foot, *as_read(form, place.head))
        self._type.set_path(_on_the_stone(form, place.head))
        self._ink.set_path(_image(printed, mirrored=False))
        self._grippers.set_path(shapes(_bites(sheet, custom, place.head)))
        size = _GUIDE / self.scale
        over: tuple[Side, ...] = custom.guides
        under: tuple[Side, ...] = tuple(_SIDES[edge_over(side, place.head)] for side in over)
        self._guides.set_path(shapes([*_pins(paper, over, size), *_pins(sheet, under, size)]))
        self._mirror.set_path(strokes([((middle, low), (middle, high))]))
        self.write(middle, (low + high) / 2, "mirror", LABEL, rotation=90, colour=NOW, pill=True)
        above = high + 0.75 * _ABOVE / inches
        self.write((left + right) / 2, above, "On the stone, from above", _TITLE, weight="bold")
        self.write(read, above, "As you read it", _TITLE, weight="bold")
        self._write_margins(sheet, white)
        self.finish(_words(place, custom))

    def _write_margins(self, sheet: PlacedForm, white: Margins) -> None:
        """Write each margin outside its edge of the sheet, clear of the guides and of the other words."""
        words = {name: f"{name} {write_length(round(margin, 1))}" for name, margin in white._asdict().items()}
        out = _OUTSIDE / self.scale
        x, y = sheet.x + sheet.width / 2, sheet.y + sheet.height / 2
        across, up = sheet.width / 2 + out, sheet.height / 2 + out
        # Beside a small sheet the upright words reach beyond it.
        upright = 0.32 * LABEL * max(len(words["left"]), len(words["right"])) / self.scale
        up = max(up, upright + 0.8 * LABEL / self.scale)
        self.write(x, y + up, words["head"], LABEL)
        self.write(x, y - up, words["foot"], LABEL)
        self.write(x - across, y, words["left"], LABEL, rotation=90)
        self.write(x + across, y, words["right"], LABEL, rotation=90)


def _image(form: PlacedForm, *, mirrored: bool) -> Path:
    """Return an initial and lines of words beside it, mirrored as type is or as they are read."""
    letter = TextPath((0, 0), "B", size=1, prop=FontProperties(family="DejaVu Serif", weight="bold"))
    reach = letter.get_extents()
    ratio = min(0.8 * _INITIAL * form.width / reach.width, 0.8 * form.height / reach.height)
    at = (form.x + 0.06 * form.width, form.y + form.height - ratio * reach.y1 - 0.1 * form.height)
    initial = letter.transformed(Affine2D().scale(ratio).translate(at[0] - ratio * reach.x0, at[1]))
    beside = form.x + _INITIAL * form.width
    pitch = form.height if form.height < _ONE_LINE else None
    lines = shapes(lines_of_type(beside, form.y, form.x + form.width - beside, form.height, pitch))
    both = Path.make_compound_path(*(path for path in (initial, lines) if path is not NOWHERE))
    return both.transformed(Affine2D().scale(-1, 1).translate(2 * form.x + form.width, 0)) if mirrored else both


def _on_the_stone(form: PlacedForm, head: Side) -> Path:
    """Return the image of type as it lies: mirrored, and turned with its head."""
    upright = _image(PlacedForm(0, 0, *as_read(form, head)), mirrored=True)
    origin, across, up = turned([(0, 0), (1, 0), (0, 1)], form, head)
    (x, y), (a, b), (c, d) = origin, across, up
    return upright.transformed(Affine2D([[a - x, c - x, x], [b - y, d - y, y], [0, 0, 1]]))


_SIDES: dict[Edge, Side] = {"left": "left", "right": "right", "head": "top", "foot": "bottom"}


def _bites(sheet: PlacedForm, custom: Placing, head: Side) -> Iterator[list[Corner]]:
    """Yield the strips of the sheet that the grippers cover."""
    bite = min(custom.bite, sheet.width, sheet.height)
    for edge in gripper_edges(custom, head) if bite else ():
        if edge in ("left", "right"):
            yield corners(sheet.x if edge == "left" else sheet.x + sheet.width - bite, sheet.y, bite, sheet.height)
        else:
            yield corners(sheet.x, sheet.y if edge == "foot" else sheet.y + sheet.height - bite, sheet.width, bite)


def _pins(sheet: PlacedForm, sides: Sequence[Side], size: float) -> Iterator[list[Corner]]:
    """Yield the guides: two along the sheet's lower or upper edge and one at its side, pointing at the paper."""
    for side in sides:
        if side in ("bottom", "top"):
            edge, out = (sheet.y, -size) if side == "bottom" else (sheet.y + sheet.height, size)
            for part in (0.2, 0.8):
                x = sheet.x + part * sheet.width
                yield [(x, edge), (x - 0.6 * size, edge + out), (x + 0.6 * size, edge + out)]
        else:
            edge, out = (sheet.x, -size) if side == "left" else (sheet.x + sheet.width, size)
            y = sheet.y + 0.22 * sheet.height
            yield [(edge, y), (edge + out, y - 0.6 * size), (edge + out, y + 0.6 * size)]


_FACES: dict[Edge, str] = {"right": "right edge", "left": "left edge", "foot": "foot", "head": "head"}


def guides_words(custom: Placing, head: Side = "top") -> str:
    """Say at which sides of the chase the guides stand, and which edges of the sheet lie there."""
    sides = " and ".join(custom.guides)
    edges = " and ".join(_FACES[edge_over(side, head)] for side in custom.guides)
    return f"The paper's guides stand at the {sides} of the chase: there lie the sheet's {edges}."


def _words(place: Place, custom: Placing) -> str:
    form, white = place.form, place.margins
    margins = ", ".join(f"{name} {write_length(round(value, 1))}" for name, value in white._asdict().items())
    taken = " and ".join(gripper_edges(custom, place.head))
    grippers = (
        f" Grippers cover {write_length(round(custom.bite, 1))} of it at its {taken}."
        if custom.grippers and custom.bite
        else ""
    )
    wide, high = as_read(form, place.head)
    turned_ = "" if place.head == "top" else f", its head to the {place.head},"
    initial = "its initial stands on the right" if place.head == "top" else "its lines run up and down"
    if place.head == "bottom":
        initial = "its initial stands on the left, upside down"
    return (
        f"Two pictures side by side, as in a mirror. On the stone, from above: a form {write_length(wide)} wide "
        f"and {write_length(high)} high{turned_} in the {place.chase.name} chase, "
        f"{write_length(round(form.x, 1))} from the left of the chase and {write_length(round(form.y, 1))} from "
        f"its bottom, the paper over it; {initial}. The printed sheet as it is read, its initial on the left: margins "
        f"{margins}.{grippers} "
        f"{guides_words(custom, place.head)}"
    )
