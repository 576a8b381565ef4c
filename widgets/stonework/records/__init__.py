"""Lockups kept in files, and opened again in a shop whose chases may have been measured anew."""

from stonework.records.remeasuring import MOST, Found, in_this_shop, nearest_chase
from stonework.records.saving import VERSION, open_lockup, record_path, save_lockup

__all__ = [
    "MOST",
    "VERSION",
    "Found",
    "in_this_shop",
    "nearest_chase",
    "open_lockup",
    "record_path",
    "save_lockup",
]
