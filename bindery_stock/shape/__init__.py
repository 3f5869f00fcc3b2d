"""Outlines in millimetres: area, fit, cut and offcut. Numbers only.

What finds an outline in a photograph stands by itself, in ``outline_photo``: it needs libraries of
images that nothing else here does.
"""

from bindery_stock.shape.best_fit import best_place, near_on, place_near
from bindery_stock.shape.fit import place
from bindery_stock.shape.knife_way import KnifeWay
from bindery_stock.shape.lack import Lack, lack
from bindery_stock.shape.layout import Layout, lay_out, place_all
from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point, Ring
from bindery_stock.shape.overhang import Lie, laid_box, lie, lie_on
from bindery_stock.shape.patch import (
    PatchPlacement,
    patch_at,
    patch_near_on,
    place_patch,
    triangle,
)
from bindery_stock.shape.photo_scale import PhotoScale
from bindery_stock.shape.placement import Placement
from bindery_stock.shape.remnants import Leavings, cut, cut_all, leavings, slivers
from bindery_stock.shape.shears import ShearCut, Sheared, shear
from bindery_stock.shape.sheets import cut_length, how_many, is_sheet, sheet
from bindery_stock.shape.usable_rectangle import largest_rectangle
from bindery_stock.shape.zones import WHERE_FLAWS_MAY_LIE, FlawRule, Sight, Zone

__all__ = [
    "WHERE_FLAWS_MAY_LIE",
    "Flaw",
    "FlawKind",
    "FlawRule",
    "KnifeWay",
    "Lack",
    "Layout",
    "Leavings",
    "Lie",
    "Outline",
    "PatchPlacement",
    "PhotoScale",
    "Placement",
    "Point",
    "Ring",
    "ShearCut",
    "Sheared",
    "Sight",
    "Zone",
    "best_place",
    "cut",
    "cut_all",
    "cut_length",
    "how_many",
    "is_sheet",
    "lack",
    "laid_box",
    "largest_rectangle",
    "lay_out",
    "leavings",
    "lie",
    "lie_on",
    "near_on",
    "patch_at",
    "patch_near_on",
    "place",
    "place_all",
    "place_near",
    "place_patch",
    "shear",
    "sheet",
    "slivers",
    "triangle",
]
