"""The panels of the lessons."""

from stonework.panels.again import Again
from stonework.panels.away import AwayPanel
from stonework.panels.bench import BenchPanel
from stonework.panels.block import BlockPanel
from stonework.panels.by_hand import HandPanel
from stonework.panels.card import CardPanel
from stonework.panels.choose import ChoosePanel
from stonework.panels.chosen import ChosenPanel
from stonework.panels.damp import DampPanel
from stonework.panels.gauge import GaugePanel
from stonework.panels.key import KeyPanel
from stonework.panels.ledger import LedgerPanel
from stonework.panels.lift import LiftPanel
from stonework.panels.move import MovePanel
from stonework.panels.name import NamePanel
from stonework.panels.page import PagePanel
from stonework.panels.place import PlacePanel
from stonework.panels.planning import PlanningPanel
from stonework.panels.question import QuestionPanel
from stonework.panels.report import ReportPanel
from stonework.panels.shop import ShopPanel
from stonework.panels.square import SquarePanel
from stonework.panels.start import StartPanel
from stonework.panels.thrust import ThrustPanel
from stonework.panels.ticket import TicketPanel
from stonework.panels.tightening import TighteningPanel
from stonework.panels.true_point import TruePointPanel
from stonework.panels.wedge import WedgePanel
from stonework.panels.weight import WeightPanel

__all__ = [
    "Again",
    "AwayPanel",
    "BenchPanel",
    "BlockPanel",
    "CardPanel",
    "ChoosePanel",
    "ChosenPanel",
    "DampPanel",
    "GaugePanel",
    "HandPanel",
    "KeyPanel",
    "LedgerPanel",
    "LiftPanel",
    "MovePanel",
    "NamePanel",
    "PagePanel",
    "PlacePanel",
    "PlanningPanel",
    "QuestionPanel",
    "ReportPanel",
    "ShopPanel",
    "SquarePanel",
    "StartPanel",
    "ThrustPanel",
    "TicketPanel",
    "TighteningPanel",
    "TruePointPanel",
    "WedgePanel",
    "WeightPanel",
]
