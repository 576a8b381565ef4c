"""The panels of the lessons."""

from stonework.panels.by_hand import HandPanel
from stonework.panels.choose import ChoosePanel

__all__ = ["ChoosePanel", "HandPanel"]
