"""Outlines in millimetres: area, fit, cut and offcut. Numbers only."""

from bindery_stock.shape.cutting import cut
from bindery_stock.shape.fit import place
from bindery_stock.shape.lacking import Lack, lack
from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point, Ring
from bindery_stock.shape.photo_scale import PhotoScale
from bindery_stock.shape.placement import Placement
from bindery_stock.shape.usable_rectangle import largest_rectangle

__all__ = [
    "Flaw",
    "FlawKind",
    "Lack",
    "Outline",
    "PhotoScale",
    "Placement",
    "Point",
    "Ring",
    "cut",
    "lack",
    "largest_rectangle",
    "place",
]
