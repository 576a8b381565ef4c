"""A form comes to stand, and is put away again."""

from __future__ import annotations

from datetime import date

from stonework.files import alone
from stonework.ledger.reading import look
from stonework.ledger.telling import held_words
from stonework.lockup import Lockup
from stonework.people import Here, here
from stonework.records import NOT_STANDING, Standing, open_lockup, record_path, save_lockup, standing_of
from stonework.shop import Shop


def let_stand(lockup: Lockup, name: str, shop: Shop, now: Here | None = None) -> str:
    """Save a lockup as one that stands, and say so.

    Raises ``ValueError`` with a sentence if nothing lies in it, if something that it takes is in another form, or if
    it can't be saved. Nobody else can let a form stand between the look and the saving.
    """
    now = now or here()
    if not lockup.items:
        raise ValueError("Nothing lies round the form yet: lay its wood and quoins first.")
    try:
        now.ready()
        with alone(now.people.work):
            held = held_words(lockup, shop, look(shop, now.people).others(now.name, name.strip()))
            if held:
                raise ValueError(f"It can't stand as it lies. {' '.join(held)}")
            since = date.today().isoformat()
            save_lockup(lockup, name, now.folder, Standing(since, shop.name))
    except OSError as error:
        raise ValueError(f"What stands can't be written down: {error.strerror}.") from error
    return f"“{name.strip()}” stands since today: its wood, quoins and chase are held until it's put away."


def free(name: str, now: Here | None = None) -> str:
    """Note that a form is put away and holds nothing any more, and say so; the lockup stays saved.

    Raises ``ValueError`` with a sentence if there is none of that name, if it doesn't stand, or can't be saved.
    """
    now = now or here()
    lockup = open_lockup(name, now.folder)
    if stands(name, now) == NOT_STANDING:
        raise ValueError(f"“{name.strip()}” isn't written down as standing: it holds nothing.")
    save_lockup(lockup, name, now.folder, NOT_STANDING)
    return f"“{name.strip()}” is put away: what it held is free for everybody."


def stands(name: str, now: Here | None = None) -> Standing:
    """Return since when a person's lockup of a name stands, and where; ``NOT_STANDING`` if it doesn't."""
    try:
        return standing_of(record_path(name, (now or here()).folder))
    except ValueError:
        return NOT_STANDING
