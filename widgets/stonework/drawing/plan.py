"""The plan view: a lockup as it lies on the stone, seen from above."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence

from stonework.drawing.arranging import arrange
from stonework.drawing.labels import Asked, Ground, Spot, Taken, outline, wide
from stonework.drawing.lettering import LARGE, MOST, NORMAL, form_labels, letters, numbers, rail_words
from stonework.drawing.picture import (
    BRASS,
    BRASS_EDGE,
    GRAIN,
    INK,
    IRON,
    IRON_EDGE,
    LEAD,
    MAPLE,
    NOW,
    PALE,
    PAPER,
    SAWN,
    STONE,
    TYPE,
    WRONG,
    Corner,
    Picture,
    Segment,
    box,
    corners,
    lines_of_type,
    rounded_box,
    shapes,
    strokes,
    turned,
)
from stonework.drawing.quoins import quoin_nut, quoin_parts
from stonework.drawing.words import openings, sentence
from stonework.lockup import (
    KINDS,
    SIDES,
    Filling,
    Item,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    as_read,
    pattern_of,
)
from stonework.rules import Push
from stonework.shop import Quoin, Shop
from stonework.units import PICA, read_length

RAIL = 46.0  # how wide the chase's rails are drawn, in points; a drawing only, no chase was measured for it
INCH = read_length("1 in")
_EDGE, _RULER = 0.08, 0.62  # margins in inches: around, and below for the ruler
_WEIGHTS = ("normal", "bold")


class PlanView(Picture):
    """A plan view that can be drawn again and again."""

    def __init__(self, name: str = "plan") -> None:
        super().__init__(name)
        self._chase = self.area(IRON, IRON_EDGE, 1.5, 1)
        self._stone = self.area(STONE, IRON_EDGE, 1.5, 2)
        self._lead = self.area(LEAD, INK, 1.4, 3)
        self._type = self.area(TYPE, "none", 0, 4)
        self._head = self.area("none", INK, 4, 5)
        self._furniture = self.area(MAPLE, SAWN, 1.1, 5)
        self._grain = self.area("none", GRAIN, 0.7, 6)
        self._reglet = self.area(PALE, SAWN, 1.1, 5)
        self._quoins = self.area(BRASS, BRASS_EDGE, 1.2, 6, hatch="////")
        self._nuts = self.area(PAPER, BRASS_EDGE, 1.2, 7)
        # For blocks only.
        self._edge = self.area("none", INK, 1.4, 7)
        self._metal = self.area(LEAD, INK, 1.1, 5)
        self._dots = self.area(INK, "none", 0, 6)
        self._strips = self.area(TYPE, PAPER, 0.5, 5)
        self._push = self.area("none", WRONG, 2.4, 9, linestyle=(0, (1.2, 1.2)))
        self._now = self.area("none", NOW, 3.2, 8)
        self._wrong = self.area("none", WRONG, 3.2, 8, linestyle=(0, (3, 1.4)))
        self._ruler = self.area("none", INK, 0.9, 3)
        # From labels that stand off their pieces: lines with paper on both sides, and what they end in.
        self._under_lines = self.area("none", PAPER, 3.4, 8.5, capstyle="butt")
        self._lines = self.area("none", INK, 1.1, 8.6)
        self._ends = self.area(INK, PAPER, 0.8, 8.7)
        blocks_only = (self._edge, self._metal, self._dots, self._strips)
        for artist in (*blocks_only, self._push, self._under_lines, self._lines, self._ends):
            artist.set_visible(False)
        self.lines: dict[str, Segment] = {}
        """By their words, the labels that stand off: each with the line from it to what it names."""
        self.order: tuple[Item, ...] = ()
        """What it shows as drawn last, in placing order: the first is number 1."""
        self._sizes = NORMAL
        self._lettered: tuple[object, ...] = ()  # what the spots are for
        self._spots: tuple[list[Spot], dict[Asked, Spot]] = [], {}

    def draw(
        self,
        lockup: Lockup,
        shop: Shop,
        *,
        placed: int | None = None,
        wrong: Collection[Item] = (),
        pushes: Sequence[Push] = (),
        large: bool = False,
    ) -> None:
        """Move every artist to where this lockup needs it; the shop says how its quoins measure closed.

        ``placed`` leaves out what comes later in the placing order, and frames the piece just laid. Items in
        ``wrong`` get a broken frame and a mark on their labels; two dotted lines show where each of ``pushes`` would
        have to pass. ``large`` letters it for a class to read: bigger words, and fewer.
        """
        self._sizes = LARGE if large else NORMAL
        order = lockup.placing_order()
        self.order = shown = tuple(order if placed is None else order[:placed])
        self._frame(lockup)
        self._draw_form(lockup)
        inside = lockup.block.pieces if lockup.block else ()
        self._draw_items((*shown, *inside), shop.quoins)
        self._draw_labels(lockup, shop, len(shown), wrong)
        self._wrong.set_path(shapes(box(item) for item in shown if item in wrong))
        self._push.set_path(strokes(line for push in pushes for line in _push_lines(lockup, push)))
        self._push.set_visible(bool(pushes))
        self._draw_rails(lockup, shop, whole=len(shown) == len(order))
        self._draw_ruler(lockup)
        self._now.set_path(shapes([box(shown[-1])] if placed is not None and shown else []))
        self.finish(sentence(lockup, shop, shown))

    # --- parts of the picture ------------------------------------------------------------------------

    def _frame(self, lockup: Lockup) -> None:
        """Fit the picture to the chase."""
        width, height = lockup.chase.width, lockup.chase.height
        across, up = width + 2 * RAIL, height + 2 * RAIL
        inches = min((MOST[0] - 2 * _EDGE) / across, (MOST[1] - _EDGE - _RULER) / up)
        edge, below = _EDGE / inches, _RULER / inches
        self.frame(-RAIL - edge, -RAIL - below, width + RAIL + edge, height + RAIL + edge, MOST)
        self._chase.set_path(rounded_box(-RAIL, -RAIL, across, up, RAIL / 3))
        self._stone.set_path(shapes([corners(0, 0, width, height)]))

    def _draw_form(self, lockup: Lockup) -> None:
        block, head = lockup.block, lockup.head
        forms = block.forms if block else (lockup.form,)
        self._lead.set_path(shapes(box(form) for form in forms))
        self._type.set_path(
            shapes(turned(word, f, head) for f in forms for word in lines_of_type(0, 0, *as_read(f, head)))
        )
        self._head.set_path(strokes(head_edge(form, head, 2.5 / self.scale) for form in forms))
        self._edge.set_path(shapes([box(lockup.form)] if block else []))
        self._edge.set_visible(block is not None)

    def _draw_items(self, items: Iterable[Item | Filling], patterns: Sequence[Quoin]) -> None:
        by_kind: dict[str, list[Item | Filling]] = {kind: [] for kind in KINDS}
        for item in items:
            by_kind[item.kind].append(item)
        for artist, parts in (
            (self._metal, [box(piece) for piece in by_kind["metal"]]),
            (self._dots, [dot for piece in by_kind["metal"] for dot in dots(piece)]),
            (self._strips, [box(piece) for piece in by_kind["lead"]]),
        ):
            artist.set_path(shapes(parts))
            artist.set_visible(bool(parts))
        self._furniture.set_path(shapes(box(item) for item in by_kind["furniture"]))
        self._grain.set_path(strokes(line for item in by_kind["furniture"] for line in _grain(item)))
        self._reglet.set_path(shapes(box(item) for item in by_kind["reglet"]))
        quoins = [(item, pattern_of(item, patterns)) for item in by_kind["quoin"]]
        self._quoins.set_path(shapes(part for quoin in quoins for part in quoin_parts(*quoin)))
        self._nuts.set_path(shapes(nut for quoin in quoins for nut in quoin_nut(*quoin)))

    def _draw_labels(self, lockup: Lockup, shop: Shop, shown: int, wrong: Collection[Item]) -> None:
        """Write on forms, on the pieces of a block, and on the first ``shown`` pieces.

        Each label has the place that it would have if all were laid, so that it stays while one steps through them.
        """
        bodies = [outline(piece) for piece in (*lockup.items, lockup.form)]
        inside = (lockup.chase.width, lockup.chase.height)
        ground = Ground(self._sizes.label, self.scale, inside, bodies, self._sizes.hides)
        forms = lockup.block.forms if lockup.block else (lockup.form,)
        in_block, round_it = letters(lockup, ground), numbers(lockup, shop.quoins, wrong, ground)
        asked = (*(one for one in round_it if one.bold), *in_block, *(one for one in round_it if not one.bold))
        key = (asked, forms, lockup.head, inside, ground.size)
        if self._lettered != key:  # a crowd takes a while: not again at every step
            self._lettered, self._spots = key, self._arranged(form_labels(forms, lockup.head, ground), asked, ground)
        on_forms, spot_of = self._spots
        spots = [*on_forms, *(spot_of[one] for one in (*in_block, *round_it[:shown]))]
        for spot in spots:
            self.write(
                *spot.at, spot.words, ground.size, rotation=90 * spot.turned, weight=_WEIGHTS[spot.bold], pill=True
            )
        self.lines = {spot.words: line for spot in spots if (line := ground.cover(spot).line)}
        for artist in (self._under_lines, self._lines):
            artist.set_path(strokes(self.lines.values()))
            artist.set_visible(bool(self.lines))
        self._ends.set_path(shapes(_dot(end, 2.2 / self.scale) for _, end in self.lines.values()))
        self._ends.set_visible(bool(self.lines))

    @staticmethod
    def _arranged(on_forms: list[Spot], asked: Sequence[Asked], ground: Ground) -> tuple[list[Spot], dict[Asked, Spot]]:
        """Return where words stand on forms, and where each label that is asked for."""
        found, all_clear = arrange(asked, ground, on_forms, thorough=False)
        if not all_clear:  # what a small form says is in the way, and its heavy edge tells its head too
            found, _ = arrange(asked, ground)
            taken = Taken(ground, found)
            on_forms = [spot for spot in on_forms if taken.free(spot)]
        return on_forms, dict(zip(asked, found, strict=True))

    def _draw_rails(self, lockup: Lockup, shop: Shop, *, whole: bool) -> None:
        """Write on each rail how wide the gap before it is, and what closes it."""
        chase, opening = lockup.chase, openings(lockup, shop)
        for side in SIDES:
            room = (chase.width if along_x(side) else chase.height) * self.scale
            said = list(rail_words(lockup, side, opening, whole=whole))
            what = next((words for words in said if wide(words, self._sizes.rail) <= room), said[-1])
            x = {"left": -RAIL / 2, "right": chase.width + RAIL / 2}.get(side, chase.width / 2)
            y = {"bottom": -RAIL / 2, "top": chase.height + RAIL / 2}.get(side, chase.height / 2)
            self.write(x, y, what, self._sizes.rail, rotation=0 if along_x(side) else 90, colour=PAPER)

    def _draw_ruler(self, lockup: Lockup) -> None:
        """Lay a rule below the chase: picas on its upper edge, inches on its lower."""
        unit, width, size = 1 / self.scale, lockup.chase.width, self._sizes.label
        top = -RAIL - 5 * unit
        foot = top - (size + 9) * unit
        segments: list[Segment] = [((0, top), (width, top)), ((0, foot), (width, foot))]
        for n in range(int(width / PICA) + 1):
            tick = 9 if n % 10 == 0 else 6 if n % 5 == 0 else 3
            segments.append(((n * PICA, top), (n * PICA, top - tick * unit)))
        for n in range(int(width / INCH + 1e-6) + 1):
            segments.append(((n * INCH, foot), (n * INCH, foot - 9 * unit)))
        for length, name, step, at in (
            (PICA, "{} picas", 10, top - (size / 2 + 5) * unit),
            (INCH, "{} in", 1, foot - (size / 2 + 3) * unit),
        ):
            first = name.format(step)
            while step * length * self.scale < wide(first, size):
                step *= 2
                first = name.format(step)
            for n in range(0, int(width / length + 1e-6) + 1, step):
                self.write(n * length + 2 * unit, at, first if n == step else str(n), size, ha="left")
        self._ruler.set_path(strokes(segments))


def _dot(at: Corner, radius: float) -> list[Corner]:
    return [(at[0] + radius * math.cos(n * math.pi / 6), at[1] + radius * math.sin(n * math.pi / 6)) for n in range(12)]


def head_edge(form: PlacedForm, head: Side, inset: float) -> Segment:
    """Return the edge of a form that is its head, a little inside it."""
    wide_, high = as_read(form, head)
    one, other = turned([(0.0, high - inset), (wide_, high - inset)], form, head)
    return one, other


def _push_lines(lockup: Lockup, push: Push) -> Iterator[Segment]:
    """Yield the two lines between which the push of a side would have to pass, from inside the form to the iron."""
    form, gap = lockup.form, lockup.gap(push.side)
    for at in (push.low, push.high):
        if along_x(push.side):
            near, far = (form.y + 8, form.y - gap)
            if push.side == "top":
                near, far = form.y + form.height - 8, form.y + form.height + gap
            yield (form.x + at, near), (form.x + at, far)
        else:
            near, far = (form.x + 8, form.x - gap)
            if push.side == "right":
                near, far = form.x + form.width - 8, form.x + form.width + gap
            yield (near, form.y + at), (far, form.y + at)


def dots(piece: Filling | Item) -> Iterator[list[Corner]]:
    """Yield the dots that mark a piece as metal: small squares on end, in even rows a quarter pica from its edges."""
    columns, rows = (max(1, round(size / 9)) for size in (piece.width, piece.height))
    for i, j in ((i, j) for i in range(columns) for j in range(rows)):
        x, y = piece.x + piece.width * (i + 0.5) / columns, piece.y + piece.height * (j + 0.5) / rows
        yield [(x - 0.9, y), (x, y - 0.9), (x + 0.9, y), (x, y + 0.9)]


def _grain(item: Item | Filling) -> Iterator[Segment]:
    """Yield broken lines along a piece, the same each time."""
    along = item.width >= item.height if isinstance(item, Filling) else along_x(item.side)
    lines = max(2, int(item.thickness / 7))
    for n in range(lines):
        across = item.thickness * (n + 0.5) / lines
        start, stop = 0.02 + 0.05 * ((n * 7) % 5), 0.98 - 0.06 * ((n * 3) % 4)
        middle = 0.35 + 0.08 * ((n * 5) % 4)
        for low, high in ((start, middle), (middle + 0.03, stop)):
            if along:
                yield ((item.x + low * item.length, item.y + across), (item.x + high * item.length, item.y + across))
            else:
                yield ((item.x + across, item.y + low * item.length), (item.x + across, item.y + high * item.length))
