"""Cautions: work that would hold, and that a good hand would do better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from stonework.lockup import MOST_OF_ONE_SIZE, SIDES, SLACK, Extent, Side, lay, pattern_of
from stonework.rules.geometry import meets, name_of, rails, rounded, shared, stock_of, written
from stonework.rules.rule import COMMON, FEWEST, OWN, RUBBING, Remark, rule, rules
from stonework.rules.scene import Layer, Scene
from stonework.shop import Material
from stonework.stacking import fewest_pieces
from stonework.units import PICA


@rule("longer outward", "caution", "shorter furniture lies nearer the form, longer furniture outside it", COMMON)
def _longer_outward(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        for inner, outer in (pair for stack in _stacks(scene, side) for pair in pairwise(_furniture(stack))):
            if _span(outer) < _span(inner) - SLACK:
                yield Remark(
                    name_of(outer[0][0]),
                    f"It is shorter than {name_of(inner[0][0])} inside it, whose ends are left without support.",
                    "Change them round: shorter pieces nearer the form.",
                    (outer[0][0],),
                )


def _furniture(stack: Sequence[Layer]) -> list[Layer]:
    return [layer for layer in stack if all(item.kind == "furniture" for item, _ in layer)]


def _is_quoins(layer: Layer) -> bool:
    return any(item.kind == "quoin" for item, _ in layer)


def _depth(layer: Layer) -> float:
    """Return how deep a layer is, where it is deepest."""
    return max(item.thickness for item, _ in layer)


def _span(layer: Layer) -> float:
    """Return how much of the side a layer takes up, from its one end to its other."""
    return max(extent.high for _, extent in layer) - min(extent.low for _, extent in layer)


@rule(
    "reglet against a quoin",
    "caution",
    "a quoin bears on reglet, unless the shop's file lets it bear on any wood",
    COMMON,
)
def _bare(scene: Scene) -> Iterator[Remark]:
    for side in scene.lockup.quoin_sides:
        for quoin, row in scene.row(side):
            pattern = pattern_of(quoin, scene.shop.quoins)
            if pattern is not None and pattern.bears_on == "any wood":
                continue
            for item, extent in scene.seen(side):
                if item.kind == "furniture" and (meets(extent, row) or meets(row, extent)):
                    yield Remark(
                        f"{name_of(quoin)} and {name_of(item)}",
                        "A quoin bruises the furniture it bears on; a reglet is cheaper to lose.",
                        "Put a reglet between them.",
                        (quoin, item),
                    )


@rule("ends that rub", "caution", "what moves as the quoins are tightened touches nothing with its ends", RUBBING)
def _rubbing(scene: Scene) -> Iterator[Remark]:
    moving = {id(item) for side in scene.lockup.quoin_sides for item, _ in scene.closes(side)}
    for side in scene.lockup.quoin_sides:
        closing = [(item, extent) for item, extent in scene.closes(side) if item.kind != "quoin"]
        low, high = rails(scene.lockup, side)
        for item, own in closing:
            touched = ["the chase"] * (min(abs(own.low - low), abs(own.high - high)) <= SLACK)
            for other in scene.lockup.items:
                if id(other) in moving:
                    continue  # what closes on an end has a rule of its own
                there = scene.lockup.seen_from(side, other)
                beside = min(own.far, there.far) - max(own.near, there.near) > SLACK
                if beside and min(abs(there.high - own.low), abs(there.low - own.high)) <= SLACK:
                    touched.append(name_of(other))
            for what in touched:
                yield Remark(
                    f"end of {name_of(item)}",
                    f"It touches {what}. As the quoins are tightened it must slide along that, and what rubs off the "
                    "push never reaches the form.",
                    "Leave a little room.",
                    (item,),
                )


@rule("fewest pieces", "caution", "no side could be filled with fewer pieces", FEWEST)
def _fewest(scene: Scene) -> Iterator[Remark]:
    used = Counter(map(rounded, scene.lockup.materials))
    for side in SIDES:
        layers = [layer for layer in scene.layers(side) if not _is_quoins(layer)]
        spans = [_span(layer) for layer in layers]
        if row := scene.row(side):
            # The piece the quoins bear on, and all outside them, have work of their own.
            edge = min(extent.near for _, extent in row)
            layers = [layer for layer in layers if min(extent.near for _, extent in layer) < edge - SLACK][:-1]
        inner = [item for layer in layers for item, _ in layer]
        if not inner or any(item.kind not in ("furniture", "reglet") for item in inner):
            continue
        spare = stock_of(scene.shop) - used + Counter(rounded(item.material) for item in inner)
        thicknesses: Counter[int] = Counter()
        for material, count in spare.items():
            wooden = material.kind in ("furniture", "reglet")
            if wooden and min(spans) - SLACK <= material.length <= max(spans) + SLACK:
                thicknesses[round(material.thickness * 100)] += min(count, MOST_OF_ONE_SIZE)
        total = sum(round(_depth(layer) * 100) for layer in layers)
        better = fewest_pieces(total, thicknesses)
        if better and len(better) < len(inner) and _would_hold(scene, side, layers, better, spare, spans):
            yield Remark(
                f"{side} side",
                f"{len(inner)} pieces lie where {len(better)} would do: every joint gives a little and can slip.",
                f"Use {' + '.join(written(size / 100) for size in better)} instead.",
            )


def _would_hold(
    scene: Scene, side: Side, layers: list[Layer], better: Sequence[int], spare: Counter[Material], spans: list[float]
) -> bool:
    """Try pieces of these thicknesses, in hundredths of a point, in place of some layers: is there no fault then?

    They lie where the layers' middle is, the longer ones outside; the longest that there are, or else the shortest.
    """
    old = {id(item) for layer in layers for item, _ in layer}
    kept = tuple(item for item in scene.lockup.items if id(item) not in old)
    middle = sum(extent.low + extent.high for layer in layers for _, extent in layer) / (2 * len(old))
    for choose in (max, min):
        left, taken = Counter(spare), []
        for size in better:
            fitting = [
                material
                for material, count in left.items()
                if count and round(material.thickness * 100) == size and material.kind in ("furniture", "reglet")
                if min(spans) - SLACK <= material.length <= max(spans) + SLACK
            ]
            taken.append(choose(fitting, key=lambda material: material.length))
            left[taken[-1]] -= 1
        laid, near = [], min(extent.near for _, extent in layers[0])
        for n, (kind, thickness, length) in enumerate(sorted(taken, key=lambda material: material.length), 1):
            low = middle - length / 2
            laid.append(lay(scene.lockup.form, side, n, kind, thickness=thickness, length=length, low=low, near=near))
            near += thickness
        trial = Scene(replace(scene.lockup, items=(*kept, *laid)), scene.shop, scene.intent)
        if not any(remark for one in rules() if one.severity == "fault" for remark in one.check(trial)):
            return True
    return False


@rule("no towers", "caution", "no stack of pieces is more than twice as deep as its shortest piece is long", OWN)
def _towers(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        for stack in _stacks(scene, side):
            depth = sum(map(_depth, stack))
            shortest = min(_span(layer) for layer in stack)
            if len(stack) > 1 and depth > 2 * shortest + SLACK:
                yield Remark(
                    f"{side} side",
                    f"{len(stack)} layers make a stack {written(depth)} deep, and its shortest piece is "
                    f"{written(shortest)} long: it would buckle sideways.",
                    "Use longer pieces, or build the form up to a block first.",
                )


def _stacks(scene: Scene, side: Side) -> Iterator[list[Layer]]:
    """Yield the layers inside a side's quoins, then those outside them; all of a solid side's together."""
    stack: list[Layer] = []
    for layer in scene.layers(side):
        if _is_quoins(layer):
            if stack:
                yield stack
            stack = []
        else:
            stack.append(layer)
    if stack:
        yield stack


@rule("no joint over a joint", "caution", "where two ends meet, a whole piece lies on either face", COMMON)
def _joints(scene: Scene) -> Iterator[Remark]:
    for side in SIDES:
        for inner, outer in pairwise(scene.layers(side)):
            if _is_quoins(inner) or _is_quoins(outer):
                continue
            if any(abs(one - other) < PICA for one in _joints_of(inner) for other in _joints_of(outer)):
                yield Remark(
                    f"{name_of(outer[0][0])} over {name_of(inner[0][0])}",
                    "Its joint lies right over the joint of the layer inside it, so the two halves can shift.",
                    "Lay a whole piece between them, or sticks whose joint lies elsewhere.",
                    (outer[0][0], inner[0][0]),
                )


def _joints_of(layer: Layer) -> list[float]:
    """Return where along the side the pieces of a layer meet, or leave a gap."""
    return [(one.high + other.low) / 2 for (_, one), (_, other) in pairwise(layer)]


@rule("quoins enough", "caution", "each quoin serves no more of the side than its span", OWN)
def _enough(scene: Scene) -> Iterator[Remark]:
    for side in scene.lockup.quoin_sides:
        row, length = scene.row(side), scene.lockup.side_length(side)
        patterns = [pattern_of(item, scene.shop.quoins) for item, _ in row]
        span = sum(pattern.span for pattern in patterns if pattern)
        if all(patterns) and span < length - SLACK:
            yield Remark(
                f"{side} quoins",
                f"The side is {written(length)} long, and the shop lets {'this one' if len(row) == 1 else 'these'} "
                f"serve {written(span)}.",
                "Add a quoin, if there is room for one.",
                tuple(item for item, _ in row),
            )


@rule("no reglet over a hollow", "caution", "where a quoin bears on thin reglet, something firm lies behind it", OWN)
def _hollow(scene: Scene) -> Iterator[Remark]:
    for side in scene.lockup.quoin_sides:
        row = scene.row(side)
        for item, extent in scene.seen(side):
            if item.kind != "reglet" or item.thickness > PICA + SLACK:
                continue
            inner = meets(extent, row[0][1])
            behind = [
                e for one, e in scene.seen(side) if one is not item and meets(*((e, extent) if inner else (extent, e)))
            ]
            behind += [_edge(scene, side, inner=inner)] if not behind else []
            for quoin, place in row:
                if not (meets(extent, place) or meets(place, extent)):
                    continue
                bare = place.high - place.low - sum(max(0.0, shared(e, place)) for e in behind)
                if bare > (place.high - place.low) / 2:
                    yield Remark(
                        f"{name_of(item)} and {name_of(quoin)}",
                        f"For {written(bare)} of the quoin nothing lies behind it: thin reglet bends into the hollow.",
                        "Put furniture there, long enough to lie across the hollow.",
                        (item, quoin),
                    )


def _edge(scene: Scene, side: Side, *, inner: bool) -> Extent:
    """Return what a piece bears on that has no other behind it: the form, or else the chase."""
    gap, length = scene.lockup.gap(side), scene.lockup.side_length(side)
    return Extent(0.0, length, -1.0, 0.0) if inner else Extent(-1e6, 1e6, gap, gap + 1)
