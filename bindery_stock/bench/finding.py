"""Hold a part against the shelf."""

from collections.abc import Iterable

from bindery_stock import matching
from bindery_stock.stock import FaceName, Piece


def as_matched(piece: Piece) -> matching.Piece:
    """A piece as matching sees it: the shown face first, its other faces beside it."""
    shown = next((c for c in piece.colours if c.face is FaceName.SHOWN), None)
    others = tuple(
        matching.Face(colour.face.value, colour.lab, colour.u)
        for colour in piece.colours
        if colour.face is not FaceName.SHOWN
    )
    return matching.Piece(
        piece.code,
        piece.outline,
        shown.lab if shown else None,
        u=shown.u if shown else None,
        flaws=piece.flaws,
        kind=piece.kind,
        pattern=piece.pattern,
        faces=others,
    )


def hoard_of(pieces: Iterable[Piece], *, reserved: bool = False) -> matching.Hoard:
    """The shelf as matching sees it, without the pieces reserved for something else.

    With ``reserved`` they are taken in too.
    """
    free = [piece for piece in pieces if reserved or not piece.reserved_for]
    return matching.Hoard.of([as_matched(piece) for piece in free])
