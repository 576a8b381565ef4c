"""Things of which a shop has so many and no more: chases, counted quoins, and every size of wood and metal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import NamedTuple

from stonework.lockup import Lockup
from stonework.shop import Material, Quoin, Shop


class Thing(NamedTuple):
    """A chase or a pattern of quoin by its name, or a size of wood or metal in points."""

    kind: str
    name: str = ""
    thickness: float = 0.0
    length: float = 0.0

    @property
    def piece(self) -> bool:
        """Whether it is wood or metal."""
        return self.kind not in ("chase", "quoin")


Uses = Mapping[Thing, int]


def piece(material: Material) -> Thing:
    """Return a size as a thing; what is alike to the hundredth of a point is one."""
    return Thing(material.kind, "", round(material.thickness, 2), round(material.length, 2))


def things_of(shop: Shop) -> Counter[Thing]:
    """Return what a shop has, and how many of each; quoins that nobody has counted aren't in it."""
    found: Counter[Thing] = Counter()
    for chase in shop.chases:
        found[Thing("chase", chase.name)] += 1 if chase.bed else chase.count
    for quoin in shop.quoins:
        if quoin.count is not None:
            found[Thing("quoin", quoin.name)] += quoin.count
    for material, count in shop.pieces.items():
        found[piece(material)] += count
    return found


def uses_of(lockup: Lockup, counted: Mapping[Thing, int], cut: Collection[Thing] = ()) -> Counter[Thing]:
    """Return what a lockup and its block take of what is counted; what is ``cut`` from strips isn't taken."""
    used = Counter([Thing("chase", lockup.chase.name)])
    used.update(Thing("quoin", item.pattern or "") for item in lockup.items if item.kind == "quoin")
    inside = lockup.block.materials if lockup.block else ()
    used.update(map(piece, (*inside, *(item.material for item in lockup.pieces))))
    return Counter({thing: n for thing, n in used.items() if thing in counted and thing not in cut})


def limited(
    shop: Shop, quoins: tuple[Quoin, ...], most: Mapping[Thing, int], counted: Mapping[Thing, int]
) -> tuple[Shop, tuple[Quoin, ...]]:
    """Return a shop, and its quoins, with no more of some things than ``most`` says."""
    over = {thing: counted[thing] - n for thing, n in most.items() if thing.piece}
    gone = []
    for material, there in shop.pieces.items() if over else ():
        less = min(there, over.get(piece(material), 0))
        if less > 0:
            over[piece(material)] -= less
            gone += [material] * less
    fewer = tuple(
        replace(quoin, count=most[thing]) if (thing := Thing("quoin", quoin.name)) in most else quoin
        for quoin in quoins
    )
    return (shop.without(gone) if gone else shop), fewer
