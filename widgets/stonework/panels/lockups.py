"""Lockups saved from a panel and opened in it: what came of that, in words."""

from __future__ import annotations

from dataclasses import replace

from stonework.ledger import save_on
from stonework.lockup import NO_JOB, Lockup
from stonework.records import Found, in_this_shop, open_lockup, record_path
from stonework.shop import Shop
from stonework.units import write_length


def in_its_place(lockup: Lockup, name: str) -> str:
    """Say what is saved under a name already, or nothing if that is no other lockup."""
    try:
        path = record_path(name)
    except ValueError:  # saving will say what is wrong with the name
        return ""
    if not path.exists():
        return ""
    try:
        other = open_lockup(name)
    except ValueError:
        return f"Under “{name.strip()}” lies a file that can't be read as a lockup."
    if replace(other, job=NO_JOB).to_dict() == replace(lockup, job=NO_JOB).to_dict():
        return ""
    form = f"a form {write_length(round(other.form.width, 1))} × {write_length(round(other.form.height, 1))}"
    wood = "with its wood" if other.items else "without wood yet"
    return f"Under “{name.strip()}” another lockup is saved: {form} in the {other.chase.name} chase, {wood}."


def saved(lockup: Lockup | None, name: str, shop: Shop, why: str = "") -> tuple[str, bool]:
    """Save a lockup under a name; return what is said of it, and whether all went well.

    ``why`` says why there is no lockup, if there is none.
    """
    if lockup is None:
        return f"There is no lockup to save. {why}".rstrip(), False
    try:
        path, more = save_on(lockup, name, shop)
    except ValueError as error:
        return str(error), False
    return f"Saved as {path.name} in {path.parent.name}. {more}".rstrip(), not more


def opened(shop: Shop, name: str) -> Found:
    """Open the lockup of a name in its chase as that measures now, with what that changed.

    Raises ``ValueError`` with a sentence if there is none, or this shop lacks its chase.
    """
    return in_this_shop(open_lockup(name), shop)
