"""The judge: whether a lockup would hold, whoever made it.

One function for each rule of the trade. They look at rectangles only, wherever they lie, so a lockup laid by
hand is judged as strictly as the solver's. A *fault* would spoil the form or endanger it; a *caution* is work
a good hand would do better.

Sources: Vaughn = S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912. MacKellar = T. MacKellar, *The
American Printer*, 1893. Savage = W. Savage, *A Dictionary of the Art of Printing*, 1841. Stewart = A. A.
Stewart, *Typesetting*, 1919.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

from stonework.lockup import SIDES, SLACK, Extent, Intent, Item, Lockup, Rectangle, Side, along_x, opposite, pattern_of
from stonework.shop import Material, Quoin, Shop
from stonework.stacking import fewest_pieces
from stonework.units import write_length

Severity = Literal["fault", "caution"]

UNBACKED = 6.0  # how much of a side's end may go without wood, in points
CLEAR = 3.0  # the least room before a piece's end where a neighbour closes on it, in points
TOLERANCE = 6.0  # how far the form may stand from its place, unless told otherwise, in points

COMMON = "common practice"
BOTH_WAYS = "Vaughn pp. 31–33: solid on one side and one end, quoins on the others"
BINDING = "Savage, “Binding”; Vaughn p. 33; MacKellar p. 231"
FEWEST = "MacKellar p. 148: one piece rather than two; Stewart p. 31, said of spaces"
TRAVEL = "Vaughn p. 32: the last notch endangers chase and quoin"
MIDDLE = "the middle third of statics: a thrust outside it lets the far end go slack"
BUTTED = "Savage, “Binding”"


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule found: its name, how grave, where, why it matters, what to do, and who says so."""

    rule: str
    severity: Severity
    where: str
    why: str
    cure: str
    source: str


class _Remark(NamedTuple):
    where: str
    why: str
    cure: str


