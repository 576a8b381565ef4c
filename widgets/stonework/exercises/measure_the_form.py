"""The questions of lesson 1: reading the gauge, adding up a page, squareness and weight."""

from __future__ import annotations

from stonework.drawing.gauge import SLUG, GaugeView
from stonework.drawing.page import PageView
from stonework.drawing.picture import Picture
from stonework.drawing.squareness import SquareView
from stonework.drawing.true_point import FALSE_POINT, difference
from stonework.drawing.words import in_points
from stonework.exercises.numbers import Numbers
from stonework.exercises.question import Choice, Length, Misreading, Variant, Weight, of_lesson
from stonework.form import Content, Cut, Edges, Form, Lines, Strip
from stonework.moving import Edge
from stonework.shop import Shop
from stonework.units import PICA, POINTS_PER_INCH, read_length, write_length, write_weight

LESSON, VERSION = "01-measure-the-form", 2
_READING = 0.6  # how near a reading must come, in points: the lens shows single ones
# What a square inch of solid type metal weighs, as high as type, in pounds, rounded as the lesson gives it.
_SQUARE_INCH = round(Form(POINTS_PER_INCH, POINTS_PER_INCH).solid_metal, 2)
TEXT_BODIES = (6.0, 12.0)  # the smallest and largest body that a page of text is set in here, in points


def _text_bodies(shop: Shop) -> list[float]:
    return [body.size for body in shop.bodies if TEXT_BODIES[0] <= body.size <= TEXT_BODIES[1]]


def gauge_reading(edges: Edges, edge: Edge) -> Variant[float]:
    """Return the question what the gauge says along one edge of a form."""
    length = getattr(edges, edge)
    picas, points = divmod(round(length, 2), PICA)
    upright = edge in ("left", "right")
    start, end = ("head", "foot") if upright else ("left end", "right end")
    roads = [
        Misreading(
            in_points(length + PICA),
            "That is one pica too many: it is what you get by counting the marks. Nought is a mark too; what counts "
            "is the spaces between them.",
            "counted the marks, not the spaces",
        ),
        Misreading(
            in_points(PICA * picas),
            "That is the last whole pica. The form goes on a little past that mark: the lens shows how many points.",
            "left out the odd points",
        ),
        Misreading(
            in_points(PICA * (picas + 1)),
            "That is the next pica, which the form doesn't reach. Count from the mark before it.",
            "took the next pica",
        ),
        Misreading(
            in_points(PICA * (picas + points / 10)),
            "It comes near what you get by writing the points as tenths. There are twelve points in a pica, not ten: "
            "write picas and points apart, as in 2 picas 5 pt.",
            "wrote the points as tenths",
        ),
        Misreading(
            in_points(length / POINTS_PER_INCH * PICA),
            "That is the number on the other edge of the gauge, where it counts inches. Read the edge that lies at "
            "the form.",
            "read the inch edge",
        ),
    ]
    if upright:
        roads.append(
            Misreading(
                in_points(length - 2 * SLUG),
                "That is the depth of the lines, from the first to the last. The slugs at head and foot are part of "
                "the form: the wood bears on them.",
                "left out the slugs",
            )
        )

    def picture(name: str) -> Picture:
        view = GaugeView(name)
        view.draw(edges, edge)
        return view

    return Variant(
        task=f"The gauge lies along the {edge} edge of this form, its nought at the {start}. How long is the edge?",
        reader=Length(tolerance=_READING),
        right=in_points(length),
        why="The furniture on this side bears on this edge from end to end.",
        hints=(
            f"On the gauge itself, read the last numbered mark before the form ends at the {end}, then count the picas "
            "after it. Every fifth pica has a number.",
            "The lens shows the end many times larger: there the numbers are picas, and each small mark is one point. "
            "Count the points past the last pica.",
        ),
        solution=f"The last whole pica passed is {picas:g}. Under the lens the form ends {points:g} points past it. "
        f"Together: {write_length(length)}, or {in_points(length)}.",
        misreadings=_apart(roads, length),
        picture=picture,
        facts={"width": max(edges.head, edges.foot), "height": max(edges.left, edges.right)},
    )


