"""Whether a lockup may leave the workbook as one that would hold, and if not, why.

What is printed is believed at the stone: so it is asked here first, whoever laid the lockup.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from stonework.lockup import SIDES, SLACK, Lockup
from stonework.rules import Finding, judge
from stonework.shop import Shop
from stonework.units import write_length

Mark = Literal["", "NOT FINISHED", "WOULD NOT HOLD"]

# While there is something to do, these rules only say so.
_UNFINISHED = frozenset({"no gap from form to chase", "backed to its ends"})
_QUOIN_SIDES = "quoins on two sides that meet"
# A lockup may hold and yet stand in the wrong place, or be of wood that isn't there: then there is more to do.
_TO_DO = frozenset({"in its place", "what the cabinet holds"})


class Readiness(NamedTuple):
    """How a lockup stands: a mark to print across its head, and the reasons in sentences; both empty if it is ready."""

    mark: Mark
    reasons: tuple[str, ...]

    @property
    def words(self) -> str:
        """The mark in a sentence, with the first reason; nothing if it is ready."""
        if not self.mark:
            return ""
        return f"This {'would not hold' if self.mark == 'WOULD NOT HOLD' else 'is not finished'}. {self.reasons[0]}"


def readiness(lockup: Lockup, shop: Shop) -> Readiness:
    """Judge a lockup, laid or saved: ready, not finished, or one that would not hold."""
    findings = judge(lockup, shop)
    faults = [finding for finding in already_wrong(lockup, findings) if finding.severity == "fault"]
    left = still_to_do(lockup)
    if not faults and not left:
        return Readiness("", ())
    bad = any(finding.rule not in _TO_DO for finding in faults)
    reasons = [in_words(finding) for finding in faults] + [f"Still {what}." for what in left]
    return Readiness("WOULD NOT HOLD" if bad else "NOT FINISHED", tuple(reasons))


def still_to_do(lockup: Lockup) -> list[str]:
    """Say what a lockup being laid still lacks."""
    todo: list[str] = []
    for side in SIDES:
        reached = max((lockup.seen_from(side, item).far for item in lockup.on(side)), default=0.0)
        if lockup.gap(side) - reached > SLACK:
            todo.append(f"{write_length(round(lockup.gap(side) - reached, 1))} to fill on the {side}")
    if len(lockup.quoin_sides) < 2:
        more = "one more side" if lockup.quoin_sides else "two sides that meet"
        todo.append(f"quoins to lay on {more}")
    return todo


def already_wrong(lockup: Lockup, findings: Sequence[Finding]) -> list[Finding]:
    """Return what is wrong already with a lockup being laid; cautions wait until it is finished.

    Quoins on the wrong sides come first: what else is wrong there comes of it.
    """
    findings = sorted(findings, key=lambda finding: finding.rule != _QUOIN_SIDES)
    if not still_to_do(lockup):
        return findings
    waiting = _UNFINISHED | ({_QUOIN_SIDES} if len(lockup.quoin_sides) < 2 else set())
    return [finding for finding in findings if finding.severity == "fault" and finding.rule not in waiting]


def in_words(finding: Finding) -> str:
    """Return a finding as sentences: where, why, and what to do."""
    return f"{finding.where[:1].upper()}{finding.where[1:]}: {finding.why} {finding.cure}"
