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
        now.follow(_say)
        _say()
    return _LINES[now]


def _say() -> None:
    for now, line in _LINES.items():
        name = escape(now.name or "No name given yet")
        if now.asked:
            name += f" – whether “{escape(now.asked)}” is somebody else isn't answered yet"
        line.value = f'<p class="stonework-foot">{name}{told_of_two()}</p>'


def say_again() -> None:
    """Say it anew: another page was heard of."""
    _say()
