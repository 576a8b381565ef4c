"""What the quoins do to a form: how hard they press, what stays loose, how crooked it sits, whether it lifts.

The form is a rigid block seen from above. Wood on the two solid sides is a bed of springs, and each quoin is one
spring; all of them push, none pulls, nothing rubs. So the form lies where the energy is least. It is a model to
learn from: which way things go, and which of two ways of working is better. Forces and points are good to a factor
of two or three, because the joints' give is a guess. No figure here says what a chase, a quoin or a hand can bear.

Lengths are points, forces newtons, stiffnesses N/mm, moduli N/mm² (MPa), moments N·mm. Places along a side count
from its middle, to the right or up. Every function raises ``ValueError``, its text a sentence, for a figure that
can't be.

``assuming`` has what is taken for granted, ``springs`` reckons springs from the pieces of a lockup, ``form`` puts the
form between them, ``balance`` finds where it rests, ``state`` is how it lies there. ``lifting``, ``rising``, ``wedge``,
``damp`` and ``frame`` have what else the push does, one thing each.
"""

from stonework.pressing.assuming import ASSUMED, MM, Assumptions
from stonework.pressing.damp import WOODS, equilibrium_moisture, moisture_growth
from stonework.pressing.form import PressedForm
from stonework.pressing.frame import Frame, Rail, chase_frame
from stonework.pressing.lifting import Lift, Lines, lift, press_lines, weight_of_type
from stonework.pressing.rising import line_of_thrust, spring_rise
from stonework.pressing.springs import Bed, Spring
from stonework.pressing.state import BedPressure, State
from stonework.pressing.wedge import Wedge

__all__ = [
    "ASSUMED",
    "MM",
    "WOODS",
    "Assumptions",
    "Bed",
    "BedPressure",
    "Frame",
    "Lift",
    "Lines",
    "PressedForm",
    "Rail",
    "Spring",
    "State",
    "Wedge",
    "chase_frame",
    "equilibrium_moisture",
    "lift",
    "line_of_thrust",
    "moisture_growth",
    "press_lines",
    "spring_rise",
    "weight_of_type",
]
