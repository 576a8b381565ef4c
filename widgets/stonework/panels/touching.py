"""How a touch in a picture reaches a panel: through a text box that nobody sees, which the page's plug-in fills."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ipywidgets import Text


def touch_box(hear: Callable[[Any], None]) -> Text:
    """Return the box; ``hear`` is told of each change. A number before the words makes every touch a new one."""
    box = Text("", description="What was touched", tabbable=False)
    box.add_class("stonework-touched")
    box.observe(hear, "value")
    return box


def read_touch(heard: str) -> tuple[str, str] | None:
    """Return a touch's words and its way, which may be nothing; ``None`` for what is no touch."""
    parts = heard.split("\t")
    if len(parts) not in (2, 3) or not parts[0].isdecimal():
        return None
    return parts[1], parts[2] if len(parts) == 3 else ""


def drag(way: str) -> tuple[float, float] | None:
    """Return how far something was dragged to the right and up, in the picture's points; ``None`` if it wasn't."""
    parts = way.split()
    if len(parts) != 3 or parts[0] != "by":
        return None
    try:
        return float(parts[1]), float(parts[2])
    except ValueError:
        return None
