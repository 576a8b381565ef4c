"""What a rule of the trade is, what it finds, and who says so.

Sources: Vaughn = S. J. Vaughn, *Printing and Bookbinding for Schools*, 1912. MacKellar = T. MacKellar, *The
American Printer*, 1893. Savage = W. Savage, *A Dictionary of the Art of Printing*, 1841. Stewart = A. A.
Stewart, *Typesetting*, 1919.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from stonework.lockup import Item, Rectangle, Side
from stonework.rules.scene import Scene

Severity = Literal["fault", "caution"]

COMMON = "common practice"
BOTH_WAYS = "Vaughn pp. 31–33: solid on one side and one end, quoins on the others"
BINDING = "Savage, “Binding”; Vaughn p. 33; MacKellar p. 231"
FEWEST = "MacKellar p. 148: one piece rather than two; Stewart p. 31, said of spaces"
TRAVEL = "Vaughn p. 32: the last notch endangers chase and quoin"
STATICS = (
    "statics: forces and moments of what rests must cancel; the middle third, outside which the far end goes slack"
)
RUBBING = "friction, as textbooks of statics have it"
OWN = "this workbook's own figure"


@dataclass(frozen=True, slots=True)
class Push:
    """Where the push of a side has to pass, in points along it from the form's lower or left corner."""

    side: Side
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule found: its name, how grave, where, why it matters, what to do, and who says so.

    ``items`` are the pieces and quoins it is about, if it is about some, and ``push`` is where the push of their side
    would have to pass, if that is what they can't bear.
    """

    rule: str
    severity: Severity
    where: str
    why: str
    cure: str
    source: str
    items: tuple[Item, ...] = ()
    push: Push | None = None


class Remark(NamedTuple):
    """What a check has to say; the rule's name, its gravity and its source are added to it."""

    where: str
    why: str
    cure: str
    items: tuple[Rectangle, ...] = ()
    push: Push | None = None


class Rule(NamedTuple):
    """A rule of the trade: its name, how grave a breach is, what it means in a sentence, and who says so."""

    name: str
    severity: Severity
    meaning: str
    source: str
    check: Check


Check = Callable[[Scene], Iterator[Remark]]
_RULES: list[Rule] = []


def rule(name: str, severity: Severity, meaning: str, source: str) -> Callable[[Check], Check]:
    """Keep a check as a rule of that name, gravity, meaning and source."""

    def keep(check: Check) -> Check:
        _RULES.append(Rule(name, severity, meaning, source, check))
        return check

    return keep


def rules() -> tuple[Rule, ...]:
    """Return every rule, in the order they are asked."""
    return tuple(_RULES)
