"""What one person is to lock up, and the ways in which that may be done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stonework.form import Form
from stonework.lockup import Block, PlacedForm, Side
from stonework.shop import Chase, Material, Quoin

Change = Literal["", "turned", "chase", "cut"]
"""What a way changes in a job: nothing, the way its head points, its chase, or a strip cut to the form's side."""


@dataclass(frozen=True)
class Way:
    """A form, or a block of what is to be locked up, in one chase: where it is wanted and which sides are solid.

    Lengths are points. ``target`` is where its lower left corner should stand, ``tolerance`` how far off it may be and
    ``sheet`` where its paper will lie. ``quoins`` are the patterns that may be taken. ``change`` is what this way
    changes in the job, if it isn't as the ticket asks.
    """

    form: Form | Block
    chase: Chase
    target: tuple[float, float]
    tolerance: float
    solid: tuple[Side, Side]
    quoins: tuple[Quoin, ...]
    head: Side = "top"
    sheet: PlacedForm | None = None
    press: str = ""
    change: Change = ""

    @property
    def words(self) -> str:
        """The change in words; nothing if there is none."""
        return {
            "": "",
            "turned": f"turned, its head to the {self.head}",
            "chase": f"in the {self.chase.name} chase",
            "cut": "with leads or slugs cut to the form's side",
        }[self.change]


@dataclass(frozen=True)
class Task:
    """One person's job, and every way to do it; ``held`` is what isn't there for it, as another job holds it.

    ``trouble`` says why there is no way, if there is none. What is ``late`` goes on another job's printed sheets, and
    comes in a later shift than others where that costs nothing.
    """

    name: str
    job: str
    ways: tuple[Way, ...]
    held: frozenset[Material] = frozenset()
    trouble: str = ""
    late: bool = False
