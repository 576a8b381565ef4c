"""Rules for what the shop has and what the job wants."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from stonework.lockup import SLACK, pattern_of
from stonework.rules.geometry import rounded, size_words, stock_of, written
from stonework.rules.rule import COMMON, Remark, rule
from stonework.rules.scene import Scene
from stonework.units import write_length


@rule("what the cabinet holds", "fault", "the cabinet has every piece", COMMON)
def _cabinet(scene: Scene) -> Iterator[Remark]:
    there = stock_of(scene.shop)
    for material, used in Counter(map(rounded, scene.lockup.materials)).items():
        if used > there[material]:
            yield Remark(
                size_words(material),
                f"The lockup takes {used} of these; the cabinet holds {there[material]}.",
                "Make up the same thickness from other pieces.",
            )
    yield from _leads(scene)
    yield from _quoins(scene)


def _leads(scene: Scene) -> Iterator[Remark]:
    """Look for leads and slugs that neither lie in the rack by their length nor can be cut from a strip."""
    shop = scene.shop
    strips = {round(thickness, 2) for thickness in (*shop.leads, *shop.slugs)}
    there = Counter({rounded(material): count for material, count in shop.strips.items()})
    for lead, used in Counter(map(rounded, scene.lockup.leads)).items():
        if lead.thickness in strips:
            continue
        if lead.thickness not in {round(material.thickness, 2) for material in shop.strips}:
            yield Remark(
                size_words(lead),
                f"The shop has no leads or slugs {write_length(lead.thickness)} thick.",
                "Make up the same thickness from those that it has.",
            )
        elif used > there[lead]:
            yield Remark(
                size_words(lead),
                f"The lockup takes {used} of these; the rack holds {there[lead]}, and no such strip to cut.",
                "Use another length or thickness.",
            )


def _quoins(scene: Scene) -> Iterator[Remark]:
    """Look for patterns of which the lockup takes more quoins than the shop has counted."""
    found = [pattern_of(item, scene.shop.quoins) for item in scene.lockup.items if item.kind == "quoin"]
    for pattern, used in Counter(filter(None, found)).items():
        if pattern.count is not None and used > pattern.count:
            yield Remark(
                f"quoins, {pattern.name}",
                f"The lockup takes {used} of these; the shop has {pattern.count}.",
                "Use fewer, or another pattern on one of the sides.",
            )


@rule("in its place", "fault", "the form stands where it was wanted, near enough", COMMON)
def _place(scene: Scene) -> Iterator[Remark]:
    form, intent = scene.lockup.form, scene.intent
    for off, more, less in ((form.x - intent.x, "far right", "far left"), (form.y - intent.y, "high", "low")):
        if abs(off) > intent.tolerance + SLACK:
            yield Remark(
                "the form",
                f"It stands {written(abs(off))} too {more if off > 0 else less}.",
                "Exchange pieces between the two opposite sides.",
            )


@rule("within what the press prints", "fault", "the type lies inside the area that the job's press prints", COMMON)
def _printed(scene: Scene) -> Iterator[Remark]:
    press = next((one for one in scene.shop.presses if one.name == scene.lockup.job.press), None)
    if press is None or press.usable is None:
        return
    chase, area = scene.lockup.chase, scene.lockup.type_area
    (wide, high), middle = press.usable, (chase.width / 2, chase.height / 2)
    over = {
        "left": middle[0] - wide / 2 - area.x,
        "right": area.x + area.width - middle[0] - wide / 2,
        "bottom": middle[1] - high / 2 - area.y,
        "top": area.y + area.height - middle[1] - high / 2,
    }
    for side, by in over.items():
        if by > SLACK:
            yield Remark(
                f"{side} of the form",
                f"It reaches {written(by)} beyond what the {press.name} prints.",
                "Place the form nearer the middle, or take another press.",
            )
