"""Controls that several panels ask with: lengths, names, chases, presses, and which way a form lies."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

from ipywidgets import Box, Button, Dropdown, Layout, Text

from stonework.choosing import choose_lockup
from stonework.form import Form
from stonework.lockup import Lockup, Side
from stonework.records import nearest_chase
from stonework.shop import Chase, Placing, Shop
from stonework.units import read_length, write_length

NAMED = {"description_width": "initial"}
"""A control's style that leaves its name as much room as it needs."""


_TYPED = 0.25  # seconds without a new letter after which an answer has arrived


def button(words: str, handler: Callable[[Button], None]) -> Button:
    """Return a button that does one thing."""
    made = Button(description=words, layout=Layout(width="auto"))
    made.on_click(handler)
    return made


def step_by_key(*, back: Button, on: Button) -> None:
    """Let two buttons be pressed by a presenter's keys while the page is shown to a class."""
    back.add_class("stonework-back")
    on.add_class("stonework-next")


def row(children: Sequence[Any], name: str) -> Box:
    """Return controls side by side that wrap in a narrow window; ``name`` is their class on the page."""
    made = Box(list(children), layout=Layout(flex_flow="row wrap", overflow="visible"))
    made.add_class(name)
    return made


def set_quietly(values: Iterable[tuple[Any, Any]], handler: Callable[..., None]) -> None:
    """Set controls to values of the workbook's own, without calling the handler that listens to them."""
    for control, value in values:
        control.unobserve(handler, "value")
        control.value = value
        control.observe(handler, "value")


def when_entered(box: Text, check: Callable[[], None]) -> Callable[[], None]:
    """Call ``check`` when Enter is pressed in a box, once all that was typed before it has arrived.

    The browser tells of the key at once, but holds back what was typed while the kernel is busy: a fast typist's
    last letters come after it. Returns a function that forgets a key that still waits for them.
    """
    waiting: list[asyncio.TimerHandle] = []

    def forget() -> None:
        while waiting:
            waiting.pop().cancel()

    def wait() -> None:
        forget()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # no kernel, no browser, nothing on its way
            check()
        else:
            waiting.append(loop.call_later(_TYPED, done))

    def done() -> None:
        waiting.clear()
        check()

    def told(_box: Text, content: dict[str, Any], _buffers: Any) -> None:
        if content.get("event") == "submit":
            wait()

    def changed(_change: Any) -> None:
        if waiting:
            wait()

    box.on_msg(told)
    box.observe(changed, "value")
    return forget


def chase_of(shop: Shop, name: str | None) -> Chase:
    """Return the chase that a lesson names, or the first; the nearest in size where this shop has none of that name."""
    return shop.chases[0] if name is None else nearest_chase(shop.chases, name)


SOLID: dict[str, tuple[Side, Side]] = {
    "bottom and left": ("bottom", "left"),
    "bottom and right": ("bottom", "right"),
    "top and left": ("top", "left"),
    "top and right": ("top", "right"),
}
FREELY = ""
"""The value of a list whose choice is left to the solver."""
HEADS: dict[str, Side] = {"the top": "top", "the left": "left", "the right": "right", "the bottom": "bottom"}


def head_box(*, freely: bool = False) -> Dropdown:
    """Return a list of the ways in which a form's head may point in its chase; ``freely`` adds ``FREELY``."""
    options = {**HEADS, "whichever is best": FREELY} if freely else HEADS
    return Dropdown(options=options, description="Head points to", style=NAMED)


def press_and_chase(shop: Shop, chase: str | None, *, freely: bool = False) -> tuple[Dropdown, Dropdown]:
    """Return a list of the shop's presses and one of the chases that the chosen press takes.

    In a shop whose file names no presses the first is hidden and takes every chase. ``freely`` adds ``FREELY`` to the
    chases.
    """
    presses = Dropdown(
        options=[("any", ""), *((press.name, press.name) for press in shop.presses)], description="Press", style=NAMED
    )
    chases = Dropdown(
        options=_listed([one.name for one in shop.chases], freely),
        value=chase_of(shop, chase).name,
        description="Chase",
        style=NAMED,
    )
    if not shop.presses:
        presses.layout.display = "none"

    def offer(_change: Any) -> None:
        taken = [one.name for one in shop.chases_of(presses.value)] or [one.name for one in shop.chases]
        # A new list chooses its first: so the chase on the stone stays, and nobody who listens hears of a change.
        chosen = chases.value
        chases.options = _listed(sorted(taken, key=lambda name: name != chosen), freely)
        if freely and chosen == FREELY:
            chases.value = FREELY

    presses.observe(offer, "value")
    return presses, chases


def _listed(names: list[str], freely: bool) -> list[Any]:
    """Return chases as a list offers them, the free choice last."""
    return [*((name, name) for name in names), ("the smallest that works", FREELY)] if freely else names


def by_custom(form: Form, chase: Chase, custom: Placing) -> dict[str, Any]:
    """Return where a form lying so is asked for by custom, as options of the solver."""
    x, y = (chase.width - form.width) / 2 + custom.right, (chase.height - form.height) / 2 + custom.up
    return {"target": (x, y), "tolerance": custom.tolerance, "solid": custom.guides}


def name_box(placeholder: str, words: str, handler: Callable[..., None], name: str = "") -> tuple[Text, Button]:
    """Return a box for a lockup's name and the button beside it; Enter in the box does what the button does."""
    box = Text("", placeholder=placeholder, description=name or "Name of the lockup", style=NAMED)
    forget = when_entered(box, lambda: handler(None))

    def press(pressed: Button) -> None:
        forget()  # Enter and the button, one after the other, ask once
        handler(pressed)

    return box, button(words, press)


def length_box(value: str, name: str) -> Text:
    """Return a box for a length, read when Enter is pressed or the box is left."""
    return Text(value, description=name, continuous_update=False, style=NAMED)


def first_lockup(shop: Shop, width: str, height: str, chase: str | None) -> Lockup:
    """Return a lockup to begin with, by the custom of the first press that takes the chase.

    Raises ``ValueError``, a sentence, if the cabinet gives none.
    """
    form, taken = Form(read_length(width), read_length(height)), chase_of(shop, chase)
    press = next((one.name for one in shop.presses if taken.name in one.chases), "")
    custom = by_custom(form, taken, shop.custom(press))
    lockup = choose_lockup(form, taken, shop, **custom)
    return replace(lockup, job=replace(lockup.job, press=press))


def mount_box(shop: Shop, width: Text, height: Text, handler: Callable[..., None]) -> Dropdown:
    """Return a list of the shop's cuts and bases; one chosen gives the form its size, and ``handler`` hears of it once.

    In a shop whose file names none it is hidden.
    """
    mounts = {one.name: one for one in (*shop.cuts, *shop.bases)}
    box = Dropdown(options=[("none of these", ""), *((name, name) for name in mounts)], description="A cut or base")
    box.style = NAMED
    if not mounts:
        box.layout.display = "none"

    def take(change: dict[str, Any]) -> None:
        if change["new"]:
            mount = mounts[change["new"]]
            set_quietly([(width, write_length(round(mount.width, 2)))], handler)
            before, height.value = height.value, write_length(round(mount.height, 2))
            if height.value == before:  # nobody heard of a height that stayed
                handler()

    box.observe(take, "value")
    return box
