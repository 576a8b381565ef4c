"""Putting away: where every piece of a lockup goes back to, in one walk along the cabinet.

The cabinet is taken to stand as the shop file lists it: furniture first, a row for each thickness and in it a
place for each length, then reglet and metal in the same way, then the rack of leads and slugs, and the quoins' drawer.
No type or furniture is left on the stone, and unused furniture goes back the same day (T. MacKellar, *The American
Printer*, 1893, p. 233).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from stonework.lockup import Lockup, pattern_of
from stonework.shop import Material, MaterialKind, Shop

_KINDS: tuple[MaterialKind, ...] = ("furniture", "reglet", "metal")


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the cabinet: a kind of wood or metal, its row and its place in the row, both counted from 1."""

    kind: MaterialKind
    row: int
    place: int
    material: Material


@dataclass(frozen=True, slots=True)
class PutAway:
    """What goes back: pieces of wood with their places in the order of one walk, then quoins by pattern.

    ``homeless`` are sizes that this cabinet has no place for. ``metal`` goes back as the wood does, after it, and
    ``leads`` to their rack: leads and slugs by their thickness in points.
    """

    wood: tuple[tuple[Place, int], ...]
    quoins: tuple[tuple[str, int], ...]
    homeless: tuple[tuple[Material, int], ...]
    metal: tuple[tuple[Place, int], ...] = ()
    leads: tuple[tuple[float, int], ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces of wood go back, those without a place among them."""
        homeless = sum(count for material, count in self.homeless if material.kind != "metal")
        return homeless + sum(count for _, count in self.wood)


def cabinet_places(shop: Shop) -> tuple[Place, ...]:
    """Return every place of the cabinet in the order that one walks past them."""
    places: list[Place] = []
    for kind in _KINDS:
        sizes = [material for material in (*shop.stock, *shop.metal) if material.kind == kind]
        for row, thickness in enumerate(sorted({m.thickness for m in sizes}), 1):
            lengths = sorted(m.length for m in sizes if m.thickness == thickness)
            places += [
                Place(kind, row, place, Material(kind, thickness, length)) for place, length in enumerate(lengths, 1)
            ]
    return tuple(places)


def put_away(lockup: Lockup, shop: Shop) -> PutAway:
    """Return where every piece of a lockup goes back to."""
    left = Counter(lockup.materials)
    going = tuple((place, left.pop(place.material)) for place in cabinet_places(shop) if place.material in left)
    patterns: Counter[str] = Counter()
    for item in lockup.items:
        if item.kind == "quoin":
            pattern = pattern_of(item, shop.quoins)
            patterns[pattern.name if pattern else "not this shop's"] += 1
    wood = tuple((place, count) for place, count in going if place.kind != "metal")
    metal = tuple((place, count) for place, count in going if place.kind == "metal")
    leads = Counter(lead.thickness for lead in lockup.block.leads) if lockup.block else Counter()
    homeless = tuple(sorted(left.items()))
    return PutAway(wood, tuple(patterns.items()), homeless, metal, tuple(sorted(leads.items())))


LOOSENING = (
    "Loosen the quoins at the side first, then those at the top or bottom: the other way about from tightening.",
    "A little to each in turn, as you tightened. Never let one go quite slack while the others hold: forcing the rest "
    "would push the type out of its place.",
    "When all are finger-tight, take them out, then the wood around them; but leave sticks against every side until "
    "the form is tied.",
)
"""How to unlock: MacKellar p. 260 (sides before feet), p. 208 (none too slack first)."""

STORING = (
    "Better not store a form locked up: wood shrinks and swells, and the chase and the wood are wanted elsewhere. "
    "Where it must wait in its chase, stand it in a rack, and try the lift again before it is printed.",
    "Wind string round the form while wood still stands on all sides, easing one stick at a time to pass it. Then take "
    "the last sticks away one at a time, lift the chase off, and put the wood back.",
    "Slide it onto a galley, and lay a slip with it: what it is, whose it is, and the date. Enter it in the register "
    "of what is standing.",
    "Leave no type and no furniture on the stone. Put back the same day whatever isn't in use.",
)
"""How to store: MacKellar p. 233 for the stone, pp. 231–232 for chases kept in a cabinet; the rest: common practice."""
