"""Which piece serves which part: plain values in, plain values out."""

from bindery_stock.matching.fits import Left, fit, left_over
from bindery_stock.matching.hoard import Hoard
from bindery_stock.matching.ranking import Match, NearMiss, Ranking, rank
from bindery_stock.matching.values import Face, Part, Piece

__all__ = [
    "Face",
    "Hoard",
    "Left",
    "Match",
    "NearMiss",
    "Part",
    "Piece",
    "Ranking",
    "fit",
    "left_over",
    "rank",
]
