"""The questions of lesson 2: the mirror, guides, margins, pages in one form, grippers; a form moved and turned."""

from __future__ import annotations

from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Length, Misreading, Variant, of_lesson
from stonework.form import Form
from stonework.lockup import PlacedForm
from stonework.moving import Strip, exchange, turning_strips
from stonework.placing import BOOK_OUTER, Margins, Sheet, book_margins, page_gaps, place_by_sheet
from stonework.shop import Shop
from stonework.units import PICA, write_length

LESSON, VERSION = "02-place-the-form", 2

_ACROSS = {"left": "right", "right": "left"}
_OTHER_END = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}
_LEADS = (1.0, 1.5, 2.0, 3.0)  # the usual ones, in points: A. A. Stewart, Typesetting, 1919, p. 21


def _which_side(numbers: Numbers, shop: Shop) -> Variant:
    what = numbers.one_of(("a small ferry", "an anchor", "the school's lamp", "a gull"))
    edge, end = numbers.one_of(("left", "right")), numbers.one_of(("head", "foot"))
    other_end = {"head": "foot", "foot": "head"}[end]
    options = [f"at the {side}, near the {way}" for side in ("left", "right") for way in ("head", "foot")]
    return Variant(
        task=f"On the printed sheet {what} must stand at the {edge}, near the {end}. The form lies on the stone with "
        "its head away from you. Where in the form do you look for the cut?",
        reader=Choice(numbers.shuffled(options)),
        right=f"at the {_ACROSS[edge]}, near the {end}",
        why="Type prints as a stamp does: left and right change places, head and foot don't.",
        hints=(
            "Press your inked right thumb on a card, and turn the card over to look at it.",
            "Which way did you turn the card: over its side, or over its top? Only one pair of edges changed.",
        ),
        solution=f"Left and right change places, head and foot stay: at the {_ACROSS[edge]}, near the {end}.",
        misreadings=(
            Misreading(
                f"at the {edge}, near the {end}",
                "So it would be on paper. The form is the paper's mirror image.",
                "forgot the mirror",
            ),
            Misreading(
                f"at the {_ACROSS[edge]}, near the {other_end}",
                "That turns the form round. A mirror changes left and right; head and foot stay.",
                "turned the form round",
            ),
            Misreading(
                f"at the {edge}, near the {other_end}",
                "Head and foot stay as they are, when the heads agree. It's the other two that change.",
                "changed head and foot instead",
            ),
        ),
        facts={"sides": 4},
    )


def _from_the_guide(numbers: Numbers, shop: Shop) -> Variant | None:
    form, left, right = (PICA * numbers.whole(low, high) for low, high in ((12, 28), (3, 9), (3, 9)))
    guide = PICA * numbers.whole(6, 20)
    if abs(left - right) < 2 * PICA:
        return None
    sheet = PlacedForm(guide, 0.0, left + form + right, 1.0)
    white = Margins(left, right, 0.0, 0.0)
    stands = place_by_sheet(
        Form(form, 1.0), white, sheet, max(shop.chases, key=lambda chase: chase.width), shop.placing
    )
    stands = stands.form.x
    return Variant(
        task=f"The side guide stands {write_length(guide)} to the right of the chase's left inner edge, and the "
        f"paper lies against it and to its right. The sheet is to have {write_length(left)} of white on its left and "
        f"{write_length(right)} on its right, as one reads it. The form is {write_length(form)} wide. How far from the "
        "chase's left inner edge does the form stand?",
        reader=Length(),
        right=write_length(stands),
        why="The edge of the sheet at the left guide is the one you read as its right. So the right margin lies there.",
        hints=(
            "Which edge of the printed sheet lies against the guide at the left of the chase? Think of the mirror.",
            "From the chase's edge to the guide, and then the white that lies between guide and form.",
        ),
        solution=f"The sheet's right edge lies at the guide, so its right margin lies there: {write_length(guide)} + "
        f"{write_length(right)} = {write_length(stands)}.",
        misreadings=(
            Misreading(
                write_length(guide + left),
                "That puts the left margin at the left guide. In the mirror it lies on the far side of the form.",
                "laid the margins unmirrored",
            ),
            Misreading(
                write_length(right),
                "That is how far it stands from the guide. The guide isn't the chase.",
                "measured from the guide",
            ),
            Misreading(
                write_length(guide + right + form),
                "That is where the form's far side stands. Where does it begin?",
                "gave the form's far side",
            ),
        ),
        facts={"guide": guide, "width": form},
    )


