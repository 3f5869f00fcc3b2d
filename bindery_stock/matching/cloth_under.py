"""The cloth that will be seen: what a piece's colour map says under a part as it lies."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bindery_stock.colour import delta_e00
from bindery_stock.colour.space import xyz_to_lab
from bindery_stock.matching.fits import Lying
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape import FlawKind, PatchPlacement, Placement, Ring, Sight
from bindery_stock.shape.shaded_places import Shade
from bindery_stock.shape.zones import Box, kept_clear

_TENTH = 0.9


@dataclass(frozen=True, slots=True)
class ClothUnder:
    """How the cloth under the shown zones of a part stands to the colour sought."""

    delta_e: float
    """ΔE00 between the colour sought and the mean of that cloth, in linear light."""
    worst: float
    """A tenth of that cloth is at least so far off, ΔE00."""
    spread: float
    """Root mean square ΔE00 of that cloth about its own mean."""


def cloth_under(part: Part, piece: Piece, lying: Lying) -> ClothUnder | None:
    """What is seen of ``piece`` where the part lies; nothing where no map or no colour tells."""
    if piece.colour_map is None or part.lab is None:
        return None
    rings = _seen_rings(part, lying)
    if not rings:
        return None
    xyz, shares = piece.colour_map.cells_in(rings)
    if not len(xyz):
        return None
    mean = xyz_to_lab(np.average(xyz, axis=0, weights=shares))
    labs = xyz_to_lab(xyz)
    steps = delta_e00(part.lab, labs)
    order = np.argsort(steps, kind="stable")
    below = np.cumsum(shares[order]) / shares.sum()
    worst = steps[order][min(int(np.searchsorted(below, _TENTH)), len(order) - 1)]
    spread = np.sqrt(np.average(delta_e00(mean, labs) ** 2, weights=shares))
    return ClothUnder(float(delta_e00(part.lab, mean)), float(worst), float(spread))


def shade_on(part: Part, piece: Piece) -> Shade | None:
    """ΔE00 from the colour sought wherever the part may lie, quickly; nothing without a map."""
    seen, sought, known = piece.colour_map, part.lab, shown_boxes(part)
    if seen is None or sought is None or not known:
        return None
    boxes = np.asarray(known)

    def shade(lying: Sequence[Placement]) -> Floats:
        if any(one.turn % 90 for one in lying):
            each = (cloth_under(part, piece, one) for one in lying)
            return np.array([math.inf if one is None else one.delta_e for one in each])
        corners = np.array([one.corners for one in lying]).reshape(-1, 4, 2)
        sizes = np.array([(one.width, one.height) for one in lying]).reshape(-1, 2)
        start = corners[:, 0]
        across = (corners[:, 1] - start) / sizes[:, :1]
        along = (corners[:, 3] - start) / sizes[:, 1:]

        def laid(own: Floats) -> Floats:
            moved = own[:, :1] * across[:, None] + own[:, 1:] * along[:, None]
            return np.asarray(start[:, None] + moved)

        one, two = laid(boxes[:, :2]), laid(boxes[:, 2:])
        mean = seen.mean_in(np.concatenate([np.minimum(one, two), np.maximum(one, two)], axis=-1))
        away = np.full(len(mean), np.inf)
        there = np.isfinite(mean[:, 0])
        away[there] = delta_e00(sought, xyz_to_lab(mean[there]))
        return away

    return shade


def shown_boxes(part: Part) -> list[Box]:
    """The places of a part that are seen, in its own mm; none of a part that is hidden."""
    kind = FlawKind.STAIN  # any will do: what is asked is where only the hidden may lie
    rule = {kind: frozenset({Sight.HIDDEN})}
    return kept_clear(kind, part.sight, part.width, part.height, rule)


def _seen_rings(part: Part, lying: Lying) -> list[Ring]:
    """The places that are seen, as they lie in the piece."""
    if isinstance(lying, PatchPlacement):
        return [lying.ring] if part.shown else []
    rings = []
    for left, low, right, high in shown_boxes(part):
        own = np.array(((left, low), (right, low), (right, high), (left, high)))
        rings.append(tuple((float(x), float(y)) for x, y in _laid(lying, own)))
    return rings


def _laid(lying: Placement, own: Floats) -> Floats:
    """Places in the part's own mm (n × 2), as they lie in the piece."""
    start, across, _, along = np.asarray(lying.corners)
    steps = (across - start) / lying.width, (along - start) / lying.height
    return np.asarray(start + own[:, :1] * steps[0] + own[:, 1:] * steps[1])