def _apart(roads: list[Misreading], right: float) -> tuple[Misreading, ...]:
    """Leave out the wrong roads that end too near the right one, or another, to be told from it."""
    kept: list[Misreading] = []
    ends = [right]
    for road in roads:
        end = read_length(road.answer)
        if all(abs(end - other) > 2 * _READING for other in ends):
            kept.append(road)
            ends.append(end)
    return tuple(kept)


def practice_form(number: int) -> Edges:
    """Return the edges of the form with this number; one in three has an edge that is a lead short."""
    numbers = Numbers("practice form", number)
    width = PICA * numbers.whole(14, 33) + numbers.whole(0, 11)
    height = PICA * numbers.whole(10, 26) + numbers.whole(0, 11)
    sides = {"head": width, "foot": width, "left": height, "right": height}
    if numbers.whole(1, 3) == 1:
        sides[numbers.one_of(tuple(sides))] -= 2
    return Edges(**sides)


def _read_the_gauge(numbers: Numbers, shop: Shop) -> Variant | None:
    width = PICA * numbers.whole(14, 33)
    height = PICA * numbers.whole(10, 26) + numbers.whole(3, 11)
    variant = gauge_reading(Edges(width, width, height, height), numbers.one_of(("left", "right")))
    return variant if len(variant.misreadings) > 3 else None


def _room_in_the_chase(numbers: Numbers, shop: Shop) -> Variant | None:
    chase = numbers.one_of(shop.chases)
    picas = numbers.whole(2, 5) * 6
    over = numbers.whole(1, 2) / 16 * POINTS_PER_INCH
    inside = chase.width + over
    if chase.width - PICA * picas < 10 * PICA or difference(inside) < 1.6:
        return None
    inches = inside / POINTS_PER_INCH
    room = inside - PICA * picas
    counted = inside / FALSE_POINT
    return Variant(
        task=f"A chase is called {chase.name}. Measured, it is {inches:.6g} inches wide inside. A form {picas} picas "
        "wide goes into it. How much room is left for furniture and quoins, left and right together? The point is "
        "0.013837 inch. Answer to a tenth of a point.",
        reader=Length(tolerance=0.4),
        right=f"{room:.2f} pt",
        why="Wood is cut to picas. Count the chase in sixths of an inch, or go by its name, and the room comes out too "
        "small on paper: the wood is then too thin by as much, and the quoins must open further to make it up.",
        hints=(
            "First turn the width of the chase into points: divide the inches by 0.013837.",
            f"Then take away the form: {picas} picas are {picas} × 12 = {PICA * picas:g} points.",
        ),
        solution=f"{inches:.6g} ÷ 0.013837 = {inside:.2f} points. Less {PICA * picas:g} points of form: "
        f"{room:.2f} points, or {write_length(room)}.",
        misreadings=(
            Misreading(
                in_points(counted - PICA * picas),
                "That is what you get with six picas to the inch. A true pica is a little less than a sixth: over "
                f"this chase the difference is {difference(inside):.2f} points.",
                "counted six picas to the inch",
            ),
            Misreading(
                in_points(chase.width - PICA * picas),
                "That is the room in a chase just as large as its name. This one was measured, and is "
                f"{over:.2f} points wider.",
                "went by the chase's name",
            ),
            Misreading(
                in_points(room / 2),
                "That is the room on one side, if the form stands in the middle. The question asks for both together.",
                "halved the room",
            ),
            Misreading(
                f"{inside:.4f} pt",
                "That is the whole chase. Take the form away: what is left is the room.",
                "didn't take off the form",
            ),
            Misreading(
                in_points(inside - picas),
                "That takes picas from points. Turn the form into points first: a pica is twelve.",
                "took picas from points",
            ),
        ),
        facts={"chase": inside, "form": PICA * picas},
    )


