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
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

from stonework.lockup import (
    CLEAR,
    MOST_OF_ONE_SIZE,
    SIDES,
    SLACK,
    TOLERANCE,
    UNBACKED,
    Extent,
    Filling,
    Intent,
    Item,
    Lockup,
    PlacedForm,
    Rectangle,
    Side,
    along_x,
    letter,
    opposite,
    pattern_of,
)
from stonework.shop import Material, Quoin, Shop
from stonework.stacking import fewest_pieces
from stonework.units import write_length

Severity = Literal["fault", "caution"]


COMMON = "common practice"
BOTH_WAYS = "Vaughn pp. 31–33: solid on one side and one end, quoins on the others"
BINDING = "Savage, “Binding”; Vaughn p. 33; MacKellar p. 231"
FEWEST = "MacKellar p. 148: one piece rather than two; Stewart p. 31, said of spaces"
TRAVEL = "Vaughn p. 32: the last notch endangers chase and quoin"
MIDDLE = "the middle third of statics: a thrust outside it lets the far end go slack"
RUBBING = "friction, as textbooks of statics have it"


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule found: its name, how grave, where, why it matters, what to do, and who says so.

    ``items`` are the pieces and quoins it is about, if it is about some.
    """

    rule: str
    severity: Severity
    where: str
    why: str
    cure: str
    source: str
    items: tuple[Item, ...] = ()


class _Remark(NamedTuple):
    where: str
    why: str
    cure: str
    items: tuple[Rectangle, ...] = ()


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

    @property
    def inside(self) -> tuple[PlacedForm | Filling, ...]:
        """What is in the block, if the form is one."""
        return self.lockup.block.content if self.lockup.block else ()

    def named(self, one: PlacedForm | Filling) -> str:
        """Name a form or a piece of the block, the pieces by their letters in the picture."""
        if isinstance(one, PlacedForm):
            number = next(n for n, form in enumerate(self.lockup.block.forms, 1) if form is one)
            return f"form {number} of the block"
        n = next(n for n, piece in enumerate(self.lockup.block.pieces) if piece is one)
        return f"{letter(n)} of the block, {one.kind} {write_length(one.thickness)} × {write_length(one.length)}"

    def faces(self, one: PlacedForm | Filling, side: Side) -> tuple[float, list[Extent]]:
        """Return how long one side of what is in the block is, and what it presses on there, from its low end on.

        Where it lies at the block's outline it presses on the wood outside, which the rules for forms look after.
        """
        extents = {id(other): _turned_to(side, one, other) for other in (*self.inside, self.lockup.form)}
        outline, own = extents.pop(id(self.lockup.form)), extents.pop(id(one))
        size = own.high - own.low
        if outline.far <= SLACK:
            return size, [Extent(0.0, size, 0.0, 1.0)]
        return size, [e for e in extents.values() if abs(e.near) <= SLACK and min(e.high, size) - max(e.low, 0) > SLACK]


class Rule(NamedTuple):
    """A rule of the trade: its name, how grave a breach is, what it means in a sentence, and who says so."""

    name: str
    severity: Severity
    meaning: str
    source: str
    check: _Check


_Check = Callable[[_Scene], Iterator[_Remark]]
_RULES: list[Rule] = []


def _rule(name: str, severity: Severity, meaning: str, source: str) -> Callable[[_Check], _Check]:
    def keep(check: _Check) -> _Check:
        _RULES.append(Rule(name, severity, meaning, source, check))
        return check

    return keep


def judge(
    lockup: Lockup, shop: Shop, *, target: tuple[float, float] | None = None, tolerance: float | None = None
) -> list[Finding]:
    """Judge a lockup by every rule, faults first.

    ``target`` is where the form's lower left corner was meant to stand and ``tolerance`` how far off it may
    be each way, in points. What isn't given is taken from the lockup's own intent, or else is the middle of the
    chase and 6 points.
    """
    chase, form, wish = lockup.chase, lockup.form, lockup.intent
    middle = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    x, y = target or ((wish.x, wish.y) if wish else middle)
    intent = Intent(x, y, (wish.tolerance if wish else TOLERANCE) if tolerance is None else tolerance)
    scene = _Scene(lockup, shop, intent)
    findings = [
        Finding(
            rule.name,
            rule.severity,
            *remark[:3],
            rule.source,
            tuple(item for item in remark.items if isinstance(item, Item)),
        )
        for rule in _RULES
        for remark in rule.check(scene)
    ]
    return sorted(findings, key=lambda finding: finding.severity != "fault")


def sound(findings: list[Finding]) -> bool:
    """Say whether there is no fault among the findings; cautions don't count."""
    return not any(finding.severity == "fault" for finding in findings)


