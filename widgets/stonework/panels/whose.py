"""Whose page this is: a line that stands in every panel and follows the name."""

from __future__ import annotations

from html import escape

from ipywidgets import HTML

from stonework.panels.two_pages import told_of_two
from stonework.people import Here, here

_LINES: dict[Here, HTML] = {}


def whose() -> HTML:
    """Return the line that says who works here: one for all panels of a page, which never pile up."""
    now = here()
    if now not in _LINES:
        _LINES[now] = HTML()
        _LINES[now].add_class("stonework-whose")
        now.follow(say_again)
        say_again()
    return _LINES[now]


def say_again() -> None:
    """Say who works here, and whether there are two pages, as it is now."""
    for now, line in _LINES.items():
        name = escape(now.name or "No name given yet")
        if now.asked:
            name += f" – whether “{escape(now.asked)}” is somebody else isn't answered yet"
        line.value = f'<p class="stonework-foot">{name}{told_of_two()}</p>'
