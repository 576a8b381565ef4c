"""The plan view: a lockup as it lies on the stone, seen from above."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from matplotlib.text import Text

from stonework.drawing.labels import LINE, Reach, Spot, clearest, outline, spots_along, wide
from stonework.drawing.picture import (
    BRASS,
    BRASS_EDGE,
    GRAIN,
    INK,
    IRON,
    IRON_EDGE,
    LABEL,
    LEAD,
    MAPLE,
    NOW,
    PALE,
    PAPER,
    SAWN,
    SMALL,
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
from stonework.drawing.quoins import quoin_nut, quoin_parts, quoin_room
from stonework.drawing.words import in_picas, openings, piece_name, sentence, sized
from stonework.lockup import (
    KINDS,
    SIDES,
    SLACK,
    Filling,
    Item,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    as_read,
    letter,
    pattern_of,
)
from stonework.rules import Push
from stonework.shop import Quoin, Shop
from stonework.units import PICA, read_length, write_length

RAIL = 46.0  # how wide the chase's rails are drawn, in points; a drawing only, no chase was measured for it
INCH = read_length("1 in")
_WIDTH, _HEIGHT = 10.0, 7.4  # the most the picture takes, in inches
_EDGE, _RULER = 0.08, 0.62  # margins in inches: around, and below for the ruler
_TWO_LINES = 50.0  # the least height of a form, in points of the picture, for two lines of words
_NUMBER = 12.5  # the type size on the rails, in points of the picture
_SEARCHED = 100  # pieces; the labels of more lie over each other wherever they stand


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
        for artist in (self._edge, self._metal, self._dots, self._strips, self._push):
            artist.set_visible(False)
        self._now = self.area("none", NOW, 3.2, 8)
        self._wrong = self.area("none", WRONG, 3.2, 8, linestyle=(0, (3, 1.4)))
        self._ruler = self.area("none", INK, 0.9, 3)

    def draw(
        self,
        lockup: Lockup,
        shop: Shop,
        *,
        placed: int | None = None,
        wrong: Collection[Item] = (),
        pushes: Sequence[Push] = (),
    ) -> None:
        """Move every artist to where this lockup needs it; the shop says how its quoins measure closed.

        ``placed`` leaves out what comes later in the placing order, and frames the piece just laid. Items in
        ``wrong`` get a broken frame and a mark on their labels; two dotted lines show where each of ``pushes`` would
        have to pass.
        """
        order = lockup.placing_order()
        shown = order if placed is None else order[:placed]
        self._frame(lockup)
        self._draw_form(lockup)
        inside = lockup.block.pieces if lockup.block else ()
        self._draw_items((*shown, *inside), shop.quoins)
        self._draw_letters(lockup)
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
        inches = min((_WIDTH - 2 * _EDGE) / across, (_HEIGHT - _EDGE - _RULER) / up)
        edge, below = _EDGE / inches, _RULER / inches
        self.frame(-RAIL - edge, -RAIL - below, width + RAIL + edge, height + RAIL + edge, (_WIDTH, _HEIGHT))
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
        for form in forms:
            if head == "top":
                self._label_form(form)
            else:
                self._label_turned(form, head)

    def _label_turned(self, form: PlacedForm, head: Side) -> None:
        """Write a form's size on it as one reads it, and which side is its head, where that doesn't point up."""
        wide_, high = as_read(form, head)
        size = f"{write_length(wide_)} × {write_length(high)}"
        across = along_x(head)
        room = (form.width if across else form.height) * self.scale
        words = next((w for w in (f"HEAD {size}", "HEAD") if wide(w) < room), "")
        middle, inward = (form.x + form.width / 2, form.y + form.height / 2), 1.1 * LINE / self.scale
        at = {
            "left": (form.x + min(inward, form.width / 2), middle[1]),
            "right": (form.x + form.width - min(inward, form.width / 2), middle[1]),
            "bottom": (middle[0], form.y + min(inward, form.height / 2)),
            "top": (middle[0], form.y + form.height - min(inward, form.height / 2)),
        }[head]
        self.write(*at, words or "HEAD", LABEL if words else SMALL, rotation=0 if across else 90, pill=True)

    def _label_form(self, form: PlacedForm) -> None:
        """Write a form's size on it and which side is its head, on one line where there is no room for two."""
        size = f"{write_length(form.width)} × {write_length(form.height)}"
        x, y = form.x + form.width / 2, form.y + form.height
        if form.height * self.scale >= _TWO_LINES:
            self.write(x, y - 0.8 * LINE / self.scale, "HEAD", LABEL, weight="bold", pill=True)
            room = form.height * self.scale - 1.4 * LINE  # below that word
            turned = form.width * self.scale < wide(size) <= room
            if form.width * self.scale < wide(size) and not turned:
                size = size.replace(" × ", " ×\n")
            half = wide(size) / 2 if turned else LINE * (size.count("\n") + 1) / 2
            middle = form.y + min(form.height / 2, (room - half) / self.scale)
            self.write(x, middle, size, LABEL, rotation=90 * turned, pill=True)
            return
        words = next((w for w in (f"HEAD {size}", size, "HEAD") if 0.62 * SMALL * len(w) < form.width * self.scale), "")
        if words:
            self.write(x, y - form.height / 2 - 1.5 / self.scale, words, SMALL, pill=True)

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
        """Write on each of the first ``shown`` pieces its number, and on wood its size.

        Each has the place that it would have if all were laid, so that it stays there while one steps through them.
        """
        order, inside = lockup.placing_order(), (lockup.chase.width, lockup.chase.height)
        rooms = {n: quoin_room(item, pattern_of(item, shop.quoins)) for n, item in enumerate(order) if _is_quoin(item)}
        spots = {n: Spot((r.x + r.width / 2, r.y + r.height / 2), str(n + 1)) for n, r in rooms.items()}
        taken = [self._reach(text) for text in self.texts] + [spot.reach(self.scale) for spot in spots.values()]
        bodies = [outline(piece) for piece in (*order, lockup.form)]
        for n, item in enumerate(order):
            if n in spots:
                continue
            name = piece_name(item) if item.kind in ("lead", "metal") else sized(item)
            label = f"{n + 1}: {name}{' ✗' * (item in wrong)}"
            found = spots_along(item, label, inside, self.scale)
            others = bodies[:n] + bodies[n + 1 :]
            spots[n] = clearest(found, self.scale, taken, others) if len(order) <= _SEARCHED else found[0]
            taken.append(spots[n].reach(self.scale))
        for n, item in enumerate(order[:shown]):
            at, label, turned = spots[n]
            if _is_quoin(item):
                self.write(*at, f"{label}{' ✗' * (item in wrong)}", LABEL, weight="bold", pill=True)
            else:
                self.write(*at, label, LABEL, rotation=90 * turned, pill=True)

    def _reach(self, text: Text) -> Reach:
        return Spot(text.get_position(), text.get_text(), text.get_rotation() > 0).reach(self.scale)

    def _draw_letters(self, lockup: Lockup) -> None:
        """Write on each piece of a block its letter, with its size where there is room for both.

        A letter that would stand on another, or on what a form says, moves along its piece.
        """
        if lockup.block is None:
            return
        taken = [self._reach(text) for text in self.texts]
        for n, piece in enumerate(lockup.block.pieces):
            across = piece.width >= piece.height
            long, thick = (piece.width, piece.height) if across else (piece.height, piece.width)
            x, y = piece.x + piece.width / 2, piece.y + piece.height / 2
            alone, whole = letter(n), f"{letter(n)}: {in_picas(piece.thickness)} × {in_picas(piece.length)}"
            fits = piece.kind != "lead" and thick * self.scale >= 1.3 * LABEL and wide(whole) < long * self.scale
            found = []
            for label in (whole, alone) if fits else (alone,):
                free = max(0.0, long - (wide(label) if label == whole else LINE) / self.scale) / 2
                for step in (sign * k / 10 * free for k in range(11) for sign in (1, -1)):
                    at = (x + step, y) if across else (x, y + step)
                    found.append(Spot(at, label, label == whole and not across))
            spot = clearest(found, self.scale, taken)
            taken.append(spot.reach(self.scale))
            size = LABEL if spot.label == whole else SMALL
            self.write(*spot.at, spot.label, size, rotation=90 * spot.turned, pill=True)

    def _draw_rails(self, lockup: Lockup, shop: Shop, *, whole: bool) -> None:
        """Write on each rail how wide the gap before it is, and what closes it."""
        chase, opening = lockup.chase, openings(lockup, shop)
        for side in SIDES:
            what = f"{side} gap {write_length(round(lockup.gap(side), 1))}"
            if whole:
                what += f", {_closed_by(lockup, side, opening)}"
            x = {"left": -RAIL / 2, "right": chase.width + RAIL / 2}.get(side, chase.width / 2)
            y = {"bottom": -RAIL / 2, "top": chase.height + RAIL / 2}.get(side, chase.height / 2)
            self.write(x, y, what, _NUMBER, rotation=0 if along_x(side) else 90, colour=PAPER)

    def _draw_ruler(self, lockup: Lockup) -> None:
        """Lay a rule below the chase: picas on its upper edge, inches on its lower."""
        unit, width = 1 / self.scale, lockup.chase.width
        top = -RAIL - 10 * unit
        segments: list[Segment] = [((0, top), (width, top)), ((0, top - 26 * unit), (width, top - 26 * unit))]
        for n in range(int(width / PICA) + 1):
            tick = 9 if n % 10 == 0 else 6 if n % 5 == 0 else 3
            segments.append(((n * PICA, top), (n * PICA, top - tick * unit)))
            if n % 10 == 0:
                label = f"{n} picas" if n == 10 else str(n)
                self.write(n * PICA + 2 * unit, top - 11 * unit, label, 7.5, ha="left")
        for n in range(int(width / INCH + 1e-6) + 1):
            segments.append(((n * INCH, top - 26 * unit), (n * INCH, top - 35 * unit)))
            label = f"{n} in" if n == 1 else str(n)
            self.write(n * INCH + 2 * unit, top - 32 * unit, label, 7.5, ha="left")
        self._ruler.set_path(strokes(segments))


def _is_quoin(item: Item) -> bool:
    return item.kind == "quoin"


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


def _closed_by(lockup: Lockup, side: Side, opening: Mapping[Side, float]) -> str:
    """Say what fills a side's gap, or how much of it is empty."""
    reached = max((lockup.seen_from(side, item).far for item in lockup.on(side)), default=0.0)
    empty = lockup.gap(side) - reached
    if empty < -SLACK:
        return f"overfull by {write_length(round(-empty, 1))}"
    if empty > SLACK:
        return f"{write_length(round(empty, 1))} still empty"
    return f"quoins open {write_length(round(opening[side], 1))}" if side in opening else "solid"


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
