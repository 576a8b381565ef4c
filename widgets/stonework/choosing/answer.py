"""The answer to a question: the lockup that was found, and how sure it is that none is better."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from stonework.choosing.laying import as_lockup
from stonework.choosing.question import Question
from stonework.choosing.search import EFFORT, Found, Search
from stonework.choosing.stacks import PIECE
from stonework.lockup import Lockup

_FAR = 4  # pieces; a bound further off says nothing


class Answer(NamedTuple):
    """A lockup, how many pieces it counts, and how many none has fewer than.

    A quoin that its span asks for and that is missing counts as a piece. ``proved`` says that no other of the family
    is better.
    """

    lockup: Lockup
    pieces: int
    fewest: int
    proved: bool

    @property
    def doubt(self) -> str:
        """By how much it may be off, in a sentence; nothing if it is proved the best."""
        if self.proved:
            return ""
        if self.pieces - self.fewest > _FAR:
            return "It isn't proved the best."
        if self.fewest < self.pieces:
            return f"It isn't proved the best: {self.pieces} pieces where {self.fewest} may do."
        return "It isn't proved the best: with as many pieces, another may stand better."


def answer(q: Question, effort: int = EFFORT, stop: Callable[[], bool] | None = None) -> tuple[Answer | None, bool]:
    """Return the best lockup found, or ``None``; and whether all was looked at, so that there is none.

    ``stop`` is asked again and again whether to give up; then ``Stopped`` is raised.
    """
    if q.form.width >= q.chase.width or q.form.height >= q.chase.height:
        return None, True  # the search would try every stick along an edge of a hundred feet
    sure = exhausted = True
    for step in _steps(q):
        search = Search(step, effort, stop)
        found, exhausted = search.best(), search.exhausted
        if found:
            return _answered(step, found, sure), False
        sure = sure and exhausted
    return None, exhausted


def _answered(q: Question, found: Found, sure: bool) -> Answer:
    """Return what was found as an answer; ``sure`` says that there is none without what this question may use."""
    return Answer(as_lockup(q, found), found.cost // PIECE, found.bound // PIECE, found.proved and sure)


def generous(q: Question) -> Question:
    """Return the question with all that may be used where nothing else does."""
    return [*_steps(q)][-1]


def _steps(q: Question) -> Iterator[Question]:
    """Yield the question without what nobody takes gladly, then with other quoins, strips cut, worn wood too."""
    yield q
    if q.others:
        q = replace(q, quoins=q.others, others=())
        yield q
    if (q.shop.leads or q.shop.slugs) and not q.cut:
        q = replace(q, cut=True)
        yield q
    if q.shop.keep and not q.kept:
        yield replace(q, kept=True)
