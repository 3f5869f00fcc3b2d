"""Photo pixels to CIELAB (D50, 2° observer) with uncertainty, and ΔE00. Numbers only."""

from bindery_stock.colour.clusters import Cluster
from bindery_stock.colour.colour_map import ColourMap, colour_map
from bindery_stock.colour.colour_names import colour_name
from bindery_stock.colour.compare import (
    Comparison,
    Confirmation,
    compare_in_photo,
    metamerism_caution,
)
from bindery_stock.colour.decode import OpenPhoto, draft_photo, open_photo
from bindery_stock.colour.difference import SignedDifference, delta_e00, step
from bindery_stock.colour.families import FAMILIES, family
from bindery_stock.colour.found_neutral import FoundNeutral, find_neutral
from bindery_stock.colour.found_target import FoundTarget, find_target
from bindery_stock.colour.instrument import InstrumentReading, from_instrument, parse_reading
from bindery_stock.colour.light import uneven_warning
from bindery_stock.colour.neutral import Neutral
from bindery_stock.colour.odd_places import odd_places
from bindery_stock.colour.patch import Polygon, circle
from bindery_stock.colour.read_by import ReadBy, tie_limit
from bindery_stock.colour.reading import ColourReading, measure
from bindery_stock.colour.reference import (
    BEFORE_2014,
    EDITIONS,
    PATCHES,
    SINCE_2014,
    Reference,
)
from bindery_stock.colour.reference_files import read_reference
from bindery_stock.colour.report import CAPTURE_ADVICE, PhotoVerdict, TargetReport, target_report
from bindery_stock.colour.sitting import Sitting, begin_sitting, measure_in_sitting
from bindery_stock.colour.space import Lab, check_lab, srgb_codes, to_srgb
from bindery_stock.colour.target import Target
from bindery_stock.colour.uncertainty import difference_band, is_tie
from bindery_stock.colour.words import words

__all__ = [
    "BEFORE_2014",
    "CAPTURE_ADVICE",
    "EDITIONS",
    "FAMILIES",
    "PATCHES",
    "SINCE_2014",
    "Cluster",
    "ColourMap",
    "ColourReading",
    "Comparison",
    "Confirmation",
    "FoundNeutral",
    "FoundTarget",
    "InstrumentReading",
    "Lab",
    "Neutral",
    "OpenPhoto",
    "PhotoVerdict",
    "Polygon",
    "ReadBy",
    "Reference",
    "SignedDifference",
    "Sitting",
    "Target",
    "TargetReport",
    "begin_sitting",
    "check_lab",
    "circle",
    "colour_map",
    "colour_name",
    "compare_in_photo",
    "delta_e00",
    "difference_band",
    "draft_photo",
    "family",
    "find_neutral",
    "find_target",
    "from_instrument",
    "is_tie",
    "measure",
    "measure_in_sitting",
    "metamerism_caution",
    "odd_places",
    "open_photo",
    "parse_reading",
    "read_reference",
    "srgb_codes",
    "step",
    "target_report",
    "tie_limit",
    "to_srgb",
    "uneven_warning",
    "words",
]
