"""Keeping what one photograph of book and scrap said of their match."""

from bindery_stock.bench.colour_room.side_by_side import Pair
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.colour import Comparison
from bindery_stock.stock import Changes, NewConfirmation, Stockroom, Verb


@deed(Bearing.KEEPS)
def confirm(
    room: Stockroom, *, piece: str, pair: Pair, comparison: Comparison, purpose: str, light: str
) -> Changes:
    """Archive the photograph and keep what it said of the match of ``piece``.

    Raises ``EntryError`` for what cannot be kept, ``PhotoError``, and ``NotFound``.
    """
    width, height = pair.size
    archived = room.photos.archive(pair.photo, name=pair.name, width=width, height=height)
    new = NewConfirmation(
        purpose=purpose,
        light=light,
        delta_e=comparison.delta_e,
        u=comparison.u,
        method=comparison.first.method,
        photo=archived.sha256,
        book_patches=pair.book,
        piece_patches=pair.piece,
    )
    with room.step(Verb.CONFIRMED) as step:
        room.pieces.confirm(piece, new)
    return step.changes
