"""A form moved or made square: wood exchanged between sides, strips that turn it, what makes up a short edge."""

from stonework.moving.exchanging import (
    CARD,
    Exchange,
    Moved,
    Strip,
    between,
    exchange,
    inner_wood,
    move_form,
    turning_strips,
    with_leads,
)
from stonework.moving.squaring import Edge, Mending, chases_for, make_up, mend

__all__ = [
    "CARD",
    "Edge",
    "Exchange",
    "Mending",
    "Moved",
    "Strip",
    "between",
    "chases_for",
    "exchange",
    "inner_wood",
    "make_up",
    "mend",
    "move_form",
    "turning_strips",
    "with_leads",
]
