"""What a screen reader is given of a page: Chromium's own accessibility tree, told in its order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from playwright.sync_api import Page

# Roles whose insides are never told: WAI-ARIA 1.2, “Children Presentational: True”, as Chromium names them.
_WHOLE = {"button", "checkbox", "image", "img", "radio", "switch", "tab"}
# What a list or box holds is its value, told with it.
_VALUES = {"combobox", "textbox", "spinbutton", "MenuListPopup"}
CONTROLS = {"button", "checkbox", "combobox", "DisclosureTriangle", "link", "radio", "slider", "spinbutton", "textbox"}


class Heard(NamedTuple):
    """One thing that is told: what it is and is called, how it stands, the page's element, and the panels round it."""

    role: str
    name: str
    described: str
    states: dict[str, Any]
    tag: str
    attributes: dict[str, str]
    panels: int

    @property
    def classes(self) -> list[str]:
        return self.attributes.get("class", "").split()


def hear(page: Page) -> list[Heard]:
    """Return all that is told of a lesson, from the bar above it to its end."""
    session = page.context.new_cdp_session(page)
    session.send("DOM.enable")
    session.send("Accessibility.enable")
    elements = {one["backendNodeId"]: one for one in _elements(session.send("DOM.getDocument", _ALL)["root"])}
    nodes = {one["nodeId"]: one for one in session.send("Accessibility.getFullAXTree")["nodes"]}
    session.detach()
    (main,) = (one for one in nodes.values() if one.get("role", {}).get("value") == "main")
    return list(_told(main, nodes, elements))


_ALL = {"depth": -1, "pierce": False}


def _elements(node: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield node
    for child in node.get("children", ()):
        yield from _elements(child)


def _told(node: dict[str, Any], nodes: dict[str, Any], elements: dict[int, Any], panels: int = 0) -> Iterator[Heard]:
    role = node.get("role", {}).get("value", "")
    element = elements.get(node.get("backendDOMNodeId", -1), {})
    flat = element.get("attributes", [])
    attributes = dict(zip(flat[::2], flat[1::2], strict=True))
    panel = "stonework-panel" in attributes.get("class", "").split()
    if panel or not node.get("ignored"):
        states = {one["name"]: one["value"].get("value") for one in node.get("properties", ())}
        name, described = (node.get(key, {}).get("value") or "" for key in ("name", "description"))
        yield Heard(role, name, described, states, element.get("nodeName", "").lower(), attributes, panels)
    if role not in _WHOLE | _VALUES:
        for child in node.get("childIds", ()):
            if child in nodes:
                yield from _told(nodes[child], nodes, elements, panels + panel)


def words(told: list[Heard]) -> str:
    """Return every word that is told as text, without spaces: a tree and a page break their lines differently."""
    spoken = (one.name for one in told if one.role == "StaticText" or one.tag == "button")
    return "".join("".join(spoken).split())
