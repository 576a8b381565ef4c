"""The solver: chooses wood, metal and quoins for a form, as a stonehand would, from any cabinet.

It looks for the best lockup of the family below, and says whether it is proved the best: in a scarce cabinet its effort
may not do. All is reckoned in whole hundredths of a point.

**Courses.** Each side has courses from the form outward: one piece, or two of a kind and thickness end to end. Every
course between the form and the quoins, or the iron, backs the form's side to within 6 points of both ends. So one and
the same pressure can pass all of them, and they rest in balance, wherever two ends meet. Metal, leads and slugs lie
nearest the form; they and two ends reach no further beyond it than wood against the form may. Next to quoin and iron
there is wood only.

**Corners.** Each corner for itself: one side runs through it and the other stops 3 points inside the form's corner,
or it is *stepped*: no course reaches further beyond the form's corner than its own near face lies from the form, less
3 points, or it ends flush. So neither side can meet the other, nor an end face what moves toward it, and lengths may
grow outward. Nothing comes nearer to the chase than 3 points, or than its corners must stay clear, with the form
anywhere within its tolerance.

**Quoins.** Each of two sides has a row of one pattern, as many as its span asks or fewer, as near the middle as it
can stand, in whole hundredths of a point: no further off than half a quoin, for a quoin may press with either end of
its face, nor than a sixth of the side. No row is longer than half as long again as its side, or it would rock. What
they bear on covers all of them, on both faces. Where hardly a stick is so long they may bear on two ends, some in the
middle of each, so that each end passes its share.

**Best**, in this order: fewest pieces, a quoin that is missing by its span counting as one; the form's distance from
its place beyond one point; the quoins' distance from rest and the rows' from the middle, all in whole points; fewest
stacks deeper than twice the length of their shortest course. Of equals it takes, of those that it meets first, an
arrangement of the corners that has a name, wood rather than metal, and the shorter sticks. Strips are cut only where
there is no lockup without, and what is kept for last is used only where strips don't help either.

No side takes more than twelve pieces. What has no source here is common practice, and the figures are this workbook's
own.

``question`` is what it chooses from, ``courses`` what the cabinet offers a side, ``standing`` where quoins may stand,
``stacks``, ``sides`` and ``quoin_sides`` one side's ways to fill it, ``axis`` two opposite sides and the form between
them, ``dealing`` and ``sharing`` which stick goes where, ``search`` the way to the best, ``laying`` the way back to the
stone, ``answer`` how sure it is, ``building_up`` blocks to try, ``reasons`` why there is none, ``asking`` how one asks,
``freely`` what else may be left open.
"""

from stonework.choosing.answer import Answer
from stonework.choosing.asking import ANY, NoLockup, best_lockup, choose_lockup, lock_up
from stonework.choosing.freely import Chosen, choose_freely
from stonework.choosing.question import ARRANGEMENTS
from stonework.choosing.search import EFFORT, QUICK, Stopped

__all__ = [
    "ANY",
    "ARRANGEMENTS",
    "EFFORT",
    "QUICK",
    "Answer",
    "Chosen",
    "NoLockup",
    "Stopped",
    "best_lockup",
    "choose_freely",
    "choose_lockup",
    "lock_up",
]
