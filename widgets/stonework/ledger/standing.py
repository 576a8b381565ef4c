"""A form comes to stand, and is put away again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from stonework.files import alone
from stonework.ledger.reading import look
from stonework.ledger.telling import held_words
from stonework.lockup import Lockup
from stonework.people import Here, People, here, name_on
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


def save_on(lockup: Lockup, name: str, shop: Shop, folder: Path | None = None) -> tuple[Path, str]:
    """Save a lockup; return its file, and a sentence if it stood and can't stand as it lies now.

    What stands goes on standing only as long as something lies in it, and nothing of that is in another form.
    Raises ``ValueError`` with a sentence if it can't be saved. Whoever asks lets nobody else write meanwhile.
    """
    path = record_path(name, folder)
    if standing_of(path) == NOT_STANDING:
        return save_lockup(lockup, name, folder), ""
    others = look(shop, People(path.parent.parent)).others(name_on(path.parent), name.strip())
    held = held_words(lockup, shop, others)
    if lockup.items and not held:
        return save_lockup(lockup, name, folder), ""
    why = " ".join(held) or "Nothing lies round its form."
    return save_lockup(lockup, name, folder, NOT_STANDING), f"It doesn't stand any more, and holds nothing. {why}"


def free(name: str, now: Here | None = None) -> str:
    """Note that a form is put away and holds nothing any more, and say so; the lockup stays saved.

    Raises ``ValueError`` with a sentence if there is none of that name, if it doesn't stand, or can't be saved.
    """
    now = now or here()
    open_lockup(name, now.folder)  # or say that there is none of that name
    try:
        with alone(now.people.work), alone(now.folder):
            if stands(name, now) == NOT_STANDING:
                raise ValueError(f"“{name.strip()}” isn't written down as standing: it holds nothing.")
            save_lockup(open_lockup(name, now.folder), name, now.folder, NOT_STANDING)
    except OSError as error:
        raise ValueError(f"What stands can't be written down: {error.strerror}.") from error
    return f"“{name.strip()}” holds nothing any more: what it held is free for everybody."


def stands(name: str, now: Here | None = None) -> Standing:
    """Return since when a person's lockup of a name stands, and where; ``NOT_STANDING`` if it doesn't."""
    try:
        return standing_of(record_path(name, (now or here()).folder))
    except ValueError:
        return NOT_STANDING
