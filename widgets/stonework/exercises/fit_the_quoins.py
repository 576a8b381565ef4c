"""The questions of lesson 4: how far a quoin is open, what wood it wants, and how many turns it has left."""

from __future__ import annotations

from stonework.drawing.picture import Picture
from stonework.drawing.wedge import WedgeView
from stonework.drawing.words import in_picas, in_points
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Count, Length, Misreading, Variant, of_lesson
from stonework.lockup import SLACK
from stonework.shop import Quoin, Shop
from stonework.units import PICA, write_length

LESSON, VERSION = "04-quoins", 1
_REGLET = 6.0  # one on each face of the quoins, in points


def _measures(quoin: Quoin) -> str:
    return (
        f"The {quoin.name} quoin is {write_length(quoin.closed)} thick when shut and opens {quoin.travel:g} pt; the "
        f"last {write_length(quoin.reserve)} are its reserve."
    )


def _how_far_open(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    opening = numbers.whole(2, int(quoin.most_open)) + numbers.one_of((0, 0.5))
    furniture = PICA * numbers.whole(2, 9)
    gap = furniture + 2 * _REGLET + quoin.closed + opening
    if opening > quoin.most_open:
        return None
    return Variant(
        task=f"The gap above a form is {write_length(gap)}. In it lie {in_picas(furniture)} picas of furniture, a "
        f"reglet of 6 pt on either face of the quoins, and the quoins. {_measures(quoin)} How far do they stand open?",
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
            ),
            Misreading(
                in_points(opening + _REGLET),
                "That counts one reglet. There is one on either face, toward the form and toward the chase.",
            ),
            Misreading(
                in_points(opening + 2 * _REGLET),
                "That leaves out the reglets. Thin as they are, they fill a pica of the gap.",
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
            return "With so little wood the quoins must open into their reserve, or never reach at all."
        if left < 1:
            return "So the quoins lie as good as shut: they could never be slackened."
        return ""

    return Variant(
        task=f"The gap at the right of a form is {write_length(gap)}. {_measures(quoin)} It rests best "
        f"{write_length(quoin.rest)} open. A reglet of 6 pt goes on either face. How much furniture and other reglet "
        "do you lay beside the form?",
        reader=Length(tolerance=0.3),
        right=in_points(furniture),
        why="Wood decides how far a quoin must open. Too much and it doesn't go in; too little and it works in its "
        "reserve.",
        hints=(
            "Begin with the gap, and take away what must be in it whatever happens: two reglets, and the quoins shut.",
            "Of what is left, keep a few points for the quoins to open. The rest is wood.",
        ),
        solution=f"{gap:g} − 2 × 6 − {quoin.closed:g} = {room:g} points for wood and opening. {furniture:g} points of "
        f"wood leave {opening:g} points open. Anything that leaves from 1 to {quoin.most_open:g} points will do.",
        misreadings=(
            Misreading(
                in_points(room),
                "That fills the gap to the last point, with the quoins shut. They need a few points open, or they can "
                "never be slackened.",
            ),
            Misreading(
                in_points(room - opening + quoin.closed),
                "That leaves out the quoins themselves. Even shut they are thick.",
            ),
            Misreading(
                in_points(furniture + 2 * _REGLET),
                "That leaves out the two reglets. They take a pica together.",
            ),
        ),
        sound=sound,
        facts={"height": gap, "depth": gap},
    )


def _turns_left(numbers: Numbers, shop: Shop) -> Variant | None:
    quoin = numbers.one_of(shop.quoins)
    turn = numbers.one_of((0.5, 0.75, 1.0, 1.5))
    opening = numbers.whole(4, 2 * int(quoin.most_open) - 2) / 2
    left, all_left = quoin.most_open - opening, quoin.travel - opening
    turns = int((left + 1e-9) / turn)
    if turns < 1:
        return None

    to_the_end, from_shut = (int((way + 1e-9) / turn) for way in (all_left, quoin.most_open))
    roads = {
        to_the_end: "That counts on to the last notch. Those last points are the reserve: a quoin there can soon push "
        "no further, and at the last notch it endangers itself and the chase.",
        from_shut: "That counts from shut. It is open already: take that away first.",
        turns + 1: "That is one too many: the last of these turns would end within the reserve.",
    }

    def picture(name: str) -> Picture:
        view = WedgeView(name)
        view.draw(quoin, opening)
        return view

    return Variant(
        task=f"{_measures(quoin)} It stands {in_points(opening)} open, and a quarter turn of this key opens it "
        f"{in_points(turn)}. How many whole quarter turns can you give before its reserve begins?",
        reader=Count("Quarter turns"),
        right=str(turns),
        why="Count before you turn. A quoin that arrives at its reserve says: slacken me, and put in wood.",
        hints=(
            "How far may it open at most, if the reserve is left alone?",
            "From there take away how far it is open already. How often does a quarter turn go into that?",
        ),
        solution=f"It may open {quoin.travel:g} − {quoin.reserve:g} = {quoin.most_open:g} points. {left:g} of them are "
        f"left, and {turn:g} goes into that {turns} times.",
        misreadings=tuple(Misreading(str(count), words) for count, words in roads.items() if count != turns),
        picture=picture,
        facts={"turn": turn},
    )


def _your_own_turn(numbers: Numbers, shop: Shop) -> Variant | None:
    turns = numbers.one_of((2, 3, 4))
    turn = numbers.one_of((0.5, 0.75, 1.0, 1.25, 1.5, 2.0))
    quoin = numbers.one_of(shop.quoins)
    before = quoin.closed + numbers.whole(1, 3)
    after = before + turns * turn
    return Variant(
        task=f"You measure a quoin with a caliper: {write_length(before)} thick. You give it {turns} quarter turns and "
        f"measure again: {write_length(after)}. How far does one quarter turn open it?",
        reader=Length(tolerance=0.04),
        right=in_points(turn),
        why="Quoins differ many times over in this. Measure your own once, and you know what a turn does under your "
        "hand.",
        hints=(
            "How much thicker has it become in all?",
            f"Share that among the {turns} quarter turns.",
        ),
        solution=f"{after:g} − {before:g} = {turns * turn:g} points; ÷ {turns} = {turn:g} points a quarter turn.",
        misreadings=(
            Misreading(
                in_points(turns * turn),
                f"That is what all {turns} quarter turns did together.",
            ),
            Misreading(
                in_points(after),
                "That is how thick the quoin is now. What did it gain?",
            ),
        ),
        facts={"turn": turn},
    )


_FACES = {
    "a reglet on both faces": "",
    "a reglet toward the form only": "Between quoin and chase iron would bear on iron: it slips, and it bruises the "
    "chase.",
    "a reglet toward the chase only": "Toward the form the quoin would bruise the furniture, and dent it more at "
    "every lockup.",
    "nothing: the quoin grips best on furniture": "It would bruise the furniture on one face and slip on iron on the "
    "other. Reglet is cheap to lose, furniture isn't.",
}


def _both_faces(numbers: Numbers, shop: Shop) -> Variant:
    gap = PICA * numbers.whole(7, 14)
    right, *wrong = _FACES
    return Variant(
        task=f"A gap of {in_picas(gap)} picas lies between a form and the rail of its chase. Furniture goes next to "
        "the form, then the quoins. What do you lay against the quoins?",
        reader=Choice(numbers.shuffled(_FACES)),
        right=right,
        why="Wood between metal and metal, and cheap wood against the quoin.",
        hints=("A quoin has two faces. What does each of them bear on?", "What is bruised, and what slips?"),
        solution="A reglet on both faces: toward the furniture it saves the furniture, toward the rail it keeps iron "
        "off iron.",
        misreadings=tuple(Misreading(answer, _FACES[answer]) for answer in wrong),
        facts={"height": gap},
    )


QUOINS = of_lesson(
    LESSON,
    VERSION,
    ("how-far-open", "How far open?", _how_far_open),
    ("how-much-wood", "How much wood?", _how_much_wood),
    ("both-faces", "Both faces", _both_faces),
    ("your-own-turn", "Your own quarter turn", _your_own_turn),
    ("turns-left", "Turns left", _turns_left),
)
