"""The questions of lesson 3: filling a gap, a scarce cabinet, a piece that binds, and moving the form.

A lockup is right if ``judge`` finds no fault in it, whoever made it and however it is made.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any

from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing import PlanView
from stonework.drawing.picture import Picture
from stonework.drawing.words import in_picas
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Misreading, Variant, of_lesson
from stonework.form import Form
from stonework.laying import Bench, Lean
from stonework.lockup import SIDES, SLACK, Item, Lockup, Side, along_x, lay, pattern_of
from stonework.readiness import in_words
from stonework.rules import Finding, judge, rules
from stonework.saying import shown
from stonework.shop import Chase, Material, Shop
from stonework.stacking import fewest_pieces
from stonework.units import PICA, read_length, write_length

_GRID = 100  # hundredths of a point, in which stacks are reckoned

LESSON, VERSION = "03-choose-furniture-and-reglet", 3


# --- how such answers are read -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Stack:
    """Thicknesses from the form outward, such as ``5 + 4 + 6 pt``; a bare number is picas."""

    label: str = "Thicknesses, joined by +"

    def read(self, text: str) -> tuple[float, ...]:
        """Return the thicknesses in points."""
        parts = [part.strip() for part in re.split(r"\+|;", text)]
        if not all(parts):
            raise ValueError(f"“{shown(text)}” has a + with nothing beside it; write thicknesses like 5 + 4 + 6 pt.")
        # In “8 × 20” the length is given too, as the lesson writes pieces; the question has told it already.
        thick = [re.split("[×x*]", part)[0].strip() for part in parts]
        bare = re.compile(r"[\d.,/¼½¾ ]+")
        return tuple(read_length(f"{one} picas" if bare.fullmatch(one) else one) for one in thick)

    def alike(self, one: tuple[float, ...], other: tuple[float, ...]) -> bool:
        """Say whether two stacks are equally thick."""
        return abs(sum(one) - sum(other)) <= SLACK

    def say(self, value: tuple[float, ...]) -> str:
        """Return the thicknesses and what they come to."""
        each = " + ".join(map(write_length, value))
        return each if len(value) == 1 else f"{each}, together {write_length(sum(value))}"


@dataclass(frozen=True, slots=True)
class PieceNumber:
    """The number of a piece in the picture."""

    most: int
    label: str = "Number of the piece"

    def read(self, text: str) -> int:
        """Return the number."""
        plain = text.strip().lower().removeprefix("no.").removeprefix("piece").strip()
        if not (plain.isdecimal() and 1 <= int(plain) <= self.most):
            raise ValueError(f"“{shown(text)}” isn't the number of a piece; the pieces are numbered 1 to {self.most}.")
        return int(plain)

    def alike(self, one: int, other: int) -> bool:
        """Say whether it is the same piece."""
        return one == other

    def say(self, value: int) -> str:
        """Return the piece's number."""
        return f"piece {value}"


@dataclass(frozen=True)
class OnTheStone:
    """A lockup, written as its record; judged for one place of the form."""

    shop: Shop
    target: tuple[float, float]
    tolerance: float
    solid: tuple[Side, Side] = ("bottom", "left")
    label: str = "What lies on the stone"

    def read(self, text: str) -> Lockup:
        """Return the lockup."""
        try:
            return Lockup.from_dict(json.loads(text))
        except (ValueError, RecursionError) as error:
            raise ValueError(f"What was kept of this lockup can't be read: {error}") from error

    def faults(self, lockup: Lockup) -> list[Finding]:
        """Return what the judge finds wrong with it."""
        found = judge(lockup, self.shop, target=self.target, tolerance=self.tolerance)
        return [finding for finding in found if finding.severity == "fault"]

    def alike(self, one: Lockup, other: Lockup) -> bool:
        """Say whether the same is wrong with both first of all, and the form stands in the same place."""
        (rule, *_), (other_rule, *_) = ([*(f.rule for f in self.faults(lockup)), ""] for lockup in (one, other))
        off = max(abs(one.form.x - other.form.x), abs(one.form.y - other.form.y))
        return rule == other_rule and off <= SLACK

    def say(self, value: Lockup) -> str:
        """Return how much lies there."""
        wood, quoins = len(value.wood), len(value.items) - len(value.wood)
        return f"{_counted(wood, 'piece')} of wood and {_counted(quoins, 'quoin')}"

    def sound(self, lockup: Lockup) -> str:
        """Return the first thing wrong, in sentences; nothing if it would hold."""
        wrong = [side for side in lockup.quoin_sides if side in self.solid]
        if wrong:
            return f"Quoins lie on the {' and '.join(wrong)}. {' and '.join(self.solid).capitalize()} are to be solid."
        faults = self.faults(lockup)
        return in_words(faults[0]) if faults else ""

    def slip(self, lockup: Lockup) -> str:
        """Return the first rule that it breaks; nothing if it would hold."""
        if set(lockup.quoin_sides) & set(self.solid):
            return _ON_SOLID
        faults = self.faults(lockup)
        return _BROKEN.format(faults[0].rule) if faults else ""

    def remark(self, lockup: Lockup) -> str:
        """Return what a good hand would do better."""
        found = judge(lockup, self.shop, target=self.target, tolerance=self.tolerance)
        return f"A good hand would look once more: {in_words(found[0])}" if found else ""


