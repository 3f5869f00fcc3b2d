"""Taking a piece out of stock for good."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.KEEPS)
def discard(room: Stockroom, *, piece: str, why: str) -> Changes:
    """Discard a piece and say why. Raises ``StockError`` where it is reserved or gone."""
    with room.step(Verb.DISCARDED) as step:
        room.pieces.discard(piece, why)
    return step.changes
