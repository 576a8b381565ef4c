"""Planning a class on one cabinet: who takes which chase, quoins and pieces, all at once or in the fewest shifts.

**What is planned.** Every task is one person's form, with the ways in which it may be locked up: in which chase, which
way it lies, and as which block if it is built up. A plan gives each person one lockup of the family that ``choosing``
describes, so that in no shift a chase, a counted quoin or a piece is wanted twice. Each shift has the whole shop again.
Strips are cut, and what is kept for last is used, only where one person alone in the shop couldn't do without; a block
is one of those that its task names.

**Best**, in this order: all at once, or the fewest shifts; the largest number of pieces that any one handles is least;
the fewest pieces in all. Pieces are wood and metal, in blocks too; quoins aren't counted, but one that is missing where
its side asks for it counts as a piece.

**How it is proved.** For each way *cells* hold all its lockups together, at first one. The chooser says what no lockup
in a cell has fewer pieces than, and each cell knows what all in it take at the least. One choice of cells for all, as a
set-packing model on HiGHS, is a bound that no plan can be below. Where the cells' own lockups together take more of
something than there is, a cell is parted: in the lockups that take as many of it, and those that take fewer, for which
the chooser is asked again with so much less in the cabinet. A cell whose lockup takes no more than all in it do stands
for them all. The same model over the lockups found so far is the best plan yet. When the two meet, it is proved; the
search ends as well when neither gets better for a while, and says by how much the plan may be off.

The same model says what would help: the fewest chases, quoins or pieces more with which all work at once, each lockup
still being one that the shop could give one person alone; and the fewest jobs changed for the fewest shifts.

``task`` is what is wanted, ``things`` what there is so many of, ``pool`` what was asked of the chooser, ``cells`` and
``packing`` the two halves of the model, ``filling`` what others leave, ``planner`` the way to the best, ``plan`` what
comes of it, ``asking`` how one asks, ``naming`` who has which job, ``highs`` the solver, loaded only when it's needed.
"""

from stonework.planning.asking import Advice, advise, plan_class, why_not, with_changes
from stonework.planning.highs import installed
from stonework.planning.naming import NamingError, dealt, read_class, read_names
from stonework.planning.plan import Given, Plan, Score
from stonework.planning.task import Task, Way
from stonework.planning.things import Thing

__all__ = [
    "Advice",
    "Given",
    "NamingError",
    "Plan",
    "Score",
    "Task",
    "Thing",
    "Way",
    "advise",
    "dealt",
    "installed",
    "plan_class",
    "read_class",
    "read_names",
    "why_not",
    "with_changes",
]
