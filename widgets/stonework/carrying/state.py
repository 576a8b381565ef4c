"""One job on its way: where it is, what was measured, its lockup, its turns, and what is said to be done."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args

from stonework.lockup import Lockup

Station = Literal["ticket", "measure", "place", "block", "wood", "quoins", "tighten", "lift", "press", "put away"]
STATIONS: tuple[Station, ...] = get_args(Station)
"""The stations of a job, in their order."""

BY_HAND: tuple[Station, ...] = ("lift", "press", "put away")
"""What happens at the stone or the press and only the person there can say: they are ticked off."""

Turn = tuple[int, int]
"""A small turn: which quoin, by its number from 0, and 1 for tighter or -1 for looser."""


@dataclass(frozen=True, slots=True)
class State:
    """One job as it stands. ``edges`` are head, foot, left and right in points; ``ticked`` what is said to be done."""

    station: Station = "ticket"
    edges: tuple[float, float, float, float] | None = None
    lockup: Lockup | None = None
    turns: tuple[Turn, ...] = ()
    ticked: frozenset[Station] = frozenset()

    def with_lockup(self, lockup: Lockup | None) -> State:
        """Return the state with another lockup; what was turned, lifted or printed was another's."""
        return self if lockup == self.lockup else replace(self, lockup=lockup, turns=(), ticked=frozenset())

    def to_dict(self) -> dict[str, Any]:
        """Return all but the lockup, which has a file of its own, and a mark by which that is known again."""
        return {
            "station": self.station,
            "edges": self.edges and list(self.edges),
            "turns": [list(turn) for turn in self.turns],
            "ticked": sorted(self.ticked),
            "lockup": marked(self.lockup),
        }

    @classmethod
    def from_dict(cls, record: Any, lockup: Lockup | None) -> State:
        """Return what ``to_dict`` wrote, with its lockup; what can't be read, or was another lockup's, is left out."""
        if not isinstance(record, dict):
            return cls(lockup=lockup)
        station = record.get("station")
        edges = record.get("edges")
        measured = isinstance(edges, list) and len(edges) == 4 and all(_is_length(edge) for edge in edges)
        state = cls(station if station in STATIONS else "ticket", tuple(edges) if measured else None, lockup)
        if record.get("lockup") != marked(lockup):
            return state
        turns, ticked = record.get("turns"), record.get("ticked")
        return replace(
            state,
            turns=tuple((quoin, by) for quoin, by in turns) if _are_turns(turns) else (),
            ticked=frozenset(one for one in BY_HAND if isinstance(ticked, list) and one in ticked),
        )


def marked(lockup: Lockup | None) -> str:
    """Return a mark that another lockup hasn't; nothing for none."""
    if lockup is None:
        return ""
    return hashlib.sha256(json.dumps(lockup.to_dict(), sort_keys=True).encode()).hexdigest()[:16]


def _is_length(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < 1e6


def _are_turns(value: Any) -> bool:
    return isinstance(value, list) and all(
        isinstance(turn, list) and len(turn) == 2 and type(turn[0]) is int and 0 <= turn[0] < 100 and turn[1] in (1, -1)
        for turn in value
    )