def _error_of_the_chase(numbers: Numbers, shop: Shop) -> Variant:
    inches = numbers.whole(8, 24)
    length = inches * POINTS_PER_INCH
    off = difference(length)
    return Variant(
        task=f"A stonehand counts six picas to the inch all along {inches} inches of chase. By how many points is the "
        "count too small? Answer to a tenth of a point.",
        reader=Length(tolerance=0.06),
        right=f"{off:.2f} pt",
        why="Over a chase it comes to a lead or more. The wood you choose is too thin by as much, and the quoins must "
        "open further to make it up.",
        hints=(
            f"Counting six picas, or 72 points, to the inch gives {inches} × 72 = {inches * 72} points.",
            f"The true number is {inches} ÷ 0.013837. Take one from the other.",
        ),
        solution=f"{inches} ÷ 0.013837 = {length:.2f} points; {inches} × 72 = {inches * 72}. The difference is "
        f"{off:.2f} points.",
        misreadings=(
            Misreading(
                f"{inches / 0.0138 - inches * 72:.2f} pt",
                "That is what 0.0138 inch to the point gives. The figure goes on: 0.013837. Over a whole chase the "
                "last two digits count.",
                "rounded the point too far",
            ),
            Misreading(
                f"{difference(POINTS_PER_INCH):.2f} pt",
                "That is the error of a single inch. It adds up with every inch of the chase.",
                "reckoned a single inch only",
            ),
            Misreading(
                in_points(inches * 72),
                "That is the count itself. The question is by how much it falls short.",
                "gave the count itself",
            ),
            Misreading(
                f"{length:.3f} pt",
                "That is what the chase truly measures. The question is by how much the count falls short of it.",
                "gave the true measure itself",
            ),
            Misreading(
                "0 pt",
                "It isn't nothing. Six picas are 0.996 inch, not a whole one: look at the two rules in the picture "
                "above, at their right ends.",
                "thought there is no error",
            ),
        ),
        facts={"length": length},
    )


def _depth_of_a_page(numbers: Numbers, shop: Shop) -> Variant | None:
    bodies, leads = _text_bodies(shop), [lead for lead in shop.leads if lead < 6]
    if not (bodies and leads and shop.slugs):
        return None
    body, lead, slug = numbers.one_of(bodies), numbers.one_of(leads), shop.slugs[0]
    number = numbers.whole(12, 28)
    content = Content(24 * PICA, (Strip(slug), Lines(number, body, lead), Strip(slug)))
    lines = content.parts[1].depth
    return Variant(
        task=f"A page has {number} lines of {in_points(body)} type, with a {in_points(lead)} lead between every two "
        f"lines, and a {in_points(slug)} slug at the head and at the foot. How deep is the form?",
        reader=Length(tolerance=0.4),
        right=in_points(content.depth),
        why="The side furniture must back the form to its ends, and its ends are the slugs.",
        hints=(
            f"Begin with the lines alone: {number} × {body:g} points.",
            "Now the leads. Think of fence posts: how many gaps are there between the lines? And the slugs, both.",
        ),
        solution=f"Lines {number} × {body:g} = {number * body:g}; leads {number - 1} × {lead:g} = "
        f"{(number - 1) * lead:g}; slugs 2 × {slug:g} = {2 * slug:g}. Together {in_points(content.depth)}, or "
        f"{write_length(content.depth)}.",
        misreadings=(
            Misreading(
                in_points(lines),
                "That is the printed lines without the slugs. The wood bears on the slugs, not on the lines.",
                "left out both slugs",
            ),
            Misreading(
                in_points(content.depth + lead),
                f"That has one lead too many: between {number} lines lie {number - 1} leads.",
                "counted one lead too many",
            ),
            Misreading(
                in_points(number * body + 2 * slug),
                "That leaves out the leads. Thin as they are, together they come to "
                f"{write_length((number - 1) * lead)}.",
                "left out the leads",
            ),
            Misreading(
                in_points(number * body),
                "That is the type alone. Leads and slugs are metal too.",
                "counted the type alone",
            ),
            Misreading(
                in_points(lines + slug),
                "That counts one slug. There is one at the head and one at the foot.",
                "counted one slug only",
            ),
        ),
        facts={"body": body, "lead": lead, "depth": content.depth},
    )