_ON_SOLID, _BROKEN = "laid quoins on a solid side", "broke the rule “{}”"


def lockup_slips() -> set[str]:
    """Return every slip that a lockup can be said to have, beside the misreadings of its question."""
    return {_ON_SOLID, *(_BROKEN.format(rule.name) for rule in rules())}


def record(lockup: Lockup) -> str:
    """Return a lockup as an answer is kept."""
    return json.dumps(replace(lockup, intent=None).to_dict(), ensure_ascii=False)


# --- which furniture -----------------------------------------------------------------------------------------


def _which_furniture(numbers: Numbers, shop: Shop) -> Variant | None:
    form = Form(PICA * numbers.whole(18, 34), PICA * numbers.whole(12, 24))
    lockup = _plan(form, numbers.one_of(shop.chases), shop)
    if lockup is None or lockup.gap("bottom") % PICA < 1 or PICA - lockup.gap("bottom") % PICA < 1:
        return None  # no odd points
    gap, lying = lockup.gap("bottom"), [item for item in lockup.on("bottom") if item.kind == "furniture"]
    if not lying:
        return None
    length = lying[-1].length
    offered = [m for m, count in shop.stock.items() if count and abs(m.length - length) <= SLACK]
    reader = Stack()
    reckoned = OnTheStone(shop, (lockup.form.x, lockup.form.y), SLACK)

    def filled(stack: tuple[float, ...]) -> Lockup:
        pieces = [_of_thickness(thickness, offered) for thickness in stack]
        nears = accumulate((piece.thickness for piece in pieces if piece), initial=0.0)
        low = lockup.seen_from("bottom", lying[-1]).low
        items = [
            lay(lockup.form, "bottom", n, m.kind, thickness=m.thickness, length=m.length, low=low, near=near)
            for n, (m, near) in enumerate(zip(filter(None, pieces), nears, strict=False), 1)
        ]
        return replace(lockup, items=(*items, *(item for item in lockup.items if item.side != "bottom")))

    def sound(stack: tuple[float, ...]) -> str:
        for thickness in stack:
            if _of_thickness(thickness, offered) is None:
                return f"There is no piece {write_length(thickness)} thick: there is {_in_the_cabinet(offered)}."
        over = sum(stack) - gap
        if abs(over) > SLACK:
            return f"That is {write_length(abs(over))} {'more' if over > 0 else 'less'} than the gap."
        return reckoned.sound(filled(stack))

    def stack_of(total: float) -> str:
        counts = {round(m.thickness * _GRID): shop.stock[m] for m in offered}
        return _written(piece / _GRID for piece in fewest_pieces(round(total * _GRID), counts) or ())

    picas, odd = gap // PICA * PICA, gap % PICA
    right, beside, whole = stack_of(gap), stack_of(lockup.gap("left")), stack_of(picas)
    if not (right and beside):
        return None
    thinnest = min(reader.read(right))
    roads = [
        Misreading(
            beside, "That would fill the gap at the left. The question asks for the foot.", "filled the gap at the left"
        )
    ]
    if whole:
        open_still = f"That fills the whole picas and leaves {write_length(odd)} open: the form would slide. A thin "
        roads.append(Misreading(whole, f"{open_still}reglet fills it.", "left the odd points open"))
    elif thinnest < gap:
        rest = _written(sorted(reader.read(right), reverse=True)[:-1])
        leaves = f"That leaves {write_length(thinnest)} open: the form would slide. One thin piece fills it."
        roads.append(Misreading(rest, leaves, "left the odd points open"))
    if odd == round(odd) and (as_picas := stack_of(picas + odd * PICA)):
        takes = f"That takes the {odd:g} points of the gap for {odd:g} picas. Write pt behind what is points."
        roads.append(Misreading(as_picas, takes, "took points for picas"))
    only_reglet = all(m.thickness % PICA == 0 for m in offered if m.kind == "furniture")
    return Variant(
        task=f"A form {_size(form)} lies in the {lockup.chase.name} chase. The gap at its foot, a solid side, is "
        f"{write_length(gap)}. The cabinet has {_in_the_cabinet(offered)}, all {write_length(length)} long. Which "
        "fill the gap? Write thicknesses from the form outward: a bare number is picas, as in 5 + 4 + 6 pt.",
        reader=reader,
        right=right,
        why="On a solid side nothing is left over and nothing is squeezed in. Any stack that adds up will hold.",
        hints=(
            "Take the largest piece that goes in. Then look at what is left, and do the same again.",
            "The odd points can only come from reglet: the furniture is whole picas."
            if only_reglet
            else "Not all of these pieces are whole picas. Which of them bring the odd points?",
        ),
        solution=f"One way: {right}. Other pieces that come to {write_length(gap)} do as well; the fewer joints, "
        "the firmer.",
        misreadings=tuple(roads),
        sound=sound,
        remark=lambda stack: reckoned.remark(filled(stack)),
        facts={"width": form.width, "height": form.height, "gap": gap},
    )