def _book_margin(numbers: Numbers, shop: Shop) -> Variant | None:
    form = Form(PICA * numbers.whole(14, 26), PICA * numbers.whole(26, 40))
    back = PICA * numbers.whole(3, 7)
    white = back * (1 + BOOK_OUTER)
    sheet = Sheet(form.width + white, form.height + 3 * back)
    outer = book_margins(sheet, form, "left").right
    return Variant(
        task=f"A page of a book is {write_length(sheet.width)} wide, and its type {write_length(form.width)}. The "
        "outer margin is to be one and a half times the back margin, where the book is bound. How wide is the back "
        "margin?",
        reader=Length(),
        right=write_length(back),
        why="Two backs meet in the open book and look like one margin; so each is kept narrower than the outer one.",
        hints=(
            "How much of the page stays white, both margins together?",
            "Call the back two parts; then the outer margin is three. How many parts in all?",
        ),
        solution=f"{write_length(sheet.width)} − {write_length(form.width)} = {write_length(white)} of white, in five "
        f"parts of {write_length(white / 5)}. Two of them are the back: {write_length(back)}.",
        misreadings=(
            Misreading(
                write_length(white / 2),
                "That shares the white evenly. The outer margin gets more.",
                "shared the white evenly",
            ),
            Misreading(
                write_length(outer), "That is the outer margin. The back is the narrower one.", "gave the outer margin"
            ),
            Misreading(
                write_length(white / 1.5),
                "That divides all the white by one and a half. The back and the outer margin share it.",
                "divided all the white at once",
            ),
        ),
        facts={"width": sheet.width, "height": sheet.height},
    )


def _next_gap(numbers: Numbers, shop: Shop) -> Variant | None:
    leaf, page, back = (PICA * numbers.whole(low, high) for low, high in ((30, 44), (20, 30), (3, 7)))
    white = leaf - page
    if white - back < 2 * PICA or abs(white - 2 * back) < 2 * PICA:
        return None
    gaps = page_gaps(Sheet(4 * leaf, 100.0), Form(page, 100.0), across=4, up=1, back=back)
    return Variant(
        task=f"Four pages lie in a row, each {write_length(page)} wide. The sheet folds into leaves "
        f"{write_length(leaf)} wide. The first two pages meet at the back, with {write_length(2 * back)} between "
        "them. The second and the third meet at the front. How wide is the gap between those two?",
        reader=Length(),
        right=write_length(gaps.fronts),
        why="The left edges of the first page and of the third are two leaves apart, whatever lies between. Fold a "
        "sheet and look.",
        hints=(
            "How far is it from the left edge of the first page to the left edge of the third? Count the leaves.",
            "In that stretch lie two pages, the gap you know, and the one you look for.",
        ),
        solution=f"Two leaves are {write_length(2 * leaf)}. Less two pages, {write_length(2 * page)}, and the back "
        f"gap, {write_length(2 * back)}: {write_length(gaps.fronts)}.",
        misreadings=(
            Misreading(
                write_length(2 * back),
                "That makes all gaps alike. Then the pages would wander off their leaves.",
                "made all gaps alike",
            ),
            Misreading(
                write_length(white),
                "That is the white of one leaf. Between these two pages lies the white of two, less the back gap.",
                "counted one leaf's white",
            ),
            Misreading(
                write_length(white - back),
                "That is the outer margin of one page. The next page's lies beside it in the same gap.",
                "counted one outer margin only",
            ),
        ),
        facts={"leaf": leaf, "width": page},
    )


