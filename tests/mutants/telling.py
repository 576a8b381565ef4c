"""What is said of a run: how many were caught, and which were not."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

from mutant import Mutant
from trying import CAUGHT, TIMED_OUT

_ITEM = re.compile(r"^- (`.+? becomes `.*?`)\.(?: |$)", re.MULTILINE)


def known(path: Path) -> dict[str, str]:
    """Read the list of survivors: for each the heading under which it stands."""
    found = {}
    for section in re.split(r"^## ", path.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        heading = section.partition("\n")[0].strip()
        found |= {name: heading for name in _ITEM.findall(section)}
    return found


def tell(outcomes: Mapping[Mutant, str], made: int, listed: Mapping[str, str]) -> str:
    """Say in lines what came of a run."""
    count = Counter(outcomes.values())
    noticed = count[CAUGHT] + count[TIMED_OUT]
    left = {mutant: what for mutant, what in outcomes.items() if what not in (CAUGHT, TIMED_OUT)}
    lines = [
        f"{len(outcomes)} tried of {made:,} that can be made: "
        + ", ".join(f"{number} {what}" for what, number in count.most_common())
        + ".",
        f"Caught or timed out: {_share(noticed, len(outcomes))}.",
    ]
    under = Counter(listed.get(mutant.name, "Not in the list yet") for mutant in left)
    lines += [f"Of the {len(left)} that weren't: {number} {heading}." for heading, number in under.most_common()]
    equivalent = under["Equivalent"]
    lines.append(f"Without those that are equivalent: {_share(noticed, len(outcomes) - equivalent)}.")
    lines += ["", *_table("What was changed", outcomes, lambda mutant: mutant.kind)]
    lines += ["", *_table("Where", outcomes, lambda mutant: mutant.module.partition("/")[0])]
    return "\n".join(lines)


def _share(part: int, whole: int) -> str:
    return f"{part} of {whole}, {100 * part / whole:.1f} %" if whole else "none"


def _table(title: str, outcomes: Mapping[Mutant, str], of: Callable[[Mutant], str]) -> list[str]:
    whole = Counter(of(mutant) for mutant in outcomes)
    part = Counter(of(mutant) for mutant, what in outcomes.items() if what in (CAUGHT, TIMED_OUT))
    return [f"{title}:", *(f"  {name}: {_share(part[name], number)}" for name, number in whole.most_common())]
