"""How many parts of one size are left in a piece: the size asked for, and the count in words."""

from dataclasses import dataclass
from math import isfinite

from bindery_stock.bench.match.cut_words import MOST_COUNTED
from bindery_stock.matching import Part
from bindery_stock.shape import how_many
from bindery_stock.stock import StockPiece
from bindery_stock.units import LengthStyle

LAST_PART = "part/size"
"""The setting that keeps the size last sought, which the shelf counts by."""


@dataclass(frozen=True, slots=True)
class SizeCounted:
    """The part that is counted, in mm, along the warp and clear of every flaw."""

    width: float = 58.0
    height: float = 228.0
    margin: float = 2.0


def kept(size: SizeCounted | Part) -> str:
    """The size as plain text for keeping."""
    return f"{size.width!r} {size.height!r} {size.margin!r}"


def size_of(kept: str) -> SizeCounted:
    """The size from its text; a spine strip for an octavo where none was kept."""
    try:
        width, height, margin = (float(figure) for figure in kept.split())
    except ValueError:
        return SizeCounted()
    sound = all(map(isfinite, (width, height, margin))) and min(width, height) > 0 <= margin
    return SizeCounted(width, height, margin) if sound else SizeCounted()


def first_size(lengths: LengthStyle) -> SizeCounted:
    """The size to begin with, as it is offered in the unit of the user."""
    one = SizeCounted()
    return SizeCounted(*map(lengths.offered, (one.width, one.height, one.margin)))


def count(piece: StockPiece, size: SizeCounted) -> int:
    """How many parts of this size can be got out of a piece: at least so many."""
    return how_many(
        piece.outline,
        size.width,
        size.height,
        margin=size.margin,
        flaws=piece.flaws,
        most=MOST_COUNTED,
    )


def count_words(number: int, size: SizeCounted, lengths: LengthStyle) -> str:
    """``at least 3 of 58 × 228 mm``."""
    told = lengths.pair(size.width, size.height)
    return f"at least {number} of {told}" if number else f"none of {told}"