def _under_the_gripper(numbers: Numbers, shop: Shop) -> Variant | None:
    points, bite = PICA * numbers.whole(8, 14), PICA * numbers.whole(4, 6)
    paper = points - bite
    margin = PICA * numbers.whole(1, 2)
    return Variant(
        task=f"On a press the grippers' points come {write_length(points)} over the bed, measured from its edge. The "
        f"paper's edge lies {write_length(paper)} from there. No type may stand under the grippers. What is the "
        "narrowest margin that the sheet can have at that edge?",
        reader=Length(),
        right=write_length(bite),
        why="A gripper that comes down on type crushes it, and may break more than type. So it is measured before the "
        "press is turned, every time.",
        hints=(
            "Draw a line for the bed's edge, one for the paper's edge, one for the grippers' points.",
            "The margin is counted from the paper's edge. Where may the type begin?",
        ),
        solution=f"Type begins where the grippers end: {write_length(points)} from the bed's edge. The paper begins "
        f"at {write_length(paper)}. Between them lie {write_length(bite)}.",
        misreadings=(
            Misreading(
                write_length(points),
                "That is how far the type must stand from the bed's edge. The margin is counted from the paper's.",
                "measured from the bed's edge",
            ),
            Misreading(
                write_length(paper),
                "That is how far the paper lies from the bed's edge. How far do the grippers come over the paper?",
                "gave where the paper lies",
            ),
            Misreading(
                write_length(bite - margin),
                "So the grippers would come down on type. It must stand clear of their points.",
                "let grippers meet the type",
            ),
        ),
        facts={"points": points},
    )


def _second_colour(numbers: Numbers, shop: Shop) -> Variant | None:
    edge = numbers.one_of(("left", "right"))
    way = _ACROSS[edge]  # so the form goes on the stone: wood comes out on this side, and more goes in on the other
    by = 6.0 * numbers.whole(1, 4)
    sizes = sorted({material.thickness for material in shop.stock})
    grows, shrinks = (numbers.shuffled(sizes)[:3] for _ in range(2))
    found = exchange(grows, shrinks, by, {}, most=1)
    pairs = [(one, other) for one in grows for other in shrinks]
    rights = [pair for pair in pairs if pair[1] - pair[0] == by]
    backwards = [pair for pair in pairs if pair[0] - pair[1] == by]
    others = [pair for pair in pairs if abs(pair[1] - pair[0]) not in (0, by)]
    if found is None or not found.out_here or len(rights) != 1 or len(backwards) != 1 or not others:
        return None
    one, other = found.out_here[0], found.in_here[0]

    def answer(pair: tuple[float, float]) -> str:
        return f"the {write_length(pair[0])} on the {edge} and the {write_length(pair[1])} on the {way} change places"

    def stack(side: tuple[float, ...]) -> str:
        return ", ".join(map(write_length, side[:-1])) + f" and {write_length(side[-1])}"

    # The nearest misses are the hardest to tell from it; one of each distance.
    by_distance = {abs(pair[1] - pair[0]): pair for pair in others}
    misses = {moved: by_distance[moved] for moved in sorted(by_distance, key=lambda moved: abs(moved - by))[:2]}
    return Variant(
        task=f"The red line of a notice prints {write_length(by)} too far to the {way} on the sheet, as one reads it. "
        f"The guides stay. On the stone, pieces {stack(grows)} thick lie on the {edge} of its form, and "
        f"{stack(shrinks)} on the {way}, all of one length. Which two change places, with the quoins slack?",
        reader=Choice(numbers.shuffled((answer((one, other)), answer(backwards[0]), *map(answer, misses.values())))),
        right=answer((one, other)),
        why="On the stone the form goes the other way than on the sheet. What comes out on one side goes in on the "
        "other, so the quoins find all as it was.",
        hints=(
            f"On the sheet it must go to the {edge}. Which way is that on the stone?",
            "The form goes away from the side that grows, by the difference of the two pieces. How much is wanted?",
        ),
        solution=f"On the sheet to the {edge} is on the stone to the {way}. So the {edge} must grow by "
        f"{write_length(by)}: {write_length(other)} in, {write_length(one)} out, and the other way about on the {way}.",
        misreadings=(
            Misreading(
                answer(backwards[0]),
                "That is the right distance the wrong way: now it is twice as far out. Stone and sheet are mirror "
                "images.",
                "moved it the wrong way",
            ),
            *(
                Misreading(
                    answer(miss),
                    f"That moves the form by {write_length(moved)}. Look at the difference of the two pieces.",
                    "moved it by another amount",
                )
                for moved, miss in misses.items()
            ),
        ),
        facts={"points": by},
    )


