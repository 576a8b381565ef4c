"""The block builder: makes up one form, or several, into a rectangle that can be locked up as a form.

A form may be too small for its quoins, or several may be printed together with a gutter between them. Then they
are built up with metal furniture, leads and wood. All reckoning is in whole hundredths of a point.

**The family.** A *band* lies along one side, s long, of what is there. It is a stack of layers, and a layer is

- metal furniture of one thickness, end to end, whose lengths add up to s exactly, at most ``MOST_IN_A_ROW`` pieces;
- or one piece of wood between s - 2 · ``UNBACKED`` and s - ``CLEAR`` long, in the middle: its ends must stay free, or
  they would take the squeeze from the type;
- or one lead or slug, cut to s from a strip, so that there are always enough of them.

Bands come in pairs, on opposite sides. The two differ by ``APART`` at most, so that the form stays in the middle to
within half of that; one of them may be nothing, because a single lead often makes a size whole that two would miss.
They also differ by so little that the middle of whatever lies across both ends rests on what is between them. No band
is more than ``BEYOND`` thicker than half of what the block lacks that way.

Where wood stops short it leaves a hollow under what lies across its end. A joined row would have pieces that nothing
presses there; so along a side with hollows, and along the side across from it, no layer is in more than one piece.

The best has the fewest pieces; then it makes the smallest block; then its pairs differ least, in all.

**How it is found.** For one number of pieces after another, the thicknesses that each side's layers can make are held
as the bits of one integer. They say which ways are worth trying, smallest block first, and each is tried on
the one cabinet that all bands share, until one can be built.

``cabinet`` is what the shop can give, ``bands`` what its layers make, ``supplying`` which pieces go where, ``lying``
how it all lies, ``surrounding`` one form and its bands, ``row`` forms side by side, ``repeating`` forms of one size or
two in rows, ``asking`` how one asks.
"""

from stonework.building.asking import NoBlock, build_block, in_rows, least_side, one_below_another, side_by_side
from stonework.building.bands import APART, BEYOND
from stonework.building.cabinet import MOST_IN_A_ROW
from stonework.building.repeating import Repeated, Way, repeated

__all__ = [
    "APART",
    "BEYOND",
    "MOST_IN_A_ROW",
    "NoBlock",
    "Repeated",
    "Way",
    "build_block",
    "in_rows",
    "least_side",
    "one_below_another",
    "repeated",
    "side_by_side",
]
