"""Whether a page is shown to a class: then pictures are lettered for the back row. One setting for the whole page."""

from __future__ import annotations

SHOW = "show to a class"
"""What the page's plug-in tells every panel when that is turned on or off."""

_now = {SHOW: False}


def showing() -> bool:
    """Say whether the page is shown to a class."""
    return _now[SHOW]


def show_to_a_class(on: bool) -> None:
    """Turn it on or off; each panel letters its own picture anew."""
    _now[SHOW] = on