def _prints_crooked(numbers: Numbers, shop: Shop) -> Variant | None:
    low = numbers.one_of(("left", "right"))
    by, up = numbers.shuffled(_LEADS)[:2]
    scale = PICA * numbers.one_of((8, 10, 12, 14))
    width, height = by * scale, up * scale
    if not all(12 * PICA <= size <= 44 * PICA for size in (width, height)):
        return None
    strips = {strip.side: strip for strip in turning_strips(low, by, width, width, height)}
    across, along = (strips[side] for side in shop.placing.guides)
    backwards = [strip._replace(end=_OTHER_END[strip.end]) for strip in (across, along)]

    def answer(one: Strip, other: Strip) -> str:
        return " and ".join(
            f"{write_length(strip.thickness)} at the {strip.end} end of the {strip.side} side" for strip in (one, other)
        )

    right = answer(across, along)
    wrong = (
        Misreading(
            answer(*backwards),
            "So it would be turned the wrong way, and print twice as crooked. Stone and sheet are mirror images.",
            "turned it the wrong way",
        ),
        Misreading(
            answer(across._replace(thickness=up), along._replace(thickness=by)),
            "The right ends, but the two are changed about: the longer side takes the thicker strip.",
            "changed the two strips about",
        ),
        Misreading(
            answer(across, along._replace(thickness=by)),
            f"A strip of {write_length(by)} belongs to a side as long as the line. The other side is another length.",
            "took one thickness for both",
        ),
        Misreading(
            answer(across, backwards[1]),
            "These two work against each other: one turns the form one way, the other the other way.",
            "turned the ends against each other",
        ),
    )
    return Variant(
        task="A notice prints crooked, though its form is square and every sheet lay at all its guides. The guides "
        f"must stay. The form is {write_length(width)} wide and {write_length(height)} high; the {across.side} and the "
        f"{along.side} of its lockup are solid. On the sheet, as one reads it, a line as wide as the form lies "
        f"{write_length(by)} nearer the foot at its {low} end than at its {_ACROSS[low]} end. Which two strips, "
        "between form and wood, turn the form straight?",
        reader=Choice(numbers.shuffled((right, *(road.answer for road in wrong)))),
        right=right,
        why="A strip at one end of a solid side turns the form about that side's other end. Both solid sides need one: "
        "without it, a side bears on a corner of the form and not along its edge.",
        hints=(
            "Which end of the line is the low one on the stone? Left and right change places.",
            "A strip under one end of a side is to that side as the line's fall is to the line's length.",
        ),
        solution=f"On the stone the low end is the {_ACROSS[low]} one, and it must go toward the head. The line falls "
        f"{write_length(by)} in {write_length(width)}. So the {across.side} side, which is as long, takes a strip of "
        f"{write_length(by)} at its {across.end} end. The {along.side} side is {write_length(height)} long and takes "
        f"{write_length(up)}, at its {along.end} end.",
        misreadings=wrong,
        facts={"width": width, "height": height},
    )


PLACING = of_lesson(
    LESSON,
    VERSION,
    ("which-side", "Which side on the stone?", _which_side),
    ("from-the-guide", "From the guide", _from_the_guide),
    ("book-margin", "A book's back margin", _book_margin),
    ("next-gap", "The next gap", _next_gap),
    ("under-the-gripper", "Under the gripper", _under_the_gripper),
    ("second-colour", "The second colour", _second_colour),
    ("prints-crooked", "It prints crooked", _prints_crooked),
)
