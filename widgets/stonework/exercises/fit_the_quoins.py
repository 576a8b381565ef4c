"""The questions of lesson 4: how far a quoin is open, what wood it wants, and how many turns it has left."""

from __future__ import annotations

from stonework.drawing.picture import Picture
from stonework.drawing.wedge import WedgeView
from stonework.drawing.words import in_points
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Count, Length, Misreading, Variant, of_lesson
from stonework.lockup import SLACK
from stonework.shop import AS_GOOD_AS_SHUT, LAST_NOTCH, Quoin, Shop
from stonework.tightening import SMALL_TURN
from stonework.units import PICA, write_length

LESSON, VERSION = "04-quoins", 2
_REGLET = 6.0  # one on each face of the quoins, in points


def _measures(quoin: Quoin) -> str:
    return (
        f"The {quoin.name} is {write_length(quoin.closed)} thick when shut and opens {in_points(quoin.travel)} in all; "
        f"the last {in_points(quoin.reserve)} are its reserve."
    )


def _how_far_open(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    opening = numbers.whole(2, int(quoin.most_open)) + numbers.one_of((0, 0.5))
    furniture = PICA * numbers.whole(2, 9)
    gap = furniture + 2 * _REGLET + quoin.closed + opening
    if opening > quoin.most_open:
        return None
    return Variant(
        task=f"The gap above a form is {write_length(gap)}. In it lie {write_length(furniture)} of furniture, a "
        f"reglet of 6 pt on either face of the quoins, and the quoins, finger-tight. {_measures(quoin)} How far do "
        "they stand open?",
        reader=Length(tolerance=0.3),
        right=in_points(opening),
        why="What the wood doesn't fill, the quoins must. So you can reckon how far they will open before you lay "
        "them.",
        hints=(
            "Take everything out of the gap that isn't quoin: the furniture and both reglets.",
            "What is left is how thick the quoins stand. How thick are they when shut?",
        ),
        solution=f"{gap:g} − {furniture:g} − 2 × 6 = {gap - furniture - 2 * _REGLET:g} points for the quoins. Shut "
        f"they are {quoin.closed:g}, so they stand open {opening:g} points.",
        misreadings=(
            Misreading(
                in_points(quoin.closed + opening),
                "That is how thick the quoins stand. Take away what they measure shut: the rest is their opening.",
                "gave the quoins' whole thickness",
            ),
            Misreading(
                in_points(opening + _REGLET),
                "That counts one reglet. There is one on either face, toward the form and toward the chase.",
                "counted one reglet only",
            ),
            Misreading(
                in_points(opening + 2 * _REGLET),
                "That leaves out the reglets. Thin as they are, they fill a pica of the gap.",
                "left out the reglets",
            ),
        ),
        facts={"depth": gap, "height": gap},
    )


def _how_much_wood(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    furniture = PICA * numbers.whole(3, 12)
    opening = quoin.rest + numbers.whole(0, 2)
    gap = furniture + 2 * _REGLET + quoin.closed + opening
    room = gap - 2 * _REGLET - quoin.closed

    def sound(wood: float) -> str:
        left = room - wood
        if left < -SLACK:
            return "With so much wood the quoins don't go in, even shut."
        if left > quoin.most_open + SLACK:
            return "With so little wood the quoins, only finger-tight, would use their reserve already, or never reach."
        if left < AS_GOOD_AS_SHUT:
            return "So the quoins lie as good as shut: they could never be slackened."
        return ""

    return Variant(
        task=f"The gap at the right of a form is {write_length(gap)}. {_measures(quoin)} It rests best "
        f"{write_length(quoin.rest)} open. A reglet of 6 pt goes on either face. How much furniture and other reglet "
        "do you lay beside the form?",
        reader=Length(tolerance=0.3),
        right=in_points(furniture),
        why="Wood decides how far a quoin must open. Too much and it doesn't go in; too little and nothing is left for "
        "tightening.",
        hints=(
            "Begin with the gap, and take away what must be in it whatever happens: two reglets, and the quoins shut.",
            "Of what is left, keep a few points for the quoins to open. The rest is wood.",
        ),
        solution=f"{gap:g} − 2 × 6 − {quoin.closed:g} = {room:g} points for wood and opening. {furniture:g} points of "
        f"wood leave {opening:g} points open. Anything that leaves from 1 to {quoin.most_open:g} points will do; the 1 "
        "is this workbook's own figure.",
        misreadings=(
            Misreading(
                in_points(room),
                "That fills the gap to the last point, with the quoins shut. They need a few points open, or they can "
                "never be slackened.",
                "left no room to open",
            ),
            Misreading(
                in_points(room - opening + quoin.closed),
                "That leaves out the quoins themselves. Even shut they are thick.",
                "left out the quoins",
            ),
            Misreading(
                in_points(furniture + 2 * _REGLET),
                "That leaves out the two reglets. They take a pica together.",
                "left out the reglets",
            ),
        ),
        sound=sound,
        facts={"height": gap, "depth": gap},
    )


def _turns_left(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    opening = numbers.whole(2, 2 * int(quoin.most_open)) / 2
    if opening > quoin.most_open:
        return None
    left = quoin.most_tight - opening
    turns, to_the_end, from_shut, from_reserve = (
        int(way / SMALL_TURN + 1e-9) for way in (left, left + LAST_NOTCH, quoin.most_tight, quoin.most_open - opening)
    )
    if turns < 1:
        return None
    roads = {
        to_the_end: (
            "That counts on to the very end. Nothing may reach the last notch: stop a point before it.",
            "went on to the last notch",
        ),
        from_shut: (
            "That counts from shut. Finger-tight it is open already: take that away first.",
            "counted from shut",
        ),
        from_reserve: (
            "That stops where the reserve begins. But the reserve is kept for just this: tightening uses it.",
            "stopped at the reserve",
        ),
        turns + 1: (
            "That is one too many: the last of these turns would come within a point of the last notch.",
            "counted one turn too many",
        ),
    }

    def picture(name: str) -> Picture:
        view = WedgeView(name)
        view.draw(quoin, opening)
        return view

    return Variant(
        task=f"{_measures(quoin)} Finger-tight it stands {in_points(opening)} open. A small turn opens it "
        f"{in_points(SMALL_TURN)}, and tightening stops {in_points(LAST_NOTCH)} before the last notch. How many small "
        "turns can it have at most?",
        reader=Count("Small turns"),
        right=str(turns),
        why="Count before you turn. If that is fewer than the lift is likely to ask for, put in more wood now.",
        hints=(
            "How far open may tightening bring it at most?",
            "From there take away how far it is open already. How often does a small turn go into that?",
        ),
        solution=f"Tightening may bring it to {quoin.travel:g} − {LAST_NOTCH:g} = {quoin.most_tight:g} points. "
        f"{left:g} of them are left, and {SMALL_TURN:g} goes into that {turns} times.",
        misreadings=tuple(Misreading(str(count), *told) for count, told in roads.items() if count != turns),
        picture=picture,
        facts={"turn": SMALL_TURN},
    )


def _how_far_the_key(numbers: Numbers, shop: Shop) -> Variant | None:
    share = numbers.whole(2, 14)
    turn = share * SMALL_TURN
    more = share * turn
    return Variant(
        task=f"A quarter turn of your key opens your quoin {in_points(turn)}, and you want it to open by "
        f"{in_points(SMALL_TURN)}. How much of a quarter turn is that? Write it as one part in so many: 3 for a third.",
        reader=Count("One part in"),
        right=str(share),
        why="A small turn is the same for the form with every quoin; for the hand it is a nudge with one and half a "
        "turn with another.",
        hints=(
            "How often does half a point go into what a quarter turn does?",
            "Divide what a quarter turn opens by half a point.",
        ),
        solution=f"{turn:g} ÷ {SMALL_TURN:g} = {share}: one part in {share} of a quarter turn.",
        misreadings=tuple(
            Misreading(str(count), *told)
            for count, told in {
                round(turn): (
                    "That is what a quarter turn does, in points. How often does half a point go into it?",
                    "gave points, not parts",
                ),
                round(more): ("That multiplies by the parts. Divide instead.", "multiplied instead of dividing"),
                4 * share: (
                    "That is the part of a whole turn. The question asks for a part of a quarter turn.",
                    "reckoned with a whole turn",
                ),
            }.items()
            if count != share
        ),
        facts={"turn": turn},
    )


def _your_own_turn(numbers: Numbers, shop: Shop) -> Variant | None:
    turns = numbers.one_of((2, 3, 4))
    turn = numbers.one_of((0.5, 0.75, 1.0, 1.25, 1.5, 2.0))
    quoin = numbers.one_of(shop.quoins)
    before = quoin.closed + numbers.whole(1, 3)
    after = before + turns * turn
    if after - quoin.closed > quoin.most_tight:
        return None
    return Variant(
        task=f"With nothing pressing on it you measure a quoin with a caliper: {write_length(before)} thick. You give "
        f"it {turns} quarter turns and measure again: {write_length(after)}. How far does one quarter turn open it?",
        reader=Length(tolerance=0.04),
        right=in_points(turn),
        why="Quoins differ many times over in this. Measure your own once, and write the figure into the shop's file, "
        "as turn: then cards and sheets say how far your key moves.",
        hints=(
            "How much thicker has it become in all?",
            f"Share that among the {turns} quarter turns.",
        ),
        solution=f"{after:g} − {before:g} = {turns * turn:g} points; ÷ {turns} = {turn:g} points a quarter turn.",
        misreadings=(
            Misreading(
                in_points(turns * turn),
                f"That is what all {turns} quarter turns did together.",
                "gave all the turns together",
            ),
            Misreading(
                in_points(after),
                "That is how thick the quoin is now. What did it gain?",
                "gave the quoin's thickness",
            ),
        ),
        facts={"turn": turn},
    )


_FACES = (
    Misreading(
        "a reglet toward the form only",
        "Between quoin and chase iron would bear on iron: it slips, and it bruises the chase.",
        "left iron on iron",
    ),
    Misreading(
        "a reglet toward the chase only",
        "Toward the form the quoin would bruise the furniture, and dent it more at every lockup.",
        "left the furniture bare",
    ),
    Misreading(
        "nothing: the quoin grips best on furniture",
        "It would bruise the furniture on one face and slip on iron on the other. Reglet is cheap to lose, furniture "
        "isn't.",
        "laid nothing against the quoins",
    ),
)


def _both_faces(numbers: Numbers, shop: Shop) -> Variant | None:
    gap = PICA * numbers.whole(7, 14)
    quoin = numbers.one_of(shop.quoins)
    if quoin.bears_on != "reglet":
        return None
    right = "a reglet on both faces"
    return Variant(
        task=f"A gap of {write_length(gap)} lies between a form and the rail of its chase. Furniture goes next to "
        f"the form, then quoins: the {quoin.name}, which by the shop's file bears on reglet. What do you lay against "
        "them?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in _FACES)))),
        right=right,
        why="Wood between metal and metal, and cheap wood against the quoin.",
        hints=("A quoin has two faces. What does each of them bear on?", "What is bruised, and what slips?"),
        solution="A reglet on both faces: toward the furniture it saves the furniture, toward the rail it keeps iron "
        "off iron.",
        misreadings=_FACES,
        facts={"height": gap},
    )


QUOINS = of_lesson(
    LESSON,
    VERSION,
    ("how-far-open", "How far open?", _how_far_open),
    ("how-much-wood", "How much wood?", _how_much_wood),
    ("both-faces", "Both faces", _both_faces),
    ("your-own-turn", "Your own quarter turn", _your_own_turn),
    ("how-far-the-key", "How far the key moves", _how_far_the_key),
    ("turns-left", "Turns left", _turns_left),
)
