"""What a standing form holds, and what all of them leave."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from stonework.lockup import Lockup, pattern_of
from stonework.rules.geometry import rounded
from stonework.shop import Material, Shop


@dataclass(frozen=True)
class Form:
    """A form that stands: whose it is, under which name, since which day."""

    person: str
    name: str
    since: str
    lockup: Lockup
    mine: bool = False

    @property
    def words(self) -> str:
        """Say whose it is and what it's called; that of whoever works here is their own."""
        whose = "your own" if self.mine else f"{self.person}’s" if self.person else "somebody’s"
        return f"{whose} “{self.name}”"


class Held(NamedTuple):
    """What is held: pieces by their size, quoins by the name of their pattern, chases by their name."""

    pieces: Counter[Material]
    quoins: Counter[str]
    chases: Counter[str]


def held_by(lockup: Lockup, shop: Shop) -> Held:
    """Return what a lockup holds of a shop; strips that are cut from a longer one aren't counted."""
    listed = {rounded(material): material for material in shop.pieces}
    taken = Counter(map(rounded, (*lockup.materials, *lockup.leads)))
    pieces = Counter({listed[size]: count for size, count in taken.items() if size in listed})
    patterns = (pattern_of(item, shop.quoins) for item in lockup.items if item.kind == "quoin")
    return Held(pieces, Counter(one.name for one in patterns if one), Counter([lockup.chase.name]))


def left(shop: Shop, forms: Iterable[Form]) -> Shop:
    """Return the shop with what forms leave of it. A chase that all are in use of isn't listed any more."""
    held = [held_by(form.lockup, shop) for form in forms]
    pieces = [material for one in held for material in one.pieces.elements()]
    chases, quoins = (sum((one[n] for one in held), Counter()) for n in (2, 1))
    return replace(
        shop.without(pieces),
        chases=tuple(
            replace(chase, count=chase.count - chases[chase.name])
            for chase in shop.chases
            if chase.count > chases[chase.name]
        ),
        quoins=tuple(
            quoin if quoin.count is None else replace(quoin, count=max(0, quoin.count - quoins[quoin.name]))
            for quoin in shop.quoins
        ),
    )


def short_of(lockup: Lockup, shop: Shop, forms: Iterable[Form]) -> Held:
    """Return what a lockup takes beyond what forms leave, of what the shop itself would have enough of."""
    there, mine = left(shop, forms), held_by(lockup, shop)
    chases = {chase.name: chase.count for chase in there.chases}
    counted = {quoin.name: quoin.count for quoin in there.quoins if quoin.count is not None}
    return Held(
        Counter({m: n - there.pieces[m] for m, n in mine.pieces.items() if there.pieces[m] < n <= shop.pieces[m]}),
        Counter({name: n - counted[name] for name, n in mine.quoins.items() if name in counted and n > counted[name]}),
        Counter({name: 1 for name in mine.chases if name in {one.name for one in shop.chases} and name not in chases}),
    )
