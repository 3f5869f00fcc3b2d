"""One part in one piece: the exact fit, and what the cut would leave."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape import (
    WHERE_FLAWS_MAY_LIE,
    Flaw,
    PatchPlacement,
    Placement,
    Sight,
    Zone,
    cut,
    largest_rectangle,
    place,
    place_patch,
)
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.placement import placement_at
from bindery_stock.shape.turns import turned


@dataclass(frozen=True, slots=True)
class Left:
    """What a cut leaves of a piece."""

    area: float
    """Square millimetres, all remains together."""
    width: float
    height: float
    """The largest free rectangle along the warp in any of the remains, mm; 0 where none is."""

    @property
    def best(self) -> float:
        """Area of that rectangle, mm²."""
        return self.width * self.height


Lying = Placement | PatchPlacement


def fit(part: Part, piece: Piece) -> Lying | None:
    """A proved placement of ``part`` in ``piece``, or nothing."""
    turns = part.turns_in(piece.pattern)
    if not turns:
        return None
    if part.triangular:
        # a patch has no zones: it is seen throughout, or nowhere
        bad = flaws_in_the_way(part, piece)
        return place_patch(
            piece.outline, part.outline, turns=turns, free=part.free, margin=part.margin, flaws=bad
        )
    if part.free:
        return place(
            piece.outline,
            part.width,
            part.height,
            turns=turns,
            margin=part.margin,
            flaws=piece.flaws,
            zones=part.sight,
            free=part.free,
        )
    usable = ground(piece.outline, margin=part.margin, flaws=piece.flaws, zones=part.sight)
    return _in_usable(part, piece, usable, turns[0]) or place_on(
        usable, part.width, part.height, turns
    )


def flaws_in_the_way(part: Part, piece: Piece) -> list[Flaw]:
    """The flaws that may lie nowhere in the part, as far as it is seen."""
    return flaws_for(part.sight, piece.flaws)


def flaws_for(zones: Sequence[Zone], flaws: Sequence[Flaw]) -> list[Flaw]:
    """Those of the flaws that may lie nowhere in a part with these zones."""
    seen = {zone.sight for zone in zones} or {Sight.SHOWN}
    return [f for f in flaws if not WHERE_FLAWS_MAY_LIE.get(f.kind, frozenset()) & seen]


def _in_usable(part: Part, piece: Piece, usable: Ground, turn: float) -> Placement | None:
    """The part in a corner of the rectangle known to be free, if it is the turn's to take.

    The rectangle may only accept: where the part is too large for it an exact fit decides.
    """
    if piece.usable is None or turn % 90 != 0:
        return None
    corners = np.array(piece.usable.corners)
    left, low = corners.min(axis=0) + part.margin
    size = np.array((part.width, part.height))
    across, along = size if turn % 180 == 0 else size[::-1]
    if np.any((left + across, low + along) > corners.max(axis=0) - part.margin):
        return None
    box = np.array(((left, low), (left + across, low + along)))
    x, y = turned(box, -turn).min(axis=0)
    found = placement_at(float(x), float(y), part.width, part.height, turn)
    return found if usable.proves(np.array(found.corners), EXACT) else None


def left_over(piece: Piece, placement: Lying, *, knife: float = 0.0) -> Left:
    """What of ``piece`` is left when the part is cut where ``placement`` says."""
    remains = cut(piece.outline, placement, knife=knife)
    free = [largest_rectangle(outline, flaws=piece.flaws) for outline in remains]
    sizes = [(found.width, found.height) for found in free if found is not None]
    width, height = max(sizes, key=lambda size: size[0] * size[1], default=(0.0, 0.0))
    return Left(sum(outline.area for outline in remains), width, height)