def _page_with_a_cut(numbers: Numbers, shop: Shop) -> Variant | None:
    bodies, leads = _text_bodies(shop), [lead for lead in shop.leads if lead < 6]
    if not (bodies and leads and shop.slugs):
        return None
    body, lead = numbers.one_of(bodies), numbers.one_of(leads)
    slug, thick = [*shop.slugs, *shop.slugs][:2]
    cut = Cut(PICA * numbers.whole(9, 16), PICA * numbers.whole(6, 12))
    text, blank = Lines(numbers.whole(6, 12), body, lead), Lines(numbers.whole(2, 4), 12, quads=True)
    content = Content(20 * PICA, (Strip(slug), cut, Strip(thick), text, blank, Strip(slug)))

    def picture(name: str) -> Picture:
        view = PageView(name)
        view.draw(content, depths=False)
        return view

    return Variant(
        task=f"From head to foot this form has: a slug of {in_points(slug)}; a cut {write_length(cut.depth)} deep; a "
        f"slug of {in_points(thick)}; {text.number} lines of {in_points(body)} with {in_points(lead)} leads between "
        f"them; {blank.number} lines of 12 pt quads to fill the page; a slug of {in_points(slug)}. How deep is the "
        "form that the side furniture must stand beside, from end to end?",
        reader=Length(tolerance=0.4),
        right=in_points(content.depth),
        why="Quads and slugs don't print, yet they take their room. The proof shows ink; the stone holds metal.",
        hints=(
            "Add up every part, whether it prints or not. Turn picas into points first: times twelve.",
            f"The lines of text are {text.number} × {body:g} points, and {text.number - 1} leads of {lead:g}.",
        ),
        solution=f"{slug:g} + {cut.depth:g} + {thick:g} + ({text.number} × {body:g} + {text.number - 1} × {lead:g}) + "
        f"{blank.number} × 12 + {slug:g} = {in_points(content.depth)}, or {write_length(content.depth)}.",
        misreadings=(
            Misreading(
                in_points(content.printed_depth),
                "That is what you would measure on the proof, from the head of the cut to the last line. Quads and "
                "slugs leave no ink and take their room all the same.",
                "measured what prints",
            ),
            Misreading(
                in_points(content.depth - blank.depth),
                "That leaves out the quads. They don't print; the form is as deep with them as with any line.",
                "left out the quads",
            ),
            Misreading(
                in_points(content.depth - 2 * slug),
                f"That is {2 * slug:g} points too little: as much as the slugs at head and foot together, or the one "
                "below the cut. Count every slug.",
                "left out two slugs' worth",
            ),
            Misreading(
                in_points(content.depth - slug),
                "That has one slug too few. There is one at the head and one at the foot.",
                "left out one slug",
            ),
            Misreading(
                in_points(content.depth + lead),
                f"That has one lead too many: between {text.number} lines lie {text.number - 1}.",
                "counted one lead too many",
            ),
            Misreading(
                in_points(content.depth - cut.depth + cut.depth / PICA),
                "That adds the cut's picas as if they were points. A pica is twelve.",
                "took the cut's picas for points",
            ),
            Misreading(
                in_points(content.depth - (text.number - 1) * lead),
                "That leaves out the leads between the lines of text.",
                "left out the leads",
            ),
        ),
        picture=picture,
        facts={"body": body, "lead": lead, "depth": content.depth},
    )


_LOOK = {
    "left": "among the leads, along the left edge",
    "right": "among the leads, along the right edge",
    "head": "at how the lines near the head are justified",
    "foot": "at how the lines near the foot are justified",
}
_ACROSS = {"left": "right", "right": "left", "head": "foot", "foot": "head"}


def _crooked(numbers: Numbers, shop: Shop, short_edge: str) -> tuple[Edges, float] | None:
    """Return a form with one edge short by a lead or two, and by how much."""
    leads = [lead for lead in shop.leads if lead >= 1]
    if not leads:
        return None
    width, height = PICA * numbers.whole(14, 30), PICA * numbers.whole(18, 36)
    short = numbers.one_of(leads) * numbers.whole(1, 2)
    sides = {"head": width, "foot": width, "left": height, "right": height}
    sides[short_edge] -= short
    return Edges(**sides), short


def _measured(edges: Edges) -> str:
    return (
        f"head {write_length(edges.head)}, foot {write_length(edges.foot)}, left {write_length(edges.left)}, right "
        f"{write_length(edges.right)}"
    )


