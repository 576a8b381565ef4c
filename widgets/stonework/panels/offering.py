"""Files that a panel offers: each a link to save it by."""

from __future__ import annotations

import base64
from html import escape

KINDS = {"pdf": "application/pdf", "csv": "text/csv"}
"""The endings of the files that are offered, with their media types."""


def link(name: str, data: bytes) -> str:
    """Return a link that saves a file under a name, as HTML."""
    kind, packed = KINDS[name.rpartition(".")[2]], base64.b64encode(data).decode()
    return f'<a download="{escape(name)}" href="data:{kind};base64,{packed}">Save {escape(name)}</a>'