def rules() -> tuple[Rule, ...]:
    """Return every rule, in the order they are asked."""
    return tuple(_RULES)


def rule_names() -> tuple[str, ...]:
    """Return every rule's name, in the order they are asked."""
    return tuple(rule.name for rule in _RULES)


# --- faults -----------------------------------------------------------------------------------------------


@_rule("inside the chase", "fault", "nothing reaches onto the iron", COMMON)
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
                f"It reaches {_written(over)} beyond the chase's inner edge, where there is iron.",
                "Use a shorter or thinner piece, or move it.",
                (rectangle,),
            )


@_rule("one place, one piece", "fault", "no two things lie over each other, nor over the edge of their block", COMMON)
def _apart(scene: _Scene) -> Iterator[_Remark]:
    for one, other in combinations(scene.inside, 2):
        across, up = _overlaps(one, other)
        if min(across, up) > SLACK:
            yield _Remark(
                f"{scene.named(one)} and {scene.named(other)}",
                f"They lie over each other by {_written(min(across, up))}.",
                "Move or shorten one of them.",
            )
    for one in scene.inside:
        over = max(_beyond(one, scene.lockup.form))
        if over > SLACK:
            yield _Remark(
                scene.named(one),
                f"It reaches {_written(over)} beyond the edge of the block, where the wood of the lockup lies.",
                "Move or shorten it, or reckon the block larger.",
            )
    for one, other in combinations((scene.lockup.form, *scene.lockup.items), 2):
        across, up = _overlaps(one, other)
        if min(across, up) > SLACK:
            yield _Remark(
                f"{_name(one)} and {_name(other)}",
                f"They lie over each other by {_written(min(across, up))}.",
                "Move or shorten one of them.",
                (one, other),
            )


@_rule(
    "backed to its ends",
    "fault",
    "wood backs every side of the form to within 6 points of its ends; in a block, whatever lies there does",
    "Vaughn p. 33: the pressure squarely on the type",
)
def _backed(scene: _Scene) -> Iterator[_Remark]:
    for side in SIDES:
        length = scene.lockup.side_length(side)
        backing = [
            extent
            for _, extent in scene.seen(side)
            if abs(extent.near) <= SLACK and extent.low < length and extent.high > 0
        ]
        if not backing:
            continue  # a gap in the path, which has a rule of its own
        bare = _bare_stretch(backing, 0.0, length)
        if bare > UNBACKED + SLACK:
            yield _Remark(
                f"{side} side of the form",
                f"{_written(bare)} of it has no wood behind it, so the type there can slip or bow out.",
                f"Use a piece nearly as long as the form there, or longer: at most {_written(UNBACKED)} may stay bare "
                "at each end.",
            )

    for form in scene.lockup.block.forms if scene.lockup.block else ():
        for side in SIDES:
            length, backing = scene.faces(form, side)
            bare = _bare_stretch(backing, 0.0, length)
            if bare > UNBACKED + SLACK:
                yield _Remark(
                    f"{side} side of {scene.named(form)}",
                    f"{_written(bare)} of it has nothing behind it, so the type there can slip or bow out.",
                    f"Lay metal or wood there: at most {_written(UNBACKED)} may stay bare.",
                )


