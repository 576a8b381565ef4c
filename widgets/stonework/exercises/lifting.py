"""A form with hidden faults, lifted by one edge: which lines drop, why, and what mends them.

Who answers for it is the trade's own key: bad lines and letters that ride on the ends of leads are the setter's,
binding furniture and quoins ill used the locker-up's (T. MacKellar, *The American Printer*, 1893, p. 231).

A bad line is best justified again in the composing stick (A. A. Stewart, *Typesetting*, 1919, pp. 38–40, 63). Mending
it on the stone is second best, and done with all quoins slack.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stonework.exercises.numbers import Numbers
from stonework.pressing import ASSUMED, press_lines, weight_of_type
from stonework.shop import Shop
from stonework.spacing import mend_line
from stonework.units import PICA, write_length

MEASURE = 22 * PICA
BODY = 12.0
_WORD_SPACE = 4.0  # a 3-to-em space of 12 points: the usual one (S. J. Vaughn, 1912, p. 25)
_PUSH = 1100.0  # the side quoins' whole push in newtons; assumed, about two quoins at the model's four turns
_BOUND = 0.01  # how much of it passes a stick that binds; assumed

TIGHT = (
    "Slacken all quoins first: while it is locked nothing goes in without force, and nothing comes out without its "
    "neighbours."
)
SLACK = "It is slack, and everything would drop: plane lightly, and tighten it again before you lift."


@dataclass(frozen=True, slots=True)
class Condition:
    """What is wrong with a form. Lengths are points.

    ``short`` is how much each line is short of the measure, less than 0 if it is too long. ``long_lead`` is the
    line below which a lead sticks out, ``bound`` whether a stick binds, ``sprung`` whether it is locked too tight.
    ``slack`` says that all quoins are slackened to finger-tight.
    """

    short: tuple[float, ...]
    long_lead: int | None = None
    bound: bool = False
    sprung: bool = False
    slack: bool = False


@dataclass(frozen=True, slots=True)
class Lifted:
    """What a trial lift shows: the lines that drop, counted from 0, those too full, and whether the form rocks."""

    dropped: tuple[int, ...]
    crowded: tuple[int, ...]
    rocks: bool

    @property
    def holds(self) -> bool:
        """Whether the form lifts as one piece."""
        return not (self.dropped or self.crowded or self.rocks)


class Lifting:
    """A practice form drawn from its number, and what has been done to it; every step can be undone."""

    def __init__(self, number: int, shop: Shop) -> None:
        self._shop = shop
        self.begin(number)

    def begin(self, number: int) -> None:
        """Take the form with this number."""
        numbers = Numbers("loose lines", number)
        count = numbers.whole(8, 11)
        self.number = number
        self.spaces = tuple(numbers.whole(4, 6) for _ in range(count))
        short = [0.0] * count
        for low, high in ((0, 2), (4, count - 1))[: numbers.whole(1, 2)]:  # never two lines that meet
            short[numbers.whole(low, high)] = numbers.one_of((1.0, 1.5, 2.0, 2.5, 3.0, 4.0))
        trouble = numbers.one_of(("lead", "bound", "sprung", "none"))
        self.condition = Condition(
            tuple(short),
            long_lead=numbers.whole(0, count - 2) if trouble == "lead" else None,
            bound=trouble == "bound",
            sprung=trouble == "sprung",
        )
        self._began = self.condition
        self.lifted: Lifted | None = None
        self._tried: tuple[Condition, Lifted] | None = None  # the last lift: what was learnt holds while it is mended
        self._before: list[tuple[Condition, Lifted | None, tuple[Condition, Lifted] | None]] = []

    @property
    def lines(self) -> int:
        """How many lines the form has."""
        return len(self.condition.short)

    @property
    def pieces(self) -> tuple[float, ...]:
        """The widths that can go into a line: the body's spaces and the shop's thins, in points."""
        return tuple(sorted({*self._spaces(), *self._shop.thins}))

    def _spaces(self) -> tuple[float, ...]:
        """Return the spaces of this body, or those that fit it of the body nearest to it."""
        body = min(self._shop.bodies, key=lambda body: abs(body.size - BODY))
        return tuple(width for width in body.spaces if width <= BODY)

    def lift(self) -> Lifted:
        """Prop one edge, press on every line, and look what drops."""
        now = self.condition
        fullest = max(0.0, *(-short for short in now.short))
        push = _PUSH * (_BOUND if now.bound else 1.0)
        held = press_lines(push, [short + fullest for short in now.short], weight_of_type(MEASURE, BODY), ASSUMED)
        dropped = set(held.dropped)
        if now.long_lead is not None:
            dropped |= {now.long_lead, now.long_lead + 1}
        crowded = tuple(line for line, short in enumerate(now.short) if short < 0)
        self.lifted = Lifted(tuple(sorted(dropped)), crowded, now.sprung)
        self._tried = now, self.lifted
        return self.lifted

    @property
    def words(self) -> str:
        """What is seen of the form as it is now."""
        if self.condition.slack:
            return "All quoins are slack: it can be mended, and can't be lifted."
        return lifted_words(self.lifted, self.lines)

    # --- what a hand can do; each says what came of it -------------------------------------------------------

    def put_in(self, line: int, width: float) -> str:
        """Put a piece between the words of a line, if all quoins are slack."""
        if not self.condition.slack:
            return TIGHT
        short = list(self.condition.short)
        short[line] = round(short[line] - width, 2)
        self._change(replace(self.condition, short=tuple(short)))
        if short[line] < 0:
            return (
                f"Put {write_length(width)} into line {line + 1}. It no longer goes in without force: it is too long."
            )
        return f"Put {write_length(width)} into line {line + 1}."

    def take_out(self, line: int, width: float) -> str:
        """Take a piece out of a line, if all quoins are slack and that leaves something between its words."""
        if not self.condition.slack:
            return TIGHT
        short = list(self.condition.short)
        left = self.spaces[line] * _WORD_SPACE + self._began.short[line] - short[line] - width
        if left < self.spaces[line]:
            return f"So much can't come out of line {line + 1}: its words would touch."
        short[line] = round(short[line] + width, 2)
        self._change(replace(self.condition, short=tuple(short)))
        return f"Took {write_length(width)} out of line {line + 1}."

    def cut_the_lead(self, line: int) -> str:
        """Look at the lead below a line, and cut it to the measure if it sticks out."""
        if not self.condition.slack:
            return TIGHT
        if self.condition.long_lead != line:
            return f"The lead below line {line + 1} is right as it is."
        self._change(replace(self.condition, long_lead=None))
        return (
            f"The lead below line {line + 1} was longer than the measure: it took the squeeze from the lines beside "
            "it. Now it is cut. Whoever sets the type cuts the leads, a little under the measure."
        )

    def free_the_wood(self) -> str:
        """Look for a stick that binds, and free its end."""
        if not self.condition.slack:
            return TIGHT
        if not self.condition.bound:
            return "No stick binds: every end has its air."
        self._change(replace(self.condition, bound=False))
        return "One stick stood with its end against another. Now it is free. Whoever locks up sees to that."

    def slacken(self) -> str:
        """Slacken all quoins to finger-tight."""
        if self.condition.slack:
            return "All quoins are slack already."
        self._change(replace(self.condition, slack=True))
        return "All quoins are slack: a little each in turn, sides before top and bottom. Now lines can be mended."

    def tighten(self) -> str:
        """Plane lightly and tighten again in rounds, no more than the lift asks for."""
        if not self.condition.slack:
            return "It is tight already. More would only make it rise."
        risen = self.condition.sprung
        self._change(replace(self.condition, slack=False, sprung=False))
        less = ", less than before. It had risen because it was locked too tight; now it lies flat" if risen else ""
        return f"Planed lightly, and tightened again in small turns{less}."

    def undo(self) -> bool:
        """Take the last step back; say whether there was one."""
        if not self._before:
            return False
        self.condition, self.lifted, self._tried = self._before.pop()
        return True

    def felt(self) -> list[str]:
        """Say for each line that dropped what slipped into it: so a hand finds how much is missing.

        It is kept in mind while the quoins are slack, when anything slips.
        """
        if self._tried is None or (self.lifted is None and not self.condition.slack):
            return []
        seen, lifted = self._tried
        if len(lifted.dropped) == self.lines:
            return ["Every line slides under your finger: nothing presses on any of them."]
        told = []
        for line in lifted.dropped:
            short = seen.short[line]
            fits = [width for width in self.pieces if width <= short]
            stops = [width for width in self.pieces if width > short]
            if fits:
                more = f"; {stops[0]:g} pt doesn't" if stops else ""
                told.append(f"Into line {line + 1} a piece of {fits[-1]:g} pt slips{more}.")
            else:
                told.append(f"Into line {line + 1} nothing slips: it isn't short.")
        return told

    def advice(self) -> list[str]:
        """Say what would mend what the last lift showed: step by step, and only what isn't done yet."""
        slack = self.condition.slack
        if self._tried is None or (self.lifted is None and not slack):
            first = "It is slack: plane lightly, and tighten again. Then lift it" if slack else "Lift it first"
            return [f"{first}: prop one edge, press, and look what drops."]
        steps = self._mendings(*self._tried)
        if not slack and not steps:
            return ["Nothing drops: it is ready."]
        return [*([] if slack else ["Slacken all quoins."]), *steps, "Plane lightly, tighten again, and lift again."]

    def _mendings(self, seen: Condition, lifted: Lifted) -> list[str]:
        """Say what is still to be done about what a lift showed; what hides the rest comes alone."""
        now = self.condition
        if seen.sprung:
            rocks = (
                "It rocks: it is locked too tight and has risen in the middle. Let it lie flat, and tighten it less."
            )
            return [rocks] if now.sprung else []
        if seen.bound:
            binds = "All of it drops though the key felt tight: look for a stick that binds and takes the push."
            return [binds] if now.bound else []
        if seen.long_lead is not None:
            below = (
                f"Two lines that meet drop together: look at the lead between them, below line {seen.long_lead + 1}."
            )
            return [below] if now.long_lead is not None else []
        told = [
            f"Line {line + 1} is too full and takes the push before the others: take {write_length(-short)} out."
            for line, short in enumerate(now.short)
            if short < 0
        ]
        loose = [line for line in lifted.dropped if now.short[line] > 0]
        if loose:
            told.append("Best is to justify such a line again in the composing stick. Second best, on the stone:")
        return [*told, *map(self._fill, loose)]

    def _fill(self, line: int) -> str:
        """Say how a short line is filled between its words."""
        short = self.condition.short[line]
        if short != self._began.short[line]:
            return f"Line {line + 1} is still {write_length(short)} short."
        standing = [(_WORD_SPACE,)] * self.spaces[line]
        try:
            mending = mend_line(BODY, standing, short, self._spaces(), self._shop.thins, even_first=True)
        except ValueError as error:
            return f"Line {line + 1}: {error}"
        return f"Line {line + 1} is {write_length(short)} short. {' '.join(mending.sentences())}"

    def _change(self, condition: Condition) -> None:
        self._before.append((self.condition, self.lifted, self._tried))
        self.condition, self.lifted = condition, None


def lifted_words(lifted: Lifted | None, lines: int) -> str:
    """Say what a trial lift shows."""
    if lifted is None:
        return "Not lifted yet, or changed since: prop one edge and press."
    told = []
    if lifted.rocks:
        told.append("It rocks when you press a corner: it has risen in the middle.")
    if len(lifted.dropped) == lines:
        told.append("Every line drops, though the key felt tight.")
    elif lifted.dropped:
        *most, last = (str(line + 1) for line in lifted.dropped)
        told.append(f"Line{'s' * bool(most)} {', '.join(most)}{' and ' * bool(most)}{last} drop{'s' * (not most)}.")
    for line in lifted.crowded:
        told.append(f"Line {line + 1} is too full: it takes the push first, and can't be lifted out.")
    return " ".join(told) or "Nothing moves, nothing drops: the form lifts as one piece."
