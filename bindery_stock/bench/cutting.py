"""Plan a cut: the part, and what goes back on the shelf."""

from collections.abc import Collection

from bindery_stock import shape
from bindery_stock.shape import Placement
from bindery_stock.stock import Cutting, Piece


def plan_cut(
    piece: Piece,
    placement: Placement,
    purpose: str,
    *,
    knife: float = 0.0,
    throw_away: Collection[int] = (),
) -> Cutting:
    """The cutting of one part from ``piece``.

    ``knife`` is the strip lost to the knife in mm; ``throw_away`` numbers the remains (largest
    first, from 0) that are not worth keeping.
    """
    remains = shape.cut(piece.outline, placement, knife=knife)
    kept = tuple(r for n, r in enumerate(remains) if n not in throw_away)
    dropped = tuple(r for n, r in enumerate(remains) if n in throw_away)
    return Cutting(
        code=piece.code,
        purpose=purpose,
        width=placement.width,
        height=placement.height,
        corners=placement.corners,
        offcuts=kept,
        discarded=dropped,
    )