@_rule("no gap from form to chase", "fault", "on every side the pressure can pass from the form to the iron", COMMON)
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
                    f"Nothing touches it there; {_written(max(room, 0.0))} stands empty and the pressure stops.",
                    "Fill the gap with wood, or push the pieces together.",
                    (item,),
                )
                break
            outside = [Extent(extent.low, extent.high, gap, gap + 1), *(o for one, o in items if one is not item)]
            if extent.far < gap - SLACK and not any(_meets(extent, other) for other in outside):
                yield _Remark(
                    f"{side} side, outside {_name(item)}",
                    f"Nothing touches it there, so it carries no pressure; the chase is "
                    f"{_written(gap - extent.far)} off.",
                    "Fill the gap with wood, or open the quoins if there are any.",
                    (item,),
                )
                break
        if not items and gap > SLACK:
            yield _Remark(
                f"{side} side",
                f"The whole gap of {_written(gap)} is empty: nothing holds the form there.",
                "Fill it with wood, and with quoins if this is to be a quoin side.",
            )
    yield from _pressed(scene)


def _pressed(scene: _Scene) -> Iterator[_Remark]:
    """Look in the block for pieces that nothing presses, or that would tilt over a hollow."""
    for piece in scene.lockup.block.pieces if scene.lockup.block else ():
        ways: list[_Remark | None] = []
        for sides in _faces_of(piece):
            found = None
            for side in sides:
                length, touching = scene.faces(piece, side)
                low, high = min((e.low for e in touching), default=length), max((e.high for e in touching), default=0)
                if not touching:
                    why = "Nothing touches it there, so the pressure stops and the piece lies loose."
                    found = _Remark(f"{side} face of {scene.named(piece)}", why, "Close the hole, or take it out.")
                elif not low - SLACK <= length / 2 <= high + SLACK:
                    why = "What presses it there lies all on one side of its middle, so it would tilt."
                    cure = "Move it, or use one piece that lies across the hollow."
                    found = _Remark(f"{side} face of {scene.named(piece)}", why, cure)
            ways.append(found)
        if all(ways):  # a square piece may be pressed either way
            yield ways[0]


# Metal furniture, leads and slugs may lie against type: they are cast to the same points and lie flush with it, and
# nothing wedges against them. So the block's outline stands here for the form, and what is inside it isn't asked.
@_rule(
    "metal against quoin or chase",
    "fault",
    "wood stands wherever a quoin or the chase would meet metal, type and each other included",
    COMMON,
)
def _metal(scene: _Scene) -> Iterator[_Remark]:
    why = "Metal slips on metal and bruises it; wood grips and gives a little."
    cure = "Put reglet or furniture between them."
    quoins = [item for item in scene.lockup.items if item.kind == "quoin"]
    for one, other in combinations((scene.lockup.form, *quoins), 2):
        if isinstance(one, Item) and isinstance(other, Item) and one.side == other.side:
            pattern = pattern_of(one, scene.shop.quoins)
            if pattern is not None and pattern.gap <= SLACK:
                continue  # these are made to stand end to end, where nothing presses
        across, up = _overlaps(one, other)
        if min(across, up) >= -SLACK and max(across, up) > SLACK:
            yield _Remark(f"{_name(one)} and {_name(other)}", why, cure, (one, other))
    chase = scene.lockup.chase
    for metal in (scene.lockup.form, *quoins):
        edges = (metal.x, metal.y, chase.width - metal.x - metal.width, chase.height - metal.y - metal.height)
        if min(edges) <= SLACK:
            yield _Remark(f"{_name(metal)} and the chase", why, cure, (metal,))


