"""The plan view of a lockup, and the same facts in words."""

from stonework.drawing.plan import PlanView

__all__ = ["PlanView"]
