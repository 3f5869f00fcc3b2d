"""What a piece lacks for a part, as one phrase for the near misses."""

import math
from dataclasses import replace

from bindery_stock.matching.fits import fit
from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape import lack


def shortfall(part: Part, piece: Piece, delta_e: float | None, *, under: bool = False) -> str:
    """Why ``piece`` does not serve: its colour first, then its shape.

    ``delta_e`` is the ΔE00 of its best face, or nothing where none was measured; ``under``: of the
    cloth under the part at the closest place. Empty where nothing is lacking.
    """
    reasons = [_colour(part, delta_e, under=under), _shape(part, piece)]
    return "; ".join(reason for reason in reasons if reason)


def _colour(part: Part, delta_e: float | None, *, under: bool) -> str:
    if part.lab is None:
        return ""
    if delta_e is None:
        return "its colour has not been measured"
    figure = f"ΔE00 {delta_e:.1f}"
    if under:
        figure += " under the part, where it is closest,"
    if part.tolerance is not None and delta_e > part.tolerance:
        return f"{figure} is beyond the {part.tolerance:g} allowed"
    if delta_e > part.farthest:
        return f"another colour: {figure} is beyond {part.farthest:g}"
    return ""


def _shape(part: Part, piece: Piece) -> str:
    turns = part.turns_in(piece.pattern)
    if not turns:
        return f"its {piece.pattern} may not be turned a quarter where it is seen"
    if part.free or part.triangular:
        return _patch(part, piece)
    found = lack(
        piece.outline,
        part.width,
        part.height,
        turns=turns,
        margin=part.margin,
        flaws=piece.flaws,
        zones=part.sight,
    )
    if found is None:
        return ""
    if math.isinf(found.nearness) and all(turn % 180 == 0 for turn in turns):
        return _both_ways(part, piece) or found.words
    return found.words


def _patch(part: Part, piece: Piece) -> str:
    """As ``lack`` for parts that are no upright rectangles: found by trying."""
    if fit(part, piece) is not None:
        return ""
    if piece.flaws and fit(part, replace(piece, flaws=())) is not None:
        return "fits but for its flaws"
    if part.margin and fit(replace(part, margin=0.0), piece) is not None:
        return f"fits, but without the margin of {part.margin:g} mm"
    return "too small, whichever way it may be turned"


def _both_ways(part: Part, piece: Piece) -> str:
    """Too small both ways: by how much at least, as its greatest width and height tell."""
    across = math.ceil(part.width + 2 * part.margin - piece.outline.width)
    along = math.ceil(part.height + 2 * part.margin - piece.outline.height)
    if across <= 0 or along <= 0:
        return ""
    return f"at least {across} mm too narrow and {along} mm too short along the warp"
