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

_KINDS: tuple[MaterialKind, ...] = ("furniture", "reglet", "metal", "lead")


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the cabinet: a kind of wood or metal, its row and its place in the row, both counted from 1.

    ``label`` is what the shop calls it, if it has a name for it.
    """

    kind: MaterialKind
    row: int
    place: int
    material: Material
    label: str = ""

    @property
    def words(self) -> str:
        """Say where it is: by its label, or else by its row and place."""
        return self.label or f"row {self.row}, place {self.place}"

    @property
    def short(self) -> str:
        """Say where it is as shortly as a list wants it."""
        return self.label or f"{self.row}/{self.place}"


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
        homeless = sum(count for material, count in self.homeless if material.kind in ("furniture", "reglet"))
        return homeless + sum(count for _, count in self.wood)


def cabinet_places(shop: Shop) -> tuple[Place, ...]:
    """Return every place of the cabinet in the order that one walks past them.

    A worn piece lies with those that it was cut like.
    """
    places: list[Place] = []
    for kind in _KINDS:
        lying = {m: shop.kept_as.get(m, m) for m in shop.pieces if m.kind == kind}
        for row, thickness in enumerate(sorted({size.thickness for size in lying.values()}), 1):
            here = {m: size.length for m, size in lying.items() if size.thickness == thickness}
            lengths = sorted(set(here.values()))
            places += [
                Place(kind, row, lengths.index(length) + 1, m, shop.labels.get(m, ""))
                for m, length in sorted(here.items(), key=lambda pair: (pair[1], pair[0]))
            ]
    return tuple(places)


def put_away(lockup: Lockup, shop: Shop) -> PutAway:
    """Return where every piece of a lockup goes back to."""
    left = Counter(lockup.materials) + Counter(lead for lead in lockup.leads if lead in shop.strips)
    going = tuple((place, left.pop(place.material)) for place in cabinet_places(shop) if place.material in left)
    patterns: Counter[str] = Counter()
    for item in lockup.items:
        if item.kind == "quoin":
            pattern = pattern_of(item, shop.quoins)
            patterns[pattern.name if pattern else "not this shop's"] += 1
    wood = tuple((place, count) for place, count in going if place.kind in ("furniture", "reglet"))
    metal = tuple((place, count) for place, count in going if place.kind in ("metal", "lead"))
    leads = Counter(lead.thickness for lead in lockup.leads if lead not in shop.strips)
    homeless = tuple(sorted(left.items()))
    return PutAway(wood, tuple(patterns.items()), homeless, metal, tuple(sorted(leads.items())))


LOOSENING = (
    "Loosen the quoins at the form's side first, then those at its head or foot: the other way about from tightening.",
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