def _what_makes_it_square(numbers: Numbers, shop: Shop) -> Variant | None:
    edge = numbers.one_of(tuple(_LOOK))
    crooked = _crooked(numbers, shop, edge)
    if crooked is None:
        return None
    edges, short = crooked
    across = _ACROSS[edge]
    if edge in ("left", "right"):
        other_way = (
            "Head and foot both agree with the measure, so {} are right as they are; it is the depth that differs."
        )
        ends = {"head": "the lines at the head", "foot": "the lines at the foot"}
        cure = "A lead there has slipped or doesn't reach. A whole lead, across the measure, puts it right"
    else:
        other_way = "Left and right both agree with the depth, so the leads {} are right as they are; lines are loose."
        ends = {"left": "at the left", "right": "at the right"}
        cure = "The lines there don't fill the measure. Justified again in the composing stick, they do"
    width, height = max(edges.head, edges.foot), max(edges.left, edges.right)
    return Variant(
        task=f"The lines of a form were set to a measure of {write_length(width)}, and all that is in it adds up to "
        f"{write_length(height)}. You measure: {_measured(edges)}. Where do you look for the fault?",
        reader=Choice(tuple(_LOOK.values())),
        right=_LOOK[edge],
        why=f"The quoins press on the longer edge first. An edge {in_points(short)} short stays loose, and what stands "
        "there may drop on the way to the press.",
        hints=(
            "Compare head with foot, and left with right. Which pair doesn't agree?",
            "How long a line is depends on its spaces. How deep a form is depends on the leads between its lines.",
        ),
        solution=f"The {across} is as it should be, and the {edge} is {in_points(short)} short. So look "
        f"{_LOOK[edge]}. {cure}.",
        misreadings=(
            Misreading(
                _LOOK[across],
                f"The {across} is as long as it should be. The {edge} is the short one: that is where something is "
                "missing.",
                "looked at the edge that's whole",
            ),
            *(
                Misreading(_LOOK[end], other_way.format(words), "looked at the pair that agrees")
                for end, words in ends.items()
            ),
        ),
        facts={"width": width, "height": height, "short": short},
    )


def _how_much_to_fill(numbers: Numbers, shop: Shop) -> Variant | None:
    edge = numbers.one_of(("left", "right"))
    crooked = _crooked(numbers, shop, edge)
    if crooked is None:
        return None
    edges, short = crooked

    def picture(name: str) -> Picture:
        view = SquareView(name)
        view.draw(edges)
        return view

    return Variant(
        task=f"All that is in a form adds up to {write_length(max(edges.left, edges.right))}. It measures: "
        f"{_measured(edges)}. How thick is what is missing at its short edge?",
        reader=Length(tolerance=0.2),
        right=in_points(short),
        why="The thickness tells you what to look for: a lead that slipped, or doesn't reach that edge. A single one "
        "leaves the form tight along one edge and loose along the other.",
        hints=(
            "Head and foot agree. So look at left and right only.",
            f"Take the shorter from the longer. All of it is missing at the {edge}.",
        ),
        solution=f"{write_length(max(edges.left, edges.right))} less {write_length(min(edges.left, edges.right))} is "
        f"{in_points(short)}.",
        misreadings=(
            Misreading(
                in_points(short / 2),
                "That is half of it, as if both edges gave way to the middle. The long edge is as it should be: all of "
                "the difference is missing at the short one.",
                "halved what is missing",
            ),
            Misreading(
                in_points(short * PICA),
                "That reads the points as picas. A pica is twelve points: a form so crooked would fall over.",
                "read points as picas",
            ),
        ),
        picture=picture,
        facts={"width": edges.head, "height": max(edges.left, edges.right), "short": short},
    )


