"""The words a binder uses for stock, and what each implies for use.

Grain pattern names follow the families of bibliographers (G. T. Tanselle, *Studies in
Bibliography* 23, 1970, on describing patterns by structure); authorities disagree on single names,
so the user may type any other.
"""

from enum import StrEnum


class Kind(StrEnum):
    """What a piece of stock is."""

    CLOTH = "cloth"
    LEATHER = "leather"
    MULL = "mull"
    KRAFT = "kraft"
    PAPER = "paper"
    TISSUE = "tissue"
    BOARD = "board"
    TAPE = "tape"


CODE_LETTER: dict[Kind, str] = {
    Kind.CLOTH: "C",
    Kind.LEATHER: "L",
    Kind.MULL: "M",
    Kind.KRAFT: "K",
    Kind.PAPER: "P",
    Kind.TISSUE: "T",
    Kind.BOARD: "B",
    Kind.TAPE: "S",
}
"""The letter a piece's code begins with, as in ``C-0042``."""


class Form(StrEnum):
    """How a piece lies in stock."""

    SCRAP = "scrap"
    SHEET = "sheet"
    ROLL = "roll"


class Fibre(StrEnum):
    """What the threads are."""

    UNKNOWN = "unknown"
    COTTON = "cotton"
    LINEN = "linen"
    SILK = "silk"
    MIXED = "mixed"


class Backing(StrEnum):
    """What closes the weave behind."""

    UNKNOWN = "unknown"
    NONE = "none"
    STARCH = "starch-filled"
    PAPER = "paper"
    TISSUE = "tissue"
    ACRYLIC = "acrylic-coated"
    PYROXYLIN = "pyroxylin"


PATTERN_FAMILIES: dict[str, tuple[str, ...]] = {
    "weave seen": ("smooth", "calico", "linen", "canvas", "buckram"),
    "leather-like": ("morocco", "straight-grain morocco", "pebble"),
    "line": ("fine rib", "rib", "coarse rib", "diagonal rib", "ripple", "wave", "dot-and-line"),
    "all-over dot": ("sand", "bead", "bubble", "pinhead"),
    "net": ("diaper", "net", "honeycomb", "herringbone"),
    "ribbon-embossed": ("floral", "moiré"),
}
"""Grain patterns by family."""

PATTERNS: tuple[str, ...] = tuple(n for names in PATTERN_FAMILIES.values() for n in names)
DIRECTIONAL_PATTERNS: frozenset[str] = frozenset(
    (*PATTERN_FAMILIES["line"], "straight-grain morocco", "herringbone", "moiré")
)
"""Patterns that look wrong turned a quarter, even where the weave would allow it."""
