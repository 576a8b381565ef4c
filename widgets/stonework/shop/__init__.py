"""The shop: what it owns, and the file in which a printer says so."""

from stonework.shop.file import VERSION, ShopFile, ShopFileError, read_file
from stonework.shop.reading import Note
from stonework.shop.things import (
    AS_GOOD_AS_SHUT,
    LAST_NOTCH,
    BearsOn,
    Body,
    Chase,
    Material,
    MaterialKind,
    Mount,
    Placing,
    Press,
    Quoin,
    QuoinKind,
    Shop,
    WoodKind,
)

__all__ = [
    "AS_GOOD_AS_SHUT",
    "LAST_NOTCH",
    "VERSION",
    "BearsOn",
    "Body",
    "Chase",
    "Material",
    "MaterialKind",
    "Mount",
    "Note",
    "Placing",
    "Press",
    "Quoin",
    "QuoinKind",
    "Shop",
    "ShopFile",
    "ShopFileError",
    "WoodKind",
    "read_file",
]