def _width_to_lock_up(numbers: Numbers, shop: Shop) -> Variant | None:
    edge = numbers.one_of(("head", "foot"))
    crooked = _crooked(numbers, shop, edge)
    if crooked is None or crooked[1] < 2:
        return None
    edges, short = crooked
    width = Form.from_edges(edges).width
    return Variant(
        task=f"A form measures: {_measured(edges)}. It must go to press as it is. Which width do you choose the "
        "furniture for?",
        reader=Length(tolerance=0.4),
        right=in_points(width),
        why="The furniture at the sides meets the longest lines first. Chosen for the shorter edge it would be too "
        "much, and wouldn't go in.",
        hints=(
            "Head and foot differ. The wood left and right has a straight edge: which lines does it meet first?",
            "A wider form leaves smaller gaps. Which of the two widths leaves gaps that the wood surely fits?",
        ),
        solution=f"The longer of head and foot: {write_length(width)}. The {edge} stays {in_points(short)} loose, so "
        "it is better to mend the lines first.",
        misreadings=(
            Misreading(
                in_points(width - short),
                "That is the shorter edge. Wood chosen for it is too much: at the longer edge the gap is smaller.",
                "took the shorter edge",
            ),
            Misreading(
                in_points(width - short / 2),
                "That is the middle between head and foot. It fits neither: wood knows no average.",
                "took the middle of both",
            ),
            Misreading(
                in_points(edges.left),
                "That is how high the form is. The width is what head and foot measure.",
                "took the height for the width",
            ),
        ),
        facts={"width": width, "height": edges.left, "short": short},
    )


def _weight_of_a_form(numbers: Numbers, shop: Shop) -> Variant:
    width, height = numbers.whole(3, 8), numbers.whole(4, 10)
    chase, wood = numbers.whole(3, 10), numbers.whole(1, 2)
    area = width * height
    metal = area * _SQUARE_INCH
    weight = metal + chase + wood
    return Variant(
        task=f"A form of {width} × {height} inches, set with leads, lies in a chase that weighs {chase} lb. Wood and "
        f"quoins weigh {wood} lb. What is the most that you may have to lift? A square inch of type metal as high as "
        f"type weighs {_SQUARE_INCH:g} lb.",
        reader=Weight(),
        right=f"{weight:.2f} lb",
        why="What you lift will be somewhat lighter. Know the weight first, and ask for help in good time.",
        hints=(
            f"How many square inches is the form? Each may weigh {_SQUARE_INCH:g} lb, leads and all.",
            "You lift more than the type. What else is in your hands?",
        ),
        solution=f"{width} × {height} = {area} square inches; × {_SQUARE_INCH:g} = {metal:g} lb of metal. With "
        f"{chase} lb of chase and {wood} lb of wood and quoins: {write_weight(weight)}.",
        misreadings=(
            Misreading(
                f"{metal} lb",
                "That is the type alone. The chase, the wood and the quoins go up with it.",
                "counted the type alone",
            ),
            Misreading(
                f"{metal + chase} lb",
                "That leaves out the wood and the quoins.",
                "left out wood and quoins",
            ),
            Misreading(
                f"{metal + wood} lb",
                "That leaves out the chase, which is iron.",
                "left out the chase",
            ),
            Misreading(
                f"{area / 4 + chase + wood} lb",
                "That takes the books' rule of square inches ÷ 4, or a quarter off for the leads. The rule says how "
                "much type to order, and leads are as heavy as type: a form may weigh more than that.",
                "used the rule for ordering type",
            ),
            Misreading(
                f"{area + chase + wood} lb",
                "That counts a pound to the square inch. It is about a third of that.",
                "counted a pound a square inch",
            ),
        ),
        facts={"width": width * POINTS_PER_INCH, "height": height * POINTS_PER_INCH},
    )


MEASURING = of_lesson(
    LESSON,
    VERSION,
    ("read-the-gauge", "Read the gauge", _read_the_gauge),
    ("depth-of-a-page", "How deep is a page?", _depth_of_a_page),
    ("page-with-a-cut", "A page with a cut", _page_with_a_cut),
    ("error-of-the-chase", "Six picas to the inch", _error_of_the_chase),
    ("room-in-the-chase", "Room in the chase", _room_in_the_chase),
    ("what-makes-it-square", "Where is the fault?", _what_makes_it_square),
    ("how-much-to-fill", "How much is missing?", _how_much_to_fill),
    ("width-to-lock-up", "Which width?", _width_to_lock_up),
    ("weight-of-a-form", "How heavy can it be?", _weight_of_a_form),
)
