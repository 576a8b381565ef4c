"""The ledger: which forms stand locked up in a shop, whose they are, and what they leave to everybody else.

It has no file of its own. A lockup that stands says so in its own file, in its person's folder; from these the ledger
is made anew whenever it's looked at, so that nothing can fall out of step.
"""

from stonework.ledger.freeing import freeing
from stonework.ledger.holding import Form, held_by, left, short_of
from stonework.ledger.reading import Ledger, look
from stonework.ledger.standing import free, let_stand, save_on, stands
from stonework.ledger.telling import held_words

__all__ = [
    "Form",
    "Ledger",
    "free",
    "freeing",
    "held_by",
    "held_words",
    "left",
    "let_stand",
    "look",
    "save_on",
    "short_of",
    "stands",
]
