"""What a panel chooses from: the whole shop, or what the forms that stand leave of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ipywidgets import Checkbox

from stonework.ledger import Form, held_words, left, look
from stonework.lockup import Lockup
from stonework.people import here
from stonework.shop import Shop


class Leaving:
    """A box to tick, shown only while other forms stand; ``own`` tells the name of the lockup that is at hand.

    ``all`` is the whole shop, and ``shop`` what may be used of it.
    """

    def __init__(self, shop: Shop, own: Callable[[], str], changed: Callable[[Any], None]) -> None:
        self.all, self._own = shop, own
        self.box = Checkbox(True, description="Only what standing forms leave", indent=False)
        self.box.observe(changed, "value")
        self.forms: tuple[Form, ...] = ()
        self.shop = shop
        self.look()

    def look(self) -> Shop:
        """Look at what stands now, and return what may be used."""
        self.forms = look(self.all).others(here().name, self._own())
        self.box.layout.display = "" if self.forms else "none"
        self.shop = left(self.all, self.forms) if self.counted else self.all
        return self.shop

    @property
    def counted(self) -> bool:
        """Whether what stands is left out."""
        return bool(self.forms) and bool(self.box.value)

    def words(self, lockup: Lockup | None) -> str:
        """Say who holds what a lockup takes; nothing if all is left."""
        said = " ".join(held_words(lockup, self.all, self.forms)) if lockup and self.forms else ""
        return f"It takes what others hold. {said}" if said and not self.counted else said
