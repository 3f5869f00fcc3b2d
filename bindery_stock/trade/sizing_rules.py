"""The rules by which parts are sized, as read from the rules files."""

from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.uses import Use
from bindery_stock.trade.vocabulary import Kind


class Role(StrEnum):
    """What a part is in a repair."""

    REBACK_INSIDE = "reback-inside"
    REBACK_OUTSIDE = "reback-outside"
    REBACK_REMOUNTED = "reback-remounted"
    HEAD_PIECE = "head-piece"
    TAIL_PIECE = "tail-piece"
    CORNER_PATCH = "corner-patch"
    CORNER_TRIANGLE = "corner-triangle"
    CORNER_FILL = "corner-fill"
    JOINT_CLOTH = "joint-cloth"
    JOINT_TISSUE = "joint-tissue"
    HINGE_TISSUE = "hinge-tissue"
    HINGE_CLOTH = "hinge-cloth"
    MULL = "mull"
    LINING_TISSUE = "lining-tissue"
    LINING_KRAFT = "lining-kraft"
    HOLLOW_SIMPLE = "hollow-simple"
    HOLLOW_THREE = "hollow-three"
    HOLLOW_FOUR = "hollow-four"
    HOLLOW_THREE_AND_HALF = "hollow-three-and-half"
    INLAY = "inlay"
    BOARD = "board"
    BOARD_CLOTH = "board-cloth"
    EDGE_TISSUE = "edge-tissue"
    HEADBAND = "headband"
    CASE_CLOTH = "case-cloth"
    QUARTER_BACK = "quarter-back"
    SIDE = "side"
    ENDPAPER = "endpaper"
    FLYLEAF = "flyleaf"
    SECTION_GUARD = "section-guard"
    LEAF_TEAR = "leaf-tear"
    FOLD_GUARD = "fold-guard"
    PASTEDOWN_FILLER = "pastedown-filler"
    HOLE_PATCH = "hole-patch"
    SEWING_TAPE = "sewing-tape"
    GAUGE = "gauge"


class Grain(StrEnum):
    """How the warp of cloth, or the grain of paper and board, must lie."""

    ALONG = "along the spine"
    EITHER = "either way"

    @property
    def turns(self) -> tuple[float, ...]:
        """Turns in degrees, counter-clockwise, that keep to it."""
        return (0.0, 180.0) if self is Grain.ALONG else (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AllowanceRule:
    """The default of one allowance, with its range."""

    key: str
    symbol: str
    words: str
    value: float
    low: float
    high: float
    provenance: Provenance
    choices: tuple[str, ...] = ()
    """In words, where it is a habit to be chosen and no length: the value is its number, from 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRule:
    """What is known of a part before any book is measured."""

    role: Role
    name: str
    stock: Kind
    use: Use | None
    """The use that stock and adhesive are judged for; None for what does not stay in the book."""
    material: str
    adhesives: tuple[str, ...]
    """Adhesive classes, first choice first."""
    grain: Grain
    plain: bool
    """Whether it is cut from plain cotton, never from book cloth."""
    rule: str
    """How its size is found, in symbols."""
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursRule:
    """How long one step takes a solo binder, each, drying left out."""

    key: str
    words: str
    low: float
    high: float
    provenance: Provenance
