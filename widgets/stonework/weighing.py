"""What a whole lockup weighs at most, before anyone lifts it: type, metal, wood, quoins and chase.

Each part is taken as solid, so that the sum is more than the lockup weighs. Weights are pounds.
"""

from __future__ import annotations

from dataclasses import dataclass

from stonework.form import Form, slab
from stonework.lockup import Lockup
from stonework.shop import Shop
from stonework.units import POINTS_PER_INCH

# 5/8 inch, the higher of two usual heights: W. Savage, *A Dictionary of the Art of Printing*, 1841, “Furniture”. That
# quoins are no higher is common practice.
FURNITURE_HEIGHT = 0.625 * POINTS_PER_INCH
# In g/cm³. Sugar maple with 12 % of water, from memory (the dry wood being 0.63 of the volume's weight in water); other
# woods for furniture are lighter. Quoins are steel or iron: steel is 7.9 from memory, grey iron 7.2.
MAPLE = 0.71
STEEL = 7.9


@dataclass(frozen=True, slots=True)
class Load:
    """What each part of a lockup weighs at most, in pounds; ``chase`` is ``None`` if nobody has weighed it.

    ``metal`` is furniture, leads and slugs of metal within a block.
    """

    type_metal: float
    metal: float
    wood: float
    quoins: float
    chase: float | None

    @property
    def total(self) -> float:
        """The sum of all parts, without the chase if that isn't known."""
        return self.type_metal + self.metal + self.wood + self.quoins + (self.chase or 0.0)


def weigh(lockup: Lockup, shop: Shop) -> Load:
    """Return what a lockup weighs at most; the chase's weight is the one that the shop file has for it."""
    forms = lockup.block.forms if lockup.block else (lockup.form,)
    inside = lockup.block.pieces if lockup.block else ()
    wooden = [piece for piece in inside if piece.kind in ("furniture", "reglet")]
    metal = [piece for piece in (*inside, *lockup.pieces) if piece.kind not in ("furniture", "reglet")]
    quoins = [item for item in lockup.items if item.kind == "quoin"]
    return Load(
        type_metal=sum(Form(form.width, form.height).solid_metal for form in forms),
        metal=sum(Form(piece.width, piece.height).solid_metal for piece in metal),
        wood=sum(slab(piece.width * piece.height, FURNITURE_HEIGHT, MAPLE) for piece in (*wooden, *lockup.wood)),
        quoins=sum(slab(quoin.width * quoin.height, FURNITURE_HEIGHT, STEEL) for quoin in quoins),
        chase=next((chase.weight for chase in shop.chases if chase == lockup.chase), None),
    )
