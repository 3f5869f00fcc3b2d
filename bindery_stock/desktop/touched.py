"""The pieces a step touched, read again on the thread that made it."""

from collections.abc import Mapping
from dataclasses import dataclass

from bindery_stock.stock import Changes, PieceState, StockPiece, Stockroom

_READ_BY_ID = 200
"""Where a step touched more pieces than this, the whole shelf is read again at once."""


@dataclass(frozen=True, slots=True)
class Touched:
    """What is to be taken into the pieces on the shelf, by their ids."""

    pieces: Mapping[int, StockPiece | None]
    """Each as it is now, or None where it lies on the shelf no more."""
    whole: bool = False
    """Whether these are all the pieces on the shelf."""

    def taken_into(self, shelf: Mapping[int, StockPiece]) -> dict[int, StockPiece]:
        """The shelf with the pieces touched as they are now."""
        kept = {} if self.whole else {n: p for n, p in shelf.items() if n not in self.pieces}
        return kept | {number: piece for number, piece in self.pieces.items() if piece is not None}


def touched_by(changes: Changes, stockroom: Stockroom) -> Touched:
    """Read the pieces a step touched. Any thread may ask."""
    touched = changes.touched.get("piece", frozenset())
    if len(touched) > _READ_BY_ID:
        return Touched({piece.id: piece for piece in stockroom.pieces.listed()}, whole=True)
    if not touched:
        return Touched({})
    read = {piece.id: piece for piece in stockroom.pieces.by_ids(touched)}
    return Touched({number: _on_shelf(read.get(number)) for number in sorted(touched)})


def _on_shelf(piece: StockPiece | None) -> StockPiece | None:
    """None for what lies on the shelf no more, or whose shelving was taken back."""
    return piece if piece is not None and piece.state is PieceState.ON_SHELF else None