# --- a scarce cabinet ----------------------------------------------------------------------------------------


def _scarce_cabinet(numbers: Numbers, shop: Shop) -> Variant | None:
    chase = min(shop.chases, key=lambda chase: chase.width * chase.height)
    form = Form(PICA * numbers.whole(14, 22), PICA * numbers.whole(8, 12))
    usual = _plan(form, chase, shop)
    if usual is None:
        return None
    wanted = [item for item in usual.wood if item.kind == "furniture"]
    gone = {item.thickness for item in (numbers.one_of(wanted), numbers.one_of(wanted))} if wanted else set()
    short = {material.length for material in shop.stock if material.length <= 30 * PICA}
    fives = {length for length in short if length % (5 * PICA) == 0}
    stock = {
        material: min(count, 2 if material.kind == "furniture" else 3)
        for material, count in shop.stock.items()
        if material.length in (fives if len(fives) > 3 else short) and material.thickness not in gone
    }
    scarce = replace(shop, stock=stock, metal={}, strips={}, leads=(), slugs=())
    plan = _plan(form, chase, scarce)
    if plan is None:
        return None

    def start() -> Bench:
        return Bench(form, chase, scarce)

    def laid(lockup: Lockup) -> Bench:
        bench = start()
        bench.finish(lockup)
        return bench

    wish = start().wish
    reader = OnTheStone(scarce, (wish.x, wish.y), wish.tolerance)
    by_hand, open_foot = start(), laid(plan)
    open_foot.take_off("bottom")
    _lay_by_hand(by_hand, plan)
    if reader.faults(by_hand.lockup()):
        return None  # a plan that needs finer placing than a hand can tell the bench
    missing = f"no furniture {_listed(gone, 'or')} thick" if gone else "little"
    tight = write_length(round(start().lockup().gap("bottom"), 1))
    return Variant(
        task=f"An evening class has been at the cabinet: there is {missing}, no more than two of any furniture and "
        f"three of any reglet, and nothing of metal. Lock up a form {_size(form)} in the {chase.name} chase, bottom "
        "and left solid, with what is left.",
        reader=reader,
        right=record(by_hand.lockup()),
        why="A cabinet is never full. Whoever can make a gap up in a second way need not wait for a stick.",
        hints=(
            f"Begin with the two solid sides. Below the form there are about {tight}; the form may stand six points "
            "higher or lower. Which pieces that are left come to that?",
            "Then the quoin sides: wood, reglet, quoins, reglet. Keep two reglets for each before you use them up.",
        ),
        solution=_listing(by_hand, by_hand.lockup()),
        misreadings=(
            Misreading(
                record(laid(usual).lockup()),
                "That takes pieces the cabinet doesn't have any more. Look at what is left, and make the gap up of "
                "others.",
                "took pieces that are gone",
            ),
            Misreading(
                record(open_foot.lockup()),
                "There is still a gap at the foot: the quoins would push the form into nothing.",
                "left a gap at the foot",
            ),
        ),
        sound=reader.sound,
        remark=reader.remark,
        slip=reader.slip,
        start=start,
        facts={"width": form.width, "height": form.height},
    )


