"""Rules for how things lie: inside the chase, apart from each other, touching where they should, true to size."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from stonework.lockup import SIDES, SLACK, UNBACKED, Extent, Side, along_x
from stonework.rules.geometry import bare_stretch, beyond, faces_of, meets, name_of, overlaps, written
from stonework.rules.rule import COMMON, Remark, rule
from stonework.rules.scene import Scene


@rule("inside the chase", "fault", "nothing reaches onto the iron", COMMON)
def _inside(scene: Scene) -> Iterator[Remark]:
    chase = scene.lockup.chase
    for rectangle in (scene.lockup.form, *scene.lockup.items):
        over = max(
            -rectangle.x,
            -rectangle.y,
            rectangle.x + rectangle.width - chase.width,
            rectangle.y + rectangle.height - chase.height,
        )
        if over > SLACK:
            yield Remark(
                name_of(rectangle),
                f"It reaches {written(over)} beyond the chase's inner edge, where there is iron.",
                "Use a shorter or thinner piece, or move it.",
                (rectangle,),
            )
    yield from _in_a_corner(scene)


def _in_a_corner(scene: Scene) -> Iterator[Remark]:
    """Look for pieces that reach where the chase's casting is round."""
    chase = scene.lockup.chase
    for item in scene.lockup.items if chase.clear_corners > SLACK else ():
        across = min(item.x, chase.width - item.x - item.width)
        up = min(item.y, chase.height - item.y - item.height)
        if max(across, up) < chase.clear_corners - SLACK:
            yield Remark(
                name_of(item),
                "It reaches into a corner of the chase, which is round there: "
                f"{written(chase.clear_corners)} must stay clear.",
                "Use a shorter piece, or move it out of the corner.",
                (item,),
            )


@rule("one place, one piece", "fault", "no two things lie over each other, nor over the edge of their block", COMMON)
def _apart(scene: Scene) -> Iterator[Remark]:
    for one, other in combinations(scene.inside, 2):
        across, up = overlaps(one, other)
        if min(across, up) > SLACK:
            yield Remark(
                f"{scene.named(one)} and {scene.named(other)}",
                f"They lie over each other by {written(min(across, up))}.",
                "Move or shorten one of them.",
            )
    for one in scene.inside:
        over = max(beyond(one, scene.lockup.form))
        if over > SLACK:
            yield Remark(
                scene.named(one),
                f"It reaches {written(over)} beyond the edge of the block, where the wood of the lockup lies.",
                "Move or shorten it, or reckon the block larger.",
            )
    for one, other in combinations((scene.lockup.form, *scene.lockup.items), 2):
        across, up = overlaps(one, other)
        if min(across, up) > SLACK:
            yield Remark(
                f"{name_of(one)} and {name_of(other)}",
                f"They lie over each other by {written(min(across, up))}.",
                "Move or shorten one of them.",
                (one, other),
            )


