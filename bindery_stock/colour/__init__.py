"""Photo pixels to CIELAB (D50, 2° observer) with uncertainty, and ΔE00. Numbers only."""

from bindery_stock.colour.decode import OpenPhoto, draft_photo, open_photo
from bindery_stock.colour.difference import Step, delta_e00, step
from bindery_stock.colour.families import FAMILIES, family
from bindery_stock.colour.patch import Polygon, circle
from bindery_stock.colour.reading import ColourReading, measure
from bindery_stock.colour.space import Lab, check_lab, to_srgb
from bindery_stock.colour.words import words

__all__ = [
    "FAMILIES",
    "ColourReading",
    "Lab",
    "OpenPhoto",
    "Polygon",
    "Step",
    "check_lab",
    "circle",
    "delta_e00",
    "draft_photo",
    "family",
    "measure",
    "open_photo",
    "step",
    "to_srgb",
    "words",
]
