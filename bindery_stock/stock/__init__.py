"""The stockroom on disk. The only room that knows SQL."""

from bindery_stock.stock.stockroom import Stockroom
from bindery_stock.stock.values import (
    AdhesiveLot,
    Changes,
    Colour,
    Cutting,
    FaceName,
    Lab,
    Matrix,
    NewAdhesiveLot,
    NewPiece,
    Photo,
    PhotoMark,
    Piece,
    PieceState,
    Reservation,
    Soundness,
    Step,
    Verb,
)

__all__ = [
    "AdhesiveLot",
    "Changes",
    "Colour",
    "Cutting",
    "FaceName",
    "Lab",
    "Matrix",
    "NewAdhesiveLot",
    "NewPiece",
    "Photo",
    "PhotoMark",
    "Piece",
    "PieceState",
    "Reservation",
    "Soundness",
    "Step",
    "Stockroom",
    "Verb",
]