@_rule(
    "free ends",
    "fault",
    "no piece's end stands in the way of wood that moves as the quoins are tightened",
    f"{COMMON}; binding: {BINDING}",
)
def _free_ends(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        for mover, closing in scene.closes(side):
            for item in scene.lockup.items:
                if along_x(item.side) == along_x(side):
                    continue
                end = scene.lockup.seen_from(side, item)
                room = closing.near - end.far
                if -SLACK <= room < CLEAR - SLACK and _shared(closing, end) > SLACK:
                    left = f"only {_written(room)} is left" if room > SLACK else "no room is left"
                    yield _Remark(
                        f"end of {_name(item)}",
                        f"{_name(mover).capitalize()} moves toward it as the quoins are tightened, and {left}: "
                        "it would bind and take the squeeze from the type.",
                        f"Leave {_written(CLEAR)} or more: use a shorter piece, or let it run on past its other end.",
                        (item,),
                    )

    for piece in scene.lockup.block.pieces if scene.lockup.block else ():
        if piece.kind not in ("furniture", "reglet"):
            continue
        across: dict[Side, tuple[Side, Side]] = {"bottom": ("left", "right"), "left": ("bottom", "top")}
        ends = [across[faces[0]] for faces in _faces_of(piece)]
        # A square piece must have its room one way: the other way it is pressed.
        room = max(sum(_room_before(scene, piece, side) for side in sides) for sides in ends)
        if room < CLEAR - SLACK:
            left = f"only {_written(room)} is left" if room > SLACK else "no room is left"
            yield _Remark(
                f"ends of {scene.named(piece)}",
                f"It lies between what it might wedge apart, and {left}: it would take the squeeze from the type.",
                f"Leave {_written(CLEAR)} or more, both ends together: use a shorter piece.",
            )


@_rule("quoins on two sides that meet", "fault", "the quoins push the form into a solid corner", BOTH_WAYS)
def _quoin_sides(scene: _Scene) -> Iterator[_Remark]:
    sides = scene.lockup.quoin_sides
    if len(sides) == 2 and sides[0] != opposite(sides[1]):
        return
    yield _Remark(
        f"quoins on the {' and '.join(sides)}" if sides else "no quoins yet",
        "The form is pushed against two solid sides that meet, one each way; these quoins don't do that.",
        "Put quoins on two neighbouring sides and nowhere else, and fill the other two solid.",
    )


@_rule("quoin within its travel", "fault", "every quoin, finger-tight, has its reserve left for tightening", TRAVEL)
def _travel(scene: _Scene) -> Iterator[_Remark]:
    for item in scene.lockup.items:
        if item.kind != "quoin":
            continue
        quoin = pattern_of(item, scene.shop.quoins)
        if quoin is None:
            yield _Remark(
                _name(item),
                f"The shop has no quoin {_written(item.length)} long.",
                "Use one of the shop's quoins.",
                (item,),
            )
        elif remark := _opening(item, quoin):
            yield remark


def _opening(item: Item, quoin: Quoin) -> _Remark | None:
    opening = item.thickness - quoin.closed
    if opening < -SLACK:
        return _Remark(
            _name(item),
            f"The room is {_written(-opening)} less than the quoin takes up closed.",
            "Take out some wood.",
            (item,),
        )
    if opening > quoin.travel + SLACK:
        return _Remark(
            _name(item),
            f"It would have to open {_written(opening)}, and its travel ends at {_written(quoin.travel)}.",
            "Put in more wood.",
            (item,),
        )
    if opening > quoin.most_open + SLACK:
        return _Remark(
            _name(item),
            f"Finger-tight it is open {_written(opening)} of {_written(quoin.travel)}: less than its reserve of "
            f"{_written(quoin.reserve)} is left for tightening.",
            "Put in more wood, so that it starts thinner.",
            (item,),
        )
    return None


@_rule(
    "quoins in the middle third", "fault", "the push comes near the middle of the side, so both ends are held", MIDDLE
)
def _middle(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        row, length = scene.row(side), scene.lockup.side_length(side)
        middle = (min(extent.low for _, extent in row) + max(extent.high for _, extent in row)) / 2
        off = abs(middle - length / 2)
        if off > length / 6 + SLACK:
            yield _Remark(
                f"{side} quoins",
                f"Their middle is {_written(off)} from the middle of the side, outside its middle third: "
                "they would press one end and let the other go slack.",
                "Move the row toward the middle of the form's side.",
            )


@_rule("quoins on wood all along", "fault", "wood meets every quoin over its whole length, on both faces", COMMON)
def _borne(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        wood = [(item, extent) for item, extent in scene.seen(side) if item.kind != "quoin"]
        for quoin, row in scene.row(side):
            for face, touching in (
                ("inner", [extent for _, extent in wood if _meets(extent, row)]),
                ("outer", [extent for _, extent in wood if _meets(row, extent)]),
            ):
                bare = _bare_stretch(touching, row.low, row.high)
                if touching and bare > SLACK:
                    yield _Remark(
                        _name(quoin),
                        f"{_written(bare)} of its {face} face has no wood before it, so it would tilt and dig in.",
                        "Use a longer reglet there, or move it.",
                        (quoin,),
                    )


@_rule("room for a quoin", "fault", "every quoin side is long enough for its quoin", COMMON)
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
                    f"It is {_written(length)} long between the pieces that run past it: too short for a quoin of "
                    f"{_written(item.length)}.",
                    "Use a shorter quoin, let this side's pieces run through its corners, or build the form up.",
                )
                break


@_rule("what the cabinet holds", "fault", "the cabinet has every piece", COMMON)
def _cabinet(scene: _Scene) -> Iterator[_Remark]:
    there = _stock(scene.shop)
    for material, used in Counter(map(_rounded, scene.lockup.materials)).items():
        if used > there[material]:
            yield _Remark(
                _size(material),
                f"The lockup takes {used} of these; the cabinet holds {there[material]}.",
                "Make up the same thickness from other pieces.",
            )
    strips = {round(thickness, 2) for thickness in (*scene.shop.leads, *scene.shop.slugs)}
    for lead in scene.lockup.block.leads if scene.lockup.block else ():
        if round(lead.thickness, 2) not in strips:
            yield _Remark(
                scene.named(lead),
                f"The shop has no leads or slugs {write_length(lead.thickness)} thick.",
                "Make up the same thickness from those that it has.",
            )


@_rule("in its place", "fault", "the form stands where it was wanted, near enough", COMMON)
def _place(scene: _Scene) -> Iterator[_Remark]:
    form, intent = scene.lockup.form, scene.intent
    for off, more, less in ((form.x - intent.x, "far right", "far left"), (form.y - intent.y, "high", "low")):
        if abs(off) > intent.tolerance + SLACK:
            yield _Remark(
                "the form",
                f"It stands {_written(abs(off))} too {more if off > 0 else less}.",
                "Exchange pieces between the two opposite sides.",
            )


@_rule("true to size", "fault", "every piece takes up the room its size says", COMMON)
def _true(scene: _Scene) -> Iterator[_Remark]:
    for item in scene.lockup.items:
        written, drawn = [item.thickness, item.length], [item.height, item.width]
        if not along_x(item.side):
            drawn.reverse()
        if item.kind != "quoin":  # wood may lie turned; a quoin opens one way only
            written.sort()
            drawn.sort()
        if any(abs(one - other) > SLACK for one, other in zip(written, drawn, strict=True)):
            yield _Remark(
                _name(item),
                f"It takes up {_written(item.width)} × {_written(item.height)}, which isn't its size.",
                "Measure the piece again and write down what it is.",
                (item,),
            )
    if block := scene.lockup.block:
        for piece in block.pieces:
            written, drawn = sorted((piece.thickness, piece.length)), sorted((piece.width, piece.height))
            if any(abs(one - other) > SLACK for one, other in zip(written, drawn, strict=True)):
                yield _Remark(
                    scene.named(piece),
                    f"It takes up {_written(piece.width)} × {_written(piece.height)}, which isn't its size.",
                    "Measure the piece again and write down what it is.",
                )
        empty = -min(_beyond(block.outline, scene.lockup.form)) if block.content else scene.lockup.form.width
        if empty > SLACK:
            yield _Remark(
                "the block",
                f"What is in it ends {_written(empty)} inside its edge.",
                "Measure the block again, and reckon the lockup for the size that it has.",
            )


# --- cautions ---------------------------------------------------------------------------------------------


@_rule("longer outward", "caution", "shorter furniture lies nearer the form, longer furniture outside it", COMMON)
def _longer_outward(scene: _Scene) -> Iterator[_Remark]:
    for side in SIDES:
        furniture = [item for item, _ in scene.seen(side) if item.kind == "furniture"]
        for inner, outer in pairwise(furniture):
            if outer.length < inner.length - SLACK:
                yield _Remark(
                    _name(outer),
                    f"It is shorter than {_name(inner)} inside it, whose ends are left without support.",
                    "Change them round: shorter pieces nearer the form.",
                    (outer,),
                )


@_rule(
    "reglet against a quoin",
    "caution",
    "a quoin bears on reglet, unless the shop's file lets it bear on any wood",
    COMMON,
)
def _bare(scene: _Scene) -> Iterator[_Remark]:
    for side in scene.lockup.quoin_sides:
        for quoin, row in scene.row(side):
            pattern = pattern_of(quoin, scene.shop.quoins)
            if pattern is not None and pattern.bears_on == "any wood":
                continue
            for item, extent in scene.seen(side):
                if item.kind == "furniture" and (_meets(extent, row) or _meets(row, extent)):
                    yield _Remark(
                        f"{_name(quoin)} and {_name(item)}",
                        "A quoin bruises the furniture it bears on; a reglet is cheaper to lose.",
                        "Put a reglet between them.",
                        (quoin, item),
                    )


@_rule("ends that rub", "caution", "what moves as the quoins are tightened touches nothing with its ends", RUBBING)
def _rubbing(scene: _Scene) -> Iterator[_Remark]:
    moving = {id(item) for side in scene.lockup.quoin_sides for item, _ in scene.closes(side)}
    for side in scene.lockup.quoin_sides:
        closing = [(item, extent) for item, extent in scene.closes(side) if item.kind != "quoin"]
        low, high = _rails(scene.lockup, side)
        for item, own in closing:
            touched = ["the chase"] * (min(abs(own.low - low), abs(own.high - high)) <= SLACK)
            for other in scene.lockup.items:
                if id(other) in moving:
                    continue  # what closes on an end has a rule of its own
                there = scene.lockup.seen_from(side, other)
                beside = min(own.far, there.far) - max(own.near, there.near) > SLACK
                if beside and min(abs(there.high - own.low), abs(there.low - own.high)) <= SLACK:
                    touched.append(_name(other))
            for what in touched:
                yield _Remark(
                    f"end of {_name(item)}",
                    f"It touches {what}. As the quoins are tightened it must slide along that, and what rubs off the "
                    "push never reaches the form.",
                    "Leave a little room.",
                    (item,),
                )


@_rule("fewest pieces", "caution", "no side could be filled with fewer pieces", FEWEST)
def _fewest(scene: _Scene) -> Iterator[_Remark]:
    used = Counter(map(_rounded, scene.lockup.materials))
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
            if material.kind == "metal":
                continue  # that lies inside blocks only
            if min(lengths) - SLACK <= material.length <= max(lengths) + SLACK if lengths else False:
                thicknesses[round(material.thickness * 100)] += min(count, MOST_OF_ONE_SIZE)
        better = fewest_pieces(sum(round(item.thickness * 100) for item in inner), thicknesses) if inner else None
        if better and len(better) < len(inner):
            yield _Remark(
                f"{side} side",
                f"{len(inner)} pieces lie where {len(better)} would do: every joint gives a little and can slip.",
                f"Use {' + '.join(_written(size / 100) for size in better)} instead.",
            )


# --- small geometry ---------------------------------------------------------------------------------------


def _overlaps(one: Rectangle, other: Rectangle) -> tuple[float, float]:
    """Return how far two rectangles overlap in x and in y; negative where they stand apart."""
    return (
        min(one.x + one.width, other.x + other.width) - max(one.x, other.x),
        min(one.y + one.height, other.y + other.height) - max(one.y, other.y),
    )


def _beyond(one: Rectangle | Filling, outline: Rectangle) -> tuple[float, float, float, float]:
    """Return how far a rectangle reaches beyond an outline at left, foot, right and head; less than 0 if short."""
    return (
        outline.x - one.x,
        outline.y - one.y,
        one.x + one.width - outline.x - outline.width,
        one.y + one.height - outline.y - outline.height,
    )


def _turned_to(side: Side, one: PlacedForm | Filling, other: PlacedForm | Filling) -> Extent:
    """Return where another rectangle lies as one looks out of one side of a rectangle; ``near`` and ``far`` outward."""
    if along_x(side):
        low, high = other.x - one.x, other.x + other.width - one.x
    else:
        low, high = other.y - one.y, other.y + other.height - one.y
    left, foot, right, head = _beyond(other, one)
    far = {"left": left, "bottom": foot, "right": right, "top": head}[side]
    return Extent(low, high, far - (other.height if along_x(side) else other.width), far)


def _rails(lockup: Lockup, side: Side) -> tuple[float, float]:
    """Return where the two rails at the ends of a side lie, as one stands at it."""
    form, chase = lockup.form, lockup.chase
    return (-form.x, chase.width - form.x) if along_x(side) else (-form.y, chase.height - form.y)


def _faces_of(piece: Filling) -> list[tuple[Side, Side]]:
    """Return the two long faces of a piece; a square one has two such pairs."""
    up: tuple[Side, Side] = ("bottom", "top")
    across: tuple[Side, Side] = ("left", "right")
    if abs(piece.width - piece.height) <= SLACK:
        return [up, across]
    return [up] if piece.width > piece.height else [across]


def _room_before(scene: _Scene, piece: Filling, side: Side) -> float:
    """Return how far one end of a piece is from the next thing in its block, or from the block's edge."""
    there = [_turned_to(side, piece, other) for other in scene.inside if other is not piece]
    size = piece.width if along_x(side) else piece.height
    before = [e.near for e in there if e.near > -SLACK and min(e.high, size) - max(e.low, 0.0) > SLACK]
    return max(0.0, min([*before, _turned_to(side, piece, scene.lockup.form).far]))


def _shared(one: Extent, other: Extent) -> float:
    """Return how much of the side two extents share."""
    return min(one.high, other.high) - max(one.low, other.low)


def _bare_stretch(wood: Sequence[Extent], low: float, high: float) -> float:
    """Return the longest stretch from low to high that no wood covers."""
    reached, bare = low, 0.0
    for start, stop in sorted((extent.low, extent.high) for extent in wood):
        bare, reached = max(bare, min(start, high) - reached), max(reached, stop)
    return max(bare, high - reached)


def _meets(inner: Extent, outer: Extent) -> bool:
    """Say whether the inner one's far face touches the outer one's near face."""
    return abs(inner.far - outer.near) <= SLACK and _shared(inner, outer) > SLACK


def _rounded(material: Material) -> Material:
    """Return the size to the hundredth of a point, so that sizes read from two files compare."""
    return Material(material.kind, round(material.thickness, 2), round(material.length, 2))


def _stock(shop: Shop) -> Counter[Material]:
    there: Counter[Material] = Counter()
    for material, count in (*shop.stock.items(), *shop.metal.items()):
        there[_rounded(material)] += count
    return there


def _written(points: float) -> str:
    """Write a distance as finely as anyone can set wood."""
    return write_length(round(points, 1))


def _size(material: Material) -> str:
    return f"{material.kind} {write_length(material.thickness)} × {write_length(material.length)}"


def _name(rectangle: Rectangle) -> str:
    if not isinstance(rectangle, Item):
        return "the form"
    if rectangle.kind == "quoin":
        return f"{rectangle.side} quoin"
    return f"{rectangle.side} {rectangle.order}, {_size(rectangle.material)}"