# --- the piece that binds ------------------------------------------------------------------------------------

_AIR = 6.0  # more than the three points that are enough, so that an eye can tell them from none


def _which_piece_binds(numbers: Numbers, shop: Shop) -> Variant | None:
    form = Form(PICA * numbers.whole(16, 34), PICA * numbers.whole(10, 24))
    lockup = _plan(form, numbers.one_of(shop.chases), shop, clear=_AIR)
    if lockup is None:
        return None
    bound = list(_bound(lockup, shop))
    if not bound:
        return None
    spoilt, piece, blocker = numbers.one_of(bound)
    order = spoilt.placing_order()
    right, against = order.index(piece) + 1, order.index(blocker) + 1
    longest = order.index(max(spoilt.wood, key=lambda item: (item.length, item is not piece))) + 1
    if longest in (right, against):
        return None

    def sound(number: int) -> str:
        if number == right:
            return ""
        if order[number - 1].kind == "quoin":
            return "That is a quoin. What binds is the end of a piece of wood."
        return f"Look at both ends of piece {number}: each has air before it, or runs on where nothing moves toward it."

    def picture(name: str) -> Picture:
        view = PlanView(name)
        view.draw(spoilt, shop)
        view.words += " " + _room_before_ends(spoilt)
        return view

    return Variant(
        task="One piece in this lockup would bind. Find it in the picture, and give its number.",
        reader=PieceNumber(len(order)),
        right=str(right),
        why="Its end would take the squeeze that is meant for the type. To the key it feels tight, and the form drops "
        "out.",
        hints=(
            "Follow each piece to where it stops at a corner. Before its end there should be air.",
            "Only the wood on the quoin sides moves. Look for an end that stands in its way. The picture in words "
            "lists the room before each end.",
        ),
        solution=f"Piece {right}, on the {piece.side}: its end touches piece {against}, which moves as the quoins are "
        "tightened. Moved six points along, it would be free.",
        misreadings=(
            Misreading(
                str(against),
                "You have the right corner. But this piece only meets the other's end with its side; what binds is "
                "the piece whose end stands in the way.",
                "named the piece it touches",
            ),
            Misreading(
                str(longest),
                "That is the longest piece. Length alone doesn't bind: it runs on where nothing stands in its way.",
                "named the longest piece",
            ),
        ),
        picture=picture,
        sound=sound,
        facts={"width": form.width, "height": form.height},
    )


def _bound(lockup: Lockup, shop: Shop) -> Iterator[tuple[Lockup, Item, Item]]:
    """Yield the lockup with one piece pushed against another so that it binds, with that piece and the other."""
    for item in lockup.wood:
        for step in (_AIR, -_AIR):
            upright = item.side in ("left", "right")
            moved = replace(item, x=item.x + step * (not upright), y=item.y + step * upright)
            spoilt = replace(lockup, items=tuple(moved if one is item else one for one in lockup.items))
            faults = [finding for finding in judge(spoilt, shop) if finding.severity == "fault"]
            touched = [one for one in spoilt.items if one.side != moved.side and _touch(one, moved)]
            found = {(finding.rule, finding.items) for finding in faults}
            if found == {("free ends", (moved,))} and len(touched) == 1:
                yield spoilt, moved, touched[0]


def _touch(one: Item, other: Item) -> bool:
    return (
        one.x <= other.x + other.width + SLACK
        and other.x <= one.x + one.width + SLACK
        and one.y <= other.y + other.height + SLACK
        and other.y <= one.y + one.height + SLACK
    )


def _room_before_ends(lockup: Lockup) -> str:
    """Say for every piece that stops near another how much room is left before its end."""
    told = []
    for number, item in enumerate(lockup.placing_order(), 1):
        if item.kind == "quoin":
            continue
        rooms = [room for other in lockup.items if (room := _room(item, other)) is not None and room <= PICA]
        if rooms:
            room = write_length(round(min(rooms), 1)) if min(rooms) > SLACK else "nothing"
            told.append(f"piece {number}, {room}")
    return f"Room before the ends that stop near another piece: {'; '.join(told)}."