@dataclass(frozen=True, slots=True)
class _Scene:
    """What a rule may look at."""

    lockup: Lockup
    shop: Shop
    intent: Intent

    def seen(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return one side's items as seen from there, nearest the form first."""
        items = [(item, self.lockup.seen_from(side, item)) for item in self.lockup.on(side)]
        return sorted(items, key=lambda pair: pair[1].near)

    def row(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return one side's quoins as seen from there."""
        return [(item, extent) for item, extent in self.seen(side) if item.kind == "quoin"]

    def closes(self, side: Side) -> list[tuple[Item, Extent]]:
        """Return what moves toward the form as this side's quoins are tightened: quoins, and all inside them."""
        row = self.row(side)
        if not row:
            return []
        edge = max(extent.far for _, extent in row)
        return [(item, extent) for item, extent in self.seen(side) if extent.near < edge - SLACK]


_Rule = Callable[[_Scene], Iterator[_Remark]]
_RULES: list[tuple[str, Severity, str, _Rule]] = []


def _rule(name: str, severity: Severity, source: str) -> Callable[[_Rule], _Rule]:
    def keep(check: _Rule) -> _Rule:
        _RULES.append((name, severity, source, check))
        return check

    return keep


def judge(
    lockup: Lockup, shop: Shop, *, target: tuple[float, float] | None = None, tolerance: float = TOLERANCE
) -> list[Finding]:
    """Judge a lockup by every rule, faults first.

    ``target`` is where the form's lower left corner was meant to stand and ``tolerance`` how far off it may
    be each way, in points. Without a target, the lockup's own intent counts, or else the middle of the chase.
    """
    if target is not None:
        intent = Intent(*target, tolerance)
    elif lockup.intent is not None:
        intent = lockup.intent
    else:
        chase, form = lockup.chase, lockup.form
        intent = Intent((chase.width - form.width) / 2, (chase.height - form.height) / 2, tolerance)
    scene = _Scene(lockup, shop, intent)
    findings = [
        Finding(name, severity, *remark, source) for name, severity, source, check in _RULES for remark in check(scene)
    ]
    return sorted(findings, key=lambda finding: finding.severity != "fault")


def sound(findings: list[Finding]) -> bool:
    """Say whether there is no fault among the findings; cautions don't count."""
    return not any(finding.severity == "fault" for finding in findings)


def rule_names() -> tuple[str, ...]:
    """Return every rule's name, in the order they are asked."""
    return tuple(name for name, *_ in _RULES)


# --- faults -----------------------------------------------------------------------------------------------


@_rule("inside the chase", "fault", COMMON)
def _inside(scene: _Scene) -> Iterator[_Remark]:
    chase = scene.lockup.chase
    for rectangle in (scene.lockup.form, *scene.lockup.items):
        over = max(
            -rectangle.x,
            -rectangle.y,
            rectangle.x + rectangle.width - chase.width,
            rectangle.y + rectangle.height - chase.height,
        )
        if over > SLACK:
            yield _Remark(
                _name(rectangle),
                f"It reaches {write_length(over)} beyond the chase's inner edge, where there is iron.",
                "Use a shorter or thinner piece, or move it.",
            )


@_rule("one place, one piece", "fault", COMMON)
def _apart(scene: _Scene) -> Iterator[_Remark]:
    for one, other in combinations((scene.lockup.form, *scene.lockup.items), 2):
        across, up = _overlaps(one, other)
        if min(across, up) > SLACK:
            yield _Remark(
                f"{_name(one)} and {_name(other)}",
                f"They lie over each other by {write_length(min(across, up))}.",
                "Move or shorten one of them.",
            )


@_rule("backed to its ends", "fault", "Vaughn p. 33: the pressure squarely on the type")
def _backed(scene: _Scene) -> Iterator[_Remark]:
    for side in SIDES:
        length = scene.lockup.side_length(side)
        backing = sorted(
            (max(extent.low, 0.0), min(extent.high, length))
            for _, extent in scene.seen(side)
            if abs(extent.near) <= SLACK and extent.low < length and extent.high > 0
        )
        if not backing:
            continue  # a gap in the path, which has a rule of its own
        reached, bare = 0.0, 0.0
        for low, high in [*backing, (length, length)]:
            bare = max(bare, low - reached)
            reached = max(reached, high)
        if bare > UNBACKED + SLACK:
            yield _Remark(
                f"{side} side of the form",
                f"{write_length(bare)} of it has no wood behind it, so the type there can slip or bow out.",
                f"Back it to within {write_length(UNBACKED)} of each end.",
            )


@_rule("no gap from form to chase", "fault", COMMON)
def _path(scene: _Scene) -> Iterator[_Remark]:
    for side in SIDES:
        items, gap = scene.seen(side), scene.lockup.gap(side)
        form = Extent(0.0, scene.lockup.side_length(side), -1.0, 0.0)
        for item, extent in items:
            inside = [form, *(other for one, other in items if one is not item)]
            if not any(_meets(other, extent) for other in inside):
                room = extent.near - max((o.far for o in inside if o.far <= extent.near + SLACK), default=0.0)
                yield _Remark(
                    f"{side} side, inside {_name(item)}",
                    f"Nothing touches it there; {write_length(max(room, 0.0))} stands empty and the pressure stops.",
                    "Fill the gap with wood, or push the pieces together.",
                )
                break
            outside = [Extent(extent.low, extent.high, gap, gap + 1), *(o for one, o in items if one is not item)]
            if not any(_meets(extent, other) for other in outside):
                yield _Remark(
                    f"{side} side, outside {_name(item)}",
                    f"Nothing touches it there, so it carries no pressure; the chase is "
                    f"{write_length(max(gap - extent.far, 0.0))} off.",
                    "Fill the gap with wood, or open the quoins.",
                )
                break
        if not items and gap > SLACK:
            yield _Remark(
                f"{side} side",
                f"The whole gap of {write_length(gap)} is empty: nothing holds the form there.",
                "Fill it with furniture and reglet, with quoins on two sides that meet.",
            )


@_rule("metal against metal", "fault", COMMON)
def _metal(scene: _Scene) -> Iterator[_Remark]:
    why = "Metal slips on metal and bruises it; wood grips and gives a little."
    cure = "Put reglet or furniture between them."
    quoins = [item for item in scene.lockup.items if item.kind == "quoin"]
    for one, other in combinations((scene.lockup.form, *quoins), 2):
        across, up = _overlaps(one, other)
        if min(across, up) >= -SLACK and max(across, up) > SLACK:
            yield _Remark(f"{_name(one)} and {_name(other)}", why, cure)
    chase = scene.lockup.chase
    for metal in (scene.lockup.form, *quoins):
        edges = (metal.x, metal.y, chase.width - metal.x - metal.width, chase.height - metal.y - metal.height)
        if min(edges) <= SLACK:
            yield _Remark(f"{_name(metal)} and the chase", why, cure)


@_rule("free ends", "fault", f"{COMMON}; binding: {BINDING}")
def _free_ends(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        for mover, closing in scene.closes(side):
            for item in scene.lockup.items:
                if along_x(item.side) == along_x(side):
                    continue
                end = scene.lockup.seen_from(side, item)
                room = closing.near - end.far
                if -SLACK <= room < CLEAR - SLACK and _shared(closing, end) > SLACK:
                    yield _Remark(
                        f"end of {_name(item)}",
                        f"{_name(mover).capitalize()} moves toward it as the quoins close, and only "
                        f"{write_length(max(room, 0.0))} is left: it would bind and take the squeeze from the type.",
                        f"Use a shorter piece: leave {write_length(CLEAR)} or more.",
                    )


@_rule("quoins on two sides that meet", "fault", BOTH_WAYS)
def _quoin_sides(scene: _Scene) -> Iterator[_Remark]:
    sides = scene.lockup.quoin_sides
    if len(sides) == 2 and sides[0] != opposite(sides[1]):
        return
    yield _Remark(
        f"quoins on the {' and '.join(sides)}" if sides else "no quoins yet",
        "The form is pushed against two solid sides that meet, one each way; these quoins don't do that.",
        "Put quoins on two neighbouring sides, and fill the other two solid.",
    )


@_rule("quoin within its travel", "fault", TRAVEL)
def _travel(scene: _Scene) -> Iterator[_Remark]:
    for item in scene.lockup.items:
        if item.kind != "quoin":
            continue
        quoin = pattern_of(item, scene.shop.quoins)
        if quoin is None:
            yield _Remark(
                _name(item), f"The shop has no quoin {write_length(item.length)} long.", "Use one of the shop's quoins."
            )
        elif remark := _opening(item, quoin):
            yield remark


def _opening(item: Item, quoin: Quoin) -> _Remark | None:
    opening = item.thickness - quoin.closed
    if opening < -SLACK:
        return _Remark(
            _name(item),
            f"The room is {write_length(-opening)} less than the quoin takes up closed.",
            "Take out some wood.",
        )
    if opening > quoin.travel + SLACK:
        return _Remark(
            _name(item),
            f"It would have to open {write_length(opening)}; it travels only {write_length(quoin.travel)}.",
            "Put in more wood.",
        )
    if opening > quoin.most_open + SLACK:
        return _Remark(
            _name(item),
            f"Open {write_length(opening)} of {write_length(quoin.travel)}, it keeps less than "
            f"{write_length(quoin.reserve)} in reserve for tightening.",
            "Put in more wood, so that the quoin starts nearer closed.",
        )
    return None


@_rule("quoins in the middle third", "fault", MIDDLE)
def _middle(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        row, length = scene.row(side), scene.lockup.side_length(side)
        middle = (min(extent.low for _, extent in row) + max(extent.high for _, extent in row)) / 2
        off = abs(middle - length / 2)
        if off > length / 6 + SLACK:
            yield _Remark(
                f"{side} quoins",
                f"Their middle is {write_length(off)} from the middle of the side, outside its middle third: "
                "they would press one end and let the other go slack.",
                "Move the row toward the middle of the form's side.",
            )


@_rule("room for a quoin", "fault", COMMON)
def _room(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        length = scene.lockup.side_length(side)
        others = [scene.lockup.seen_from(side, item) for item in scene.lockup.items if item.side != side]
        for item, quoin in scene.row(side):
            beside = [o for o in others if o.near < quoin.far - SLACK and o.far > quoin.near + SLACK]
            blocked = any(o.high <= SLACK for o in beside) + any(o.low >= length - SLACK for o in beside)
            # With one corner blocked, the row may shift a sixth of the side toward the open one.
            most = (float("inf"), length * 4 / 3 - 2 * CLEAR, length - 2 * CLEAR)[blocked]
            if item.length > most + SLACK:
                yield _Remark(
                    f"{side} side",
                    f"It is {write_length(length)} long between the pieces that run past it: too short for a quoin of "
                    f"{write_length(item.length)}.",
                    "Use a shorter quoin, let this side's pieces run through its corners, or build the form up.",
                )
                break


@_rule("what the cabinet holds", "fault", COMMON)
def _cabinet(scene: _Scene) -> Iterator[_Remark]:
    there = _stock(scene.shop)
    for material, used in Counter(_rounded(item.material) for item in scene.lockup.wood).items():
        if used > there[material]:
            yield _Remark(
                _size(material),
                f"The lockup takes {used} of these; the cabinet holds {there[material]}.",
                "Make up the same thickness from other pieces.",
            )


@_rule("in its place", "fault", COMMON)
def _place(scene: _Scene) -> Iterator[_Remark]:
    form, intent = scene.lockup.form, scene.intent
    for off, more, less in ((form.x - intent.x, "far right", "far left"), (form.y - intent.y, "high", "low")):
        if abs(off) > intent.tolerance + SLACK:
            yield _Remark(
                "the form",
                f"It stands {write_length(abs(off))} too {more if off > 0 else less}.",
                "Exchange pieces between the two opposite sides.",
            )


@_rule("true to size", "fault", COMMON)
def _true(scene: _Scene) -> Iterator[_Remark]:
    for item in scene.lockup.items:
        written, drawn = sorted((item.thickness, item.length)), sorted((item.width, item.height))
        if any(abs(one - other) > SLACK for one, other in zip(written, drawn, strict=True)):
            yield _Remark(
                _name(item),
                f"It takes up {write_length(item.width)} × {write_length(item.height)}, which isn't its size.",
                "Measure the piece again and write down what it is.",
            )


# --- cautions ---------------------------------------------------------------------------------------------


@_rule("longer outward", "caution", COMMON)
def _longer_outward(scene: _Scene) -> Iterator[_Remark]:
    for side in SIDES:
        furniture = [item for item, _ in scene.seen(side) if item.kind == "furniture"]
        for inner, outer in pairwise(furniture):
            if outer.length < inner.length - SLACK:
                yield _Remark(
                    _name(outer),
                    f"It is shorter than {_name(inner)} inside it, whose ends are left without support.",
                    "Change them round: shorter pieces nearer the form.",
                )


@_rule("reglet against a quoin", "caution", COMMON)
def _bare(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        for quoin, row in scene.row(side):
            for item, extent in scene.seen(side):
                if item.kind == "furniture" and (_meets(extent, row) or _meets(row, extent)):
                    yield _Remark(
                        f"{_name(quoin)} and {_name(item)}",
                        "A quoin bruises the furniture it bears on; a reglet is cheaper to lose.",
                        "Put a reglet between them.",
                    )


@_rule("ends that touch", "caution", BUTTED)
def _touching(scene: _Scene) -> Iterator[_Remark]:
    moving = {side: [id(item) for item, _ in scene.closes(side)] for side in scene.lockup.quoin_sides}
    for item in scene.lockup.wood:
        own = scene.lockup.seen_from(item.side, item)
        for other in scene.lockup.items:
            if along_x(other.side) == along_x(item.side) or id(other) in moving.get(other.side, ()):
                continue
            there = scene.lockup.seen_from(item.side, other)
            touch = min(abs(there.high - own.low), abs(there.low - own.high)) <= SLACK
            if touch and min(own.far, there.far) - max(own.near, there.near) > SLACK:
                yield _Remark(
                    f"end of {_name(item)}",
                    f"It touches {_name(other)}. That one stands still, but damp wood swells and then it would bind.",
                    "Leave a little room.",
                )
        start, stop, limit = (
            (item.x, item.x + item.width, scene.lockup.chase.width)
            if along_x(item.side)
            else (item.y, item.y + item.height, scene.lockup.chase.height)
        )
        if abs(start) <= SLACK or abs(stop - limit) <= SLACK:
            yield _Remark(
                f"end of {_name(item)}",
                "It touches the chase. That stands still, but damp wood swells and then it would bind.",
                "Leave a little room.",
            )


@_rule("fewest pieces", "caution", FEWEST)
def _fewest(scene: _Scene) -> Iterator[_Remark]:
    used = Counter(_rounded(item.material) for item in scene.lockup.wood)
    for side in SIDES:
        items = scene.seen(side)
        lengths = [item.length for item, _ in items if item.kind != "quoin"]
        inner = [item for item, _ in items if item.kind != "quoin"]
        if row := scene.row(side):
            # The piece the quoins bear on, and all outside them, have work of their own.
            edge = min(extent.near for _, extent in row)
            inner = [item for item, extent in items if item.kind != "quoin" and extent.near < edge - SLACK][:-1]
        spare = _stock(scene.shop) - used + Counter(_rounded(item.material) for item in inner)
        thicknesses: Counter[int] = Counter()
        for material, count in spare.items():
            if min(lengths) - SLACK <= material.length <= max(lengths) + SLACK if lengths else False:
                thicknesses[round(material.thickness * 100)] += count
        better = fewest_pieces(sum(round(item.thickness * 100) for item in inner), thicknesses) if inner else None
        if better and len(better) < len(inner):
            yield _Remark(
                f"{side} side",
                f"{len(inner)} pieces lie where {len(better)} would do: every joint gives a little and can slip.",
                f"Use {' + '.join(write_length(size / 100) for size in better)} instead.",
            )


# --- small geometry ---------------------------------------------------------------------------------------


def _overlaps(one: Rectangle, other: Rectangle) -> tuple[float, float]:
    """Return how far two rectangles overlap in x and in y; negative where they stand apart."""
    return (
        min(one.x + one.width, other.x + other.width) - max(one.x, other.x),
        min(one.y + one.height, other.y + other.height) - max(one.y, other.y),
    )


def _shared(one: Extent, other: Extent) -> float:
    """Return how much of the side two extents share."""
    return min(one.high, other.high) - max(one.low, other.low)


def _meets(inner: Extent, outer: Extent) -> bool:
    """Say whether the inner one's far face touches the outer one's near face."""
    return abs(inner.far - outer.near) <= SLACK and _shared(inner, outer) > SLACK


def _rounded(material: Material) -> Material:
    """Return the size to the hundredth of a point, so that sizes read from two files compare."""
    return Material(material.kind, round(material.thickness, 2), round(material.length, 2))


def _stock(shop: Shop) -> Counter[Material]:
    there: Counter[Material] = Counter()
    for material, count in shop.stock.items():
        there[_rounded(material)] += count
    return there


def _size(material: Material) -> str:
    return f"{material.kind} {write_length(material.thickness)} × {write_length(material.length)}"


def _name(rectangle: Rectangle) -> str:
    if not isinstance(rectangle, Item):
        return "the form"
    if rectangle.kind == "quoin":
        return f"{rectangle.side} quoin"
    return f"{rectangle.side} {rectangle.order}, {_size(rectangle.material)}"
