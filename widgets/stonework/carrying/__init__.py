"""A job carried through all its stations, from the ticket to the cabinet, on one record."""

from stonework.carrying.carrying import Carrying
from stonework.carrying.standing import Standing
from stonework.carrying.state import BY_HAND, STATIONS, State, Station, Turn

__all__ = ["BY_HAND", "STATIONS", "Carrying", "Standing", "State", "Station", "Turn"]