def _room(item: Item, other: Item) -> float | None:
    """Return how far another side's piece lies beyond an item's end, in points; ``None`` if it lies elsewhere."""
    if (other.side in ("left", "right")) == (item.side in ("left", "right")):
        return None
    a, b = (item.y, item.height), (other.y, other.height)
    across, other_across = (item.x, item.width), (other.x, other.width)
    if item.side in ("bottom", "top"):
        (a, b), (across, other_across) = (across, other_across), (a, b)
    if min(sum(across), sum(other_across)) - max(across[0], other_across[0]) <= SLACK:
        return None
    return max(b[0] - sum(a), a[0] - sum(b))


# --- three points to the left --------------------------------------------------------------------------------

_STRIP = 3.0


def _three_points_left(numbers: Numbers, shop: Shop) -> Variant | None:
    form = Form(PICA * numbers.whole(16, 28), PICA * numbers.whole(10, 18))
    chase = numbers.one_of(shop.chases)
    if not any(abs(m.thickness - 2 * _STRIP) <= SLACK for m in shop.stock if m.kind == "reglet"):
        return None
    reglet = {m.length for m in shop.stock if m.kind == "reglet"}
    more = {Material("reglet", _STRIP, length): 4 for length in reglet}
    stocked = replace(shop, stock={**shop.stock, **more})
    usual = _plan(form, chase, shop)
    if usual is None:
        return None
    # The fewest pieces seldom have a reglet among them; where the form must stand a reglet further off they do.
    places = ((usual.form.x + off, usual.form.y) for off in (0.0, 2 * _STRIP, -2 * _STRIP))
    plans = (_plan(form, chase, shop, target=place, tolerance=1.0) for place in places)
    plan = next((plan for plan in plans if plan and _with_reglet(plan)), None)
    if plan is None:
        return None
    target = (plan.form.x - _STRIP, plan.form.y)

    def start() -> Bench:
        bench = Bench(form, chase, stocked, target=target)
        bench.finish(plan)
        return bench

    reader = OnTheStone(stocked, target, 0.5)
    moved, wrong_way = start(), start()
    _exchange(moved, "left", 2 * _STRIP, _STRIP)
    gives = "The quoins on the right open three points more."
    if reader.faults(moved.lockup()):
        gives = "On the right the quoins have no travel left for it: there a strip goes in as well."
        _put_inside_quoins(moved, "right", _STRIP)
    outermost = plan.on("left")[-1]
    length = next(length for length in sorted(reglet) if length >= outermost.length - SLACK)
    wrong_way.lay("left", Material("reglet", _STRIP, length), "high")
    return Variant(
        task=f"This form stands {write_length(round(plan.form.x, 1))} from the left of the {chase.name} chase. The "
        "proof wants it three points further left. Exchange pieces until it stands there and would hold. The cabinet "
        "has strips of 3 pt too, in the lengths of its reglet.",
        reader=reader,
        right=record(moved.lockup()),
        why="To move a form is to exchange wood between opposite sides. On the solid side the pieces decide where it "
        "stands; on the other the quoins give way, while their travel lasts.",
        hints=(
            "The left is a solid side: the form stands where its pieces end. They must come to three points less.",
            "A reglet of 6 points lies on the left. Take off what lies outside it, take it off, and lay a strip of 3 "
            "in its place. Then look whether the quoins on the right still open within their travel.",
        ),
        solution="On the left a 3 pt strip takes the place of the 6 pt reglet, so the form slides three points left. "
        f"{gives} {_listing(moved, moved.lockup())}",
        misreadings=(
            Misreading(
                record(start().lockup()),
                "Nothing has moved yet: the form stands where it stood.",
                "moved nothing",
            ),
            Misreading(
                record(wrong_way.lockup()),
                "That moves the form to the right: more wood on the left pushes it away from the left.",
                "moved it the wrong way",
            ),
        ),
        sound=reader.sound,
        remark=reader.remark,
        slip=reader.slip,
        start=start,
        facts={"width": form.width, "height": form.height},
    )


def _with_reglet(plan: Lockup) -> bool:
    return any(item.kind == "reglet" and abs(item.thickness - 2 * _STRIP) <= SLACK for item in plan.on("left"))


