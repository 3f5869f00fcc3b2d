"""Outlines in millimetres: area, fit, cut and offcut. Numbers only."""

from bindery_stock.shape.best_fit import best_place, near_on, place_near
from bindery_stock.shape.edge_sight import EdgeSight, EdgeStretch
from bindery_stock.shape.fit import place
from bindery_stock.shape.lacking import Lack, lack
from bindery_stock.shape.layout import place_all
from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point, Ring
from bindery_stock.shape.outline_photo import (
    OutlineReading,
    outline_from_photo,
    read_outline,
    read_outlines,
)
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
    "EdgeSight",
    "EdgeStretch",
    "Flaw",
    "FlawKind",
    "FlawRule",
    "Lack",
    "Leavings",
    "Lie",
    "Outline",
    "OutlineReading",
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
    "leavings",
    "lie",
    "lie_on",
    "near_on",
    "outline_from_photo",
    "patch_at",
    "patch_near_on",
    "place",
    "place_all",
    "place_near",
    "place_patch",
    "read_outline",
    "read_outlines",
    "shear",
    "sheet",
    "slivers",
    "triangle",
]