@rule(
    "backed to its ends",
    "fault",
    "wood backs every side of the form to within 6 points of its ends; in a block, whatever lies there does",
    "Vaughn p. 33: the pressure squarely on the type",
)
def _backed(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        length = scene.lockup.side_length(side)
        backing = [
            extent
            for _, extent in scene.seen(side)
            if abs(extent.near) <= SLACK and extent.low < length and extent.high > 0
        ]
        if not backing:
            continue  # a gap in the path, which has a rule of its own
        bare = bare_stretch(backing, 0.0, length)
        if bare > UNBACKED + SLACK:
            yield Remark(
                f"{side} side of the form",
                f"{written(bare)} of it has no wood behind it, so the type there can slip or bow out.",
                f"Use a piece nearly as long as the form there, or longer: at most {written(UNBACKED)} may stay bare "
                "at each end.",
            )

    for form in scene.lockup.block.forms if scene.lockup.block else ():
        for side in SIDES:
            length, backing = scene.faces(form, side)
            bare = bare_stretch(backing, 0.0, length)
            if bare > UNBACKED + SLACK:
                yield Remark(
                    f"{side} side of {scene.named(form)}",
                    f"{written(bare)} of it has nothing behind it, so the type there can slip or bow out.",
                    f"Lay metal or wood there: at most {written(UNBACKED)} may stay bare.",
                )


@rule("no gap from form to chase", "fault", "on every side the pressure can pass from the form to the iron", COMMON)
def _path(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        if gap := gap_on(scene, side):
            yield gap
    yield from _pressed(scene)


def gap_on(scene: Scene, side: Side) -> Remark | None:
    """Return the first place on a side at which nothing touches, from the form outward; ``None`` if all does."""
    items, gap = scene.seen(side), scene.lockup.gap(side)
    form = Extent(0.0, scene.lockup.side_length(side), -1.0, 0.0)
    for item, extent in items:
        inside = [form, *(other for one, other in items if one is not item)]
        if not any(meets(other, extent) for other in inside):
            room = extent.near - max((o.far for o in inside if o.far <= extent.near + SLACK), default=0.0)
            return Remark(
                f"{side} side, inside {name_of(item)}",
                f"Nothing touches it there; {written(max(room, 0.0))} stands empty and the pressure stops.",
                "Fill the gap with wood, or push the pieces together.",
                (item,),
            )
        outside = [other for one, other in items if one is not item]
        if extent.far < gap - SLACK and not any(meets(extent, other) for other in outside):
            return Remark(
                f"{side} side, outside {name_of(item)}",
                f"Nothing touches it there, so it carries no pressure; the chase is {written(gap - extent.far)} off.",
                "Fill the gap with wood, or open the quoins if there are any.",
                (item,),
            )
    if not items and gap > SLACK:
        return Remark(
            f"{side} side",
            f"The whole gap of {written(gap)} is empty: nothing holds the form there.",
            "Fill it with wood, and with quoins if this is to be a quoin side.",
        )
    return None


def _pressed(scene: Scene) -> Iterator[Remark]:
    """Look in the block for pieces that nothing presses, or that would tilt over a hollow."""
    for piece in scene.lockup.block.pieces if scene.lockup.block else ():
        ways: list[Remark | None] = []
        for sides in faces_of(piece):
            found = None
            for side in sides:
                length, touching = scene.faces(piece, side)
                low, high = min((e.low for e in touching), default=length), max((e.high for e in touching), default=0)
                if not touching:
                    why = "Nothing touches it there, so the pressure stops and the piece lies loose."
                    found = Remark(f"{side} face of {scene.named(piece)}", why, "Close the hole, or take it out.")
                elif not low - SLACK <= length / 2 <= high + SLACK:
                    why = "What presses it there lies all on one side of its middle, so it would tilt."
                    cure = "Move it, or use one piece that lies across the hollow."
                    found = Remark(f"{side} face of {scene.named(piece)}", why, cure)
            ways.append(found)
        if all(ways):  # a square piece may be pressed either way
            yield ways[0]


@rule("true to size", "fault", "every piece takes up the room its size says", COMMON)
def _true(scene: Scene) -> Iterator[Remark]:
    for item in scene.lockup.items:
        said, drawn = [item.thickness, item.length], [item.height, item.width]
        if not along_x(item.side):
            drawn.reverse()
        if item.kind != "quoin":  # wood may lie turned; a quoin opens one way only
            said.sort()
            drawn.sort()
        if any(abs(one - other) > SLACK for one, other in zip(said, drawn, strict=True)):
            yield Remark(
                name_of(item),
                f"It takes up {written(item.width)} × {written(item.height)}, which isn't its size.",
                "Measure the piece again and write down what it is.",
                (item,),
            )
    if block := scene.lockup.block:
        for piece in block.pieces:
            said, drawn = sorted((piece.thickness, piece.length)), sorted((piece.width, piece.height))
            if any(abs(one - other) > SLACK for one, other in zip(said, drawn, strict=True)):
                yield Remark(
                    scene.named(piece),
                    f"It takes up {written(piece.width)} × {written(piece.height)}, which isn't its size.",
                    "Measure the piece again and write down what it is.",
                )
        empty = -min(beyond(block.outline, scene.lockup.form)) if block.content else scene.lockup.form.width
        if empty > SLACK:
            yield Remark(
                "the block",
                f"What is in it ends {written(empty)} inside its edge.",
                "Measure the block again, and reckon the lockup for the size that it has.",
            )
