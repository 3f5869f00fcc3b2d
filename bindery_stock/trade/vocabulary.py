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
PLAIN_PATTERNS: frozenset[str] = frozenset(("", "smooth", "calico"))
"""Patterns that cotton without any grain may be written down by."""
DIRECTIONAL_PATTERNS: frozenset[str] = frozenset(
    (*PATTERN_FAMILIES["line"], "straight-grain morocco", "herringbone", "moiré")
)
"""Patterns that look wrong turned a quarter, even where the weave would allow it."""


def is_plain_cotton(kind: Kind, fibre: Fibre, backing: Backing, pattern: str) -> bool:
    """Whether cloth is plain cotton such as jaconet or cambric: no grain, nothing behind the weave.

    What is not known of it speaks against it: it may be book cloth. Common practice, no source.
    """
    plain = fibre is Fibre.COTTON and backing is Backing.NONE
    return kind is Kind.CLOTH and plain and pattern in PLAIN_PATTERNS
