"""What a mutant is: a module with one small thing in it wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass(frozen=True, eq=False)
class Mutant:
    """A module with one small thing in it wrong."""

    module: str
    """The file, from the package's folder."""
    number: int
    """Which of the module's mutants it is."""
    place: str
    """The function or class that the change lies in, or nothing at the head of the module."""
    kind: str
    """What was changed: one of ``KINDS`` in making.py."""
    before: str
    after: str
    lines: range
    """The lines of what was changed."""
    statement: int
    """The line where its statement starts."""
    source: Callable[[], str] = field(repr=False)
    """The whole module as changed."""

    @property
    def key(self) -> str:
        """By what it's known from one run to the next, while its module stays the same."""
        return f"{self.module} {self.number}"

    @property
    def name(self) -> str:
        """By what it's known in the list of survivors: lines move, words stay."""
        place = f" in `{self.place}`" if self.place else ""
        return f"`{self.module}`{place}: `{self.before}` becomes `{self.after}`"
