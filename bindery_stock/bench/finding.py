"""Hold a part against the shelf."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from bindery_stock import matching
from bindery_stock.bench.usable import UsableRectangles
from bindery_stock.matching import Match, Ranking
from bindery_stock.shape import Placement, best_place
from bindery_stock.stock import FaceName, Piece

LEADING = 6
"""So many candidates are placed to leave the most useful offcut; the others wherever they fit."""


def as_matched(piece: Piece, usable: Placement | None = None) -> matching.Piece:
    """A piece as matching sees it: the shown face first, its other faces beside it.

    ``usable`` is its largest free rectangle along the warp, where that is known.
    """
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
        usable=usable,
    )


def hoard_of(
    pieces: Iterable[Piece], *, reserved: bool = False, usable: UsableRectangles | None = None
) -> matching.Hoard:
    """The shelf as matching sees it, without the pieces reserved for something else.

    With ``reserved`` they are taken in too. The rectangles known in ``usable`` spare exact fits.
    """
    free = [piece for piece in pieces if reserved or not piece.reserved_for]
    return matching.Hoard.of(
        [as_matched(piece, usable.known(piece) if usable else None) for piece in free]
    )


def placed_best(ranking: Ranking, check: Callable[[], None] = lambda: None) -> Ranking:
    """The same answer, its leading matches placed to leave the most useful offcut.

    Takes some tenths of a second a piece; ``check`` may stop the work. Parts that may be turned
    freely, and triangles, stay where they were found.
    """
    leading: list[Match] = []
    for match in ranking.matches[:LEADING]:
        check()
        leading.append(_best(match))
    return replace(ranking, matches=(*leading, *ranking.matches[LEADING:]))


def is_placed_best(match: Match) -> bool:
    """Whether a part such as this is placed to leave the most."""
    return not (match.part.free or match.part.triangular)


def _best(match: Match) -> Match:
    part, piece = match.part, match.piece
    if not is_placed_best(match):
        return match
    found = best_place(
        piece.outline,
        part.width,
        part.height,
        turns=part.turns_in(piece.pattern),
        margin=part.margin,
        flaws=piece.flaws,
        zones=part.sight,
    )
    if found is None:  # the corners tried cannot be proved; where it was found it is proved
        return match
    better = replace(match, placement=found)
    _ = better.left  # worked out here, away from the window
    return better if better.left.best >= match.left.best else match
