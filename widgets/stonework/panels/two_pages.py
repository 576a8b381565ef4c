"""Two pages on one kernel: what is done in one shows in the other, and whoever sits there must know."""

from __future__ import annotations

_TOLD = (
    " <strong>This lesson is open in two windows that share one record: what is done in one happens in the other. "
    "Close one of them.</strong>"
)


_ALONE = 12  # things done in one page, and nothing in another, after which it is alone; this workbook's own figure


class Pages:
    """The pages that were heard of, each by the mark that a browser gives it.

    A page that is loaded again gets a new mark, and the old one is never heard again. So there are two only when one
    is heard, then another, and then the first once more.
    """

    def __init__(self) -> None:
        self._heard: list[str] = []
        self._alone = 0  # how often in a row the same was heard
        self.two = False

    def hear(self, mark: str) -> bool:
        """Hear of a page; say whether it shows only now that there are two, or that there is one again."""
        if not mark or (self._heard and mark == self._heard[-1]):
            self._alone += 1
            if self._alone >= _ALONE:  # the other was closed
                self._heard, ended = self._heard[-1:], self.two
                self.two = False
                return ended
            return False
        self._alone = 0
        back = mark in self._heard
        self._heard = [*(one for one in self._heard if one != mark), mark]
        new, self.two = back and not self.two, self.two or back
        return new


PAGES = Pages()


def mark_of_page() -> str:
    """Return the mark of the page that asks at this moment; nothing where there is no kernel."""
    from IPython import get_ipython

    shell = get_ipython()
    kernel = getattr(shell, "kernel", None)
    parent = kernel.get_parent() if kernel is not None else None
    mark = (parent or {}).get("header", {}).get("session", "")
    return mark if isinstance(mark, str) else ""


def told_of_two() -> str:
    """Return what is said where there are two, as HTML."""
    return _TOLD if PAGES.two else ""
