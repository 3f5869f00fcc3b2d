"""How close the cloth of each piece comes to a part at its closest place, for sharing out."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely

from bindery_stock.colour import delta_e00
from bindery_stock.colour.space import xyz_to_lab
from bindery_stock.matching.cloth_under import shown_boxes
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape.placement import placement_at
from bindery_stock.shape.shaded_places import ways_to_lie

_STEP_MM = 6.0
_ALONG_SIDE = 20
"""At most so many places along each side of the positions."""


def by_closest_place(
    part: Part,
    pieces: Sequence[Piece],
    delta_e: Floats,
    which: Iterable[int],
    other_face: Mapping[int, int],
) -> Floats:
    """``delta_e`` of a part by pieces, for those with a colour map that of their closest place.

    Places lie on a grid over the piece, whole cloth without its flaws. The reading stays where no
    place of the grid holds the part, where another face was closer, and for parts turned freely.
    Takes about a millisecond a piece.
    """
    found = delta_e.copy()
    boxes = np.asarray(shown_boxes(part))
    if part.lab is None or part.free or part.triangular or not len(boxes):
        return found
    for index in which:
        if index not in other_face and not np.isnan(delta_e[index]):
            closest = _closest(part, pieces[index], boxes)
            found[index] = delta_e[index] if closest is None else closest
    return found


def _closest(part: Part, piece: Piece, boxes: Floats) -> float | None:
    seen, sought, best = piece.colour_map, part.lab, np.inf
    if seen is None or sought is None:
        return None
    polygon = piece.outline.polygon
    shapely.prepare(polygon)
    left, low, right, high = polygon.bounds
    for turn in ways_to_lie(part.turns_in(piece.pattern), part.sight):
        if turn % 90:
            continue
        corners = np.asarray(placement_at(0.0, 0.0, part.width, part.height, turn).corners)
        corners = corners - corners.min(axis=0)
        width, height = corners.max(axis=0)
        x, y = np.meshgrid(_spots(left, right - width), _spots(low, high - height))
        at = np.stack([x.ravel(), y.ravel()], axis=-1)
        whole = shapely.box(at[:, 0], at[:, 1], at[:, 0] + width, at[:, 1] + height)
        at = at[shapely.covers(polygon, whole)]
        across = (corners[1] - corners[0]) / part.width
        along = (corners[3] - corners[0]) / part.height
        one, two = (
            corners[0] + own[:, :1] * across + own[:, 1:] * along
            for own in (boxes[:, :2], boxes[:, 2:])
        )
        laid = np.hstack([np.minimum(one, two), np.maximum(one, two)])
        mean = seen.mean_in(laid[None] + np.tile(at, 2)[:, None])
        mean = mean[np.isfinite(mean[:, 0])]
        if len(mean):
            best = min(best, float(delta_e00(sought, xyz_to_lab(mean)).min()))
    return best if np.isfinite(best) else None


def _spots(first: float, last: float) -> Floats:
    """Evenly from the first to the last; none where there is no room."""
    if last < first:
        return np.empty(0)
    return np.linspace(first, last, min(_ALONG_SIDE, int((last - first) / _STEP_MM) + 2))
