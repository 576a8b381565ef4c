"""Rules for what happens as the quoins are tightened: what moves, what binds, and whether all rests in balance."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from stonework.lockup import CLEAR, SIDES, SLACK, Item, Side, along_x, opposite, pattern_of
from stonework.rules.balance import Balance, balance
from stonework.rules.geometry import bare_stretch, faces_of, meets, name_of, overlaps, room_before, shared, written
from stonework.rules.lying import gap_on
from stonework.rules.rule import BINDING, BOTH_WAYS, COMMON, STATICS, TRAVEL, Push, Remark, rule
from stonework.rules.scene import Scene
from stonework.shop import Quoin

# Metal furniture, leads and slugs may lie against type: they are cast to the same points and lie flush with it, and
# nothing wedges against them. So the block's outline stands here for the form, and what is inside it isn't asked.
_WOODEN = ("furniture", "reglet")


@rule(
    "metal against quoin or chase",
    "fault",
    "wood stands wherever a quoin or the chase would meet metal, type and each other included",
    COMMON,
)
def _metal(scene: Scene) -> Iterator[Remark]:
    why = "Metal slips on metal and bruises it; wood grips and gives a little."
    cure = "Put reglet or furniture between them."
    quoins = [item for item in scene.lockup.items if item.kind == "quoin"]
    for one, other in combinations((scene.lockup.form, *quoins), 2):
        if isinstance(one, Item) and isinstance(other, Item) and one.side == other.side:
            pattern = pattern_of(one, scene.shop.quoins)
            if pattern is not None and pattern.gap <= SLACK:
                continue  # these are made to stand end to end, where nothing presses
        across, up = overlaps(one, other)
        if min(across, up) >= -SLACK and max(across, up) > SLACK:
            yield Remark(f"{name_of(one)} and {name_of(other)}", why, cure, (one, other))
    for metal in scene.lockup.items:
        if metal.kind in ("metal", "lead"):
            for quoin in quoins:
                across, up = overlaps(metal, quoin)
                if min(across, up) >= -SLACK and max(across, up) > SLACK:
                    yield Remark(f"{name_of(metal)} and {name_of(quoin)}", why, cure, (metal, quoin))
    chase = scene.lockup.chase
    for metal in (scene.lockup.form, *(item for item in scene.lockup.items if item.kind not in _WOODEN)):
        edges = (metal.x, metal.y, chase.width - metal.x - metal.width, chase.height - metal.y - metal.height)
        if min(edges) <= SLACK:
            yield Remark(f"{name_of(metal)} and the chase", why, cure, (metal,))


@rule(
    "free ends",
    "fault",
    "no piece's end stands in the way of wood that moves as the quoins are tightened",
    f"{COMMON}; binding: {BINDING}",
)
def _free_ends(scene: Scene) -> Iterator[Remark]:
    for side in scene.lockup.quoin_sides:
        for mover, closing in scene.closes(side):
            for item in scene.lockup.items:
                if along_x(item.side) == along_x(side):
                    continue
                end = scene.lockup.seen_from(side, item)
                room = closing.near - end.far
                if -SLACK <= room < CLEAR - SLACK and shared(closing, end) > SLACK:
                    left = f"only {written(room)} is left" if room > SLACK else "no room is left"
                    yield Remark(
                        f"end of {name_of(item)}",
                        f"{name_of(mover).capitalize()} moves toward it as the quoins are tightened, and {left}: "
                        "it would bind and take the squeeze from the type.",
                        f"Leave {written(CLEAR)} or more: use a shorter piece, or let it run on past its other end.",
                        (item,),
                    )

    for piece in scene.lockup.block.pieces if scene.lockup.block else ():
        if piece.kind not in ("furniture", "reglet"):
            continue
        across: dict[Side, tuple[Side, Side]] = {"bottom": ("left", "right"), "left": ("bottom", "top")}
        ends = [across[faces[0]] for faces in faces_of(piece)]
        # A square piece must have its room one way: the other way it is pressed.
        room = max(sum(room_before(scene.inside, scene.lockup.form, piece, side) for side in sides) for sides in ends)
        if room < CLEAR - SLACK:
            left = f"only {written(room)} is left" if room > SLACK else "no room is left"
            yield Remark(
                f"ends of {scene.named(piece)}",
                f"It lies between what it might wedge apart, and {left}: it would take the squeeze from the type.",
                f"Leave {written(CLEAR)} or more, both ends together: use a shorter piece.",
            )


@rule("quoins on two sides that meet", "fault", "the quoins push the form into a solid corner", BOTH_WAYS)
def _quoin_sides(scene: Scene) -> Iterator[Remark]:
    sides = scene.lockup.quoin_sides
    if len(sides) == 2 and sides[0] != opposite(sides[1]):
        return
    yield Remark(
        f"quoins on the {' and '.join(sides)}" if sides else "no quoins yet",
        "The form is pushed against two solid sides that meet, one each way; these quoins don't do that.",
        "Put quoins on two neighbouring sides and nowhere else, and fill the other two solid.",
    )


@rule("quoin within its travel", "fault", "every quoin, finger-tight, has its reserve left for tightening", TRAVEL)
def _travel(scene: Scene) -> Iterator[Remark]:
    for item in scene.lockup.items:
        if item.kind != "quoin":
            continue
        quoin = pattern_of(item, scene.shop.quoins)
        if quoin is None:
            yield Remark(
                name_of(item),
                f"The shop has no quoin {written(item.length)} long.",
                "Use one of the shop's quoins.",
                (item,),
            )
        elif remark := _opening(item, quoin):
            yield remark


def _opening(item: Item, quoin: Quoin) -> Remark | None:
    opening = item.thickness - quoin.closed
    if opening < -SLACK:
        return Remark(
            name_of(item),
            f"The room is {written(-opening)} less than the quoin takes up closed.",
            "Take out some wood.",
            (item,),
        )
    if opening > quoin.travel + SLACK:
        return Remark(
            name_of(item),
            f"It would have to open {written(opening)}, and its travel ends at {written(quoin.travel)}.",
            "Put in more wood.",
            (item,),
        )
    if opening > quoin.most_open + SLACK:
        return Remark(
            name_of(item),
            f"Finger-tight it is open {written(opening)} of {written(quoin.travel)}: less than its reserve of "
            f"{written(quoin.reserve)} is left for tightening.",
            "Put in more wood, so that it starts thinner.",
            (item,),
        )
    return None


@rule(
    "in balance",
    "fault",
    "under the quoins' push every piece can rest in balance, and the push meets the form within the middle third",
    STATICS,
)
def _in_balance(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        if not scene.seen(side) or gap_on(scene, side):
            continue  # what nothing touches has a rule of its own
        found = balance(scene.lockup, side)
        if not found.holds:
            yield _out_of_balance(scene, side, found)


def _out_of_balance(scene: Scene, side: Side, found: Balance) -> Remark:
    end = "left end" if along_x(side) else "lower end"
    low, high = found.push
    reach = [scene.lockup.seen_from(side, item) for item in found.stops]
    between = (
        f"{written(low)} from the form's {end}"
        if high - low < 1
        else f"between {written(low)} and {written(high)} from the form's {end}"
    )
    if found.stops[0].kind == "quoin":
        where = f"{side} quoins"
        why = "They would press one end of the form and let the other go slack, or tilt what they bear on"
        cure = "Move the row toward the middle of the form's side."
    elif len(found.stops) > 1:
        where = " and ".join(name_of(item) for item in found.stops)
        why = "Laid end to end there, one of them would tilt, or carry next to nothing"
        cure = "Use one whole piece, or lay a whole one on both their faces with the joint nearer the middle."
    else:
        where = name_of(found.stops[0])
        off = max(reach[0].low - high, low - reach[0].high)
        why = (
            "It is held too far to one end and would tilt" if off <= SLACK else "It lies beside the push and would tilt"
        )
        cure = "Move it, or use a longer piece, so that it is held on both faces there."
    return Remark(where, f"{why}: the push has to pass {between}.", cure, found.stops, Push(side, low, high))


@rule("quoins on wood all along", "fault", "wood meets every quoin over its whole length, on both faces", COMMON)
def _borne(scene: Scene) -> Iterator[Remark]:
    for side in scene.lockup.quoin_sides:
        wood = [(item, extent) for item, extent in scene.seen(side) if item.kind != "quoin"]
        for quoin, row in scene.row(side):
            for face, touching in (
                ("inner", [extent for _, extent in wood if meets(extent, row)]),
                ("outer", [extent for _, extent in wood if meets(row, extent)]),
            ):
                bare = bare_stretch(touching, row.low, row.high)
                if touching and bare > SLACK:
                    yield Remark(
                        name_of(quoin),
                        f"{written(bare)} of its {face} face has no wood before it, so it would tilt and dig in.",
                        "Use a longer reglet there, or move it.",
                        (quoin,),
                    )
