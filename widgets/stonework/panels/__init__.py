"""The panels of the lessons."""

from stonework.panels.by_hand import HandPanel
from stonework.panels.choose import ChoosePanel
from stonework.panels.gauge import GaugePanel
from stonework.panels.page import PagePanel
from stonework.panels.question import QuestionPanel
from stonework.panels.sheet import SheetPanel
from stonework.panels.square import SquarePanel
from stonework.panels.true_point import TruePointPanel
from stonework.panels.weight import WeightPanel

__all__ = [
    "ChoosePanel",
    "GaugePanel",
    "HandPanel",
    "PagePanel",
    "QuestionPanel",
    "SheetPanel",
    "SquarePanel",
    "TruePointPanel",
    "WeightPanel",
]
