"""The judge: whether a lockup would hold, whoever made it.

One function for each rule of the trade. They look at rectangles only, wherever they lie, so a lockup laid by
hand is judged as strictly as the solver's. A *fault* would spoil the form or endanger it; a *caution* is work
a good hand would do better.
"""

from __future__ import annotations

from stonework.lockup import TOLERANCE, Intent, Item, Lockup
from stonework.rules.rule import Finding, rules
from stonework.rules.scene import Scene
from stonework.shop import Shop


def judge(
    lockup: Lockup, shop: Shop, *, target: tuple[float, float] | None = None, tolerance: float | None = None
) -> list[Finding]:
    """Judge a lockup by every rule, faults first.

    ``target`` is where the form's lower left corner was meant to stand and ``tolerance`` how far off it may
    be each way, in points. What isn't given is taken from the lockup's own intent, or else is the middle of the
    chase and 6 points.
    """
    chase, form, wish = lockup.chase, lockup.form, lockup.intent
    middle = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    x, y = target or ((wish.x, wish.y) if wish else middle)
    intent = Intent(x, y, (wish.tolerance if wish else TOLERANCE) if tolerance is None else tolerance)
    scene = Scene(lockup, shop, intent)
    findings = [
        Finding(
            rule.name,
            rule.severity,
            *remark[:3],
            rule.source,
            tuple(item for item in remark.items if isinstance(item, Item)),
            remark.push,
        )
        for rule in rules()
        for remark in rule.check(scene)
    ]
    return sorted(findings, key=lambda finding: finding.severity != "fault")


def sound(findings: list[Finding]) -> bool:
    """Say whether there is no fault among the findings; cautions don't count."""
    return not any(finding.severity == "fault" for finding in findings)


def rule_names() -> tuple[str, ...]:
    """Return every rule's name, in the order they are asked."""
    return tuple(rule.name for rule in rules())