def _exchange(bench: Bench, side: Side, old: float, new: float) -> None:
    """Take the pieces off a side down to one of thickness ``old``, and lay them again with ``new`` in its place."""
    off = []
    while (layer := bench.take_off(side)) is not None:
        off.append(layer)
        if abs(layer.thickness - old) <= SLACK:
            break
    *outer, last = off
    for layer in (replace(last, thickness=new), *reversed(outer)):
        bench.put(side, layer)


def _put_inside_quoins(bench: Bench, side: Side, thickness: float) -> None:
    """Lay one strip inside a side's row of quoins, as long as the reglet outside it and in line with it."""
    off = []
    while (layer := bench.take_off(side)) is not None:
        off.append(layer)
        if layer.kind == "quoin":
            break
    bench.put(side, replace(off[0], thickness=thickness))
    for layer in reversed(off):
        bench.put(side, layer)


# --- what several share --------------------------------------------------------------------------------------


def _plan(form: Form, chase: Chase, shop: Shop, **options: Any) -> Lockup | None:
    try:
        return choose_lockup(form, chase, shop, **options)
    except NoLockup:
        return None


def _size(form: Form) -> str:
    return f"{write_length(form.width)} wide and {write_length(form.height)} high"


def _listed(thicknesses: Iterable[float], joined: str = "and") -> str:
    *most, last = (write_length(thickness) for thickness in sorted(thicknesses))
    return f"{', '.join(most)} {joined} {last}" if most else last


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _written(stack: Iterable[float]) -> str:
    """Return thicknesses as a student writes them: whole picas bare, else points, or picas and points."""
    return " + ".join(
        f"{piece / PICA:g}" if piece % PICA == 0 else f"{piece:g} pt" if piece % 1 == 0 else write_length(piece)
        for piece in stack
    )


def _of_thickness(thickness: float, materials: Iterable[Material]) -> Material | None:
    return next((m for m in materials if abs(m.thickness - thickness) <= SLACK), None)


def _in_the_cabinet(materials: Iterable[Material]) -> str:
    """Say which thicknesses there are: furniture in picas, reglet in points."""
    furniture = sorted({m.thickness for m in materials if m.kind == "furniture"})
    reglet = sorted({m.thickness for m in materials if m.kind == "reglet"})
    told = [f"furniture of {', '.join(map(write_length, furniture))}"] if furniture else []
    told += [f"reglet of {' and '.join(map(write_length, reglet))}"] if reglet else []
    return " and ".join(told)


def _lay_by_hand(bench: Bench, plan: Lockup) -> None:
    """Lay a plan piece by piece, each leaning as a hand would lay it."""
    bench.clear()
    for side in SIDES:
        for first, *others in plan.layers(side):
            lean = bench.lean(side, plan.seen_from(side, first).low, sum(item.length for item in (first, *others)))
            if first.kind == "quoin":
                bench.lay_quoins(side, pattern_of(first, bench.shop.quoins), 1 + len(others))
            elif others:
                bench.lay_ends(side, first.material, others[0].material, lean)
            else:
                bench.lay(side, first.material, lean)


def _listing(bench: Bench, plan: Lockup) -> str:
    """Say what lies on each side, from the form outward, and toward which end."""
    told = []
    for side in SIDES:
        ends = ("left", "right") if along_x(side) else ("foot", "head")
        toward: dict[Lean, str] = {"middle": "the middle", "low": f"the {ends[0]}", "high": f"the {ends[1]}"}
        pieces, last = [], ""
        for layer in plan.layers(side):
            item, *others = layer
            if item.kind == "quoin":
                pieces.append("the quoins")
                continue
            lean = toward[bench.lean(side, plan.seen_from(side, item).low, sum(one.length for one in layer))]
            what = f"{item.kind} {in_picas(item.thickness)} × {in_picas(item.length)}"
            if others:
                what += f" and {in_picas(others[0].length)} end to end"
            pieces.append(what if lean == last else f"{what} toward {lean}")
            last = lean
        told.append(f"{side.capitalize()}: {', '.join(pieces)}.")
    return f"One way, from the form outward, sizes in picas; “toward” stays as it is until it changes. {' '.join(told)}"


FURNISHING = of_lesson(
    LESSON,
    VERSION,
    ("which-furniture", "Which furniture?", _which_furniture),
    ("scarce-cabinet", "A scarce cabinet", _scarce_cabinet),
    ("which-piece-binds", "Which piece binds?", _which_piece_binds),
    ("three-points-left", "Three points to the left", _three_points_left),
)
