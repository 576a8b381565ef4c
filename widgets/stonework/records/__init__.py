"""Lockups kept in files, and opened again in a shop whose chases may have been measured anew."""

from stonework.records.remeasuring import MOST, Found, in_this_shop, nearest_chase
from stonework.records.saving import (
    ENDING,
    NOT_STANDING,
    VERSION,
    Standing,
    keep_beside,
    open_lockup,
    read_lockup,
    record_path,
    save_lockup,
    standing_of,
)

__all__ = [
    "ENDING",
    "MOST",
    "NOT_STANDING",
    "VERSION",
    "Found",
    "Standing",
    "in_this_shop",
    "keep_beside",
    "nearest_chase",
    "open_lockup",
    "read_lockup",
    "record_path",
    "save_lockup",
    "standing_of",
]
