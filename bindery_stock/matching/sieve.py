"""Refusing outlines that cannot hold an upright rectangle, many at once, before any exact fit.

Level lines are laid over each outline so closely that a part of height h would be crossed by at
least a set number of them. On each line the part needs an uncut stretch of cloth as long as it is
wide, and on neighbouring lines these stretches must lie above one another. An outline without such
a run of lines has no place for the part; one with it may have, and an exact fit decides. Wide lines
go first, and close ones over what they leave.
"""

import math

import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

SLACK = 0.1
"""mm by which a stretch may seem too short before it refuses: more than a tight fit allows."""
_SPACINGS = (16.0, 4.0)  # mm between lines aimed at, one mesh after the other
_FEWEST, _MOST = 2, 64  # lines that a part is crossed by


def may_hold_upright(
    polygons: NDArray[np.object_], width: float, height: float, margin: float = 0.0
) -> Truths:
    """Which of the polygons may hold an upright rectangle that far from their edges, all in mm.

    False is certain: no placement exists. True is not.
    """
    kept = np.arange(len(polygons))
    for spacing in _SPACINGS:
        kept = kept[_passes(polygons[kept], width, height, margin, spacing)]
    answer = np.zeros(len(polygons), dtype=np.bool_)
    answer[kept] = True
    return answer


def _passes(
    polygons: NDArray[np.object_], width: float, height: float, margin: float, spacing: float
) -> Truths:
    """Which polygons have such a run of lines that far apart, both level and upright."""
    rings, owner = shapely.get_rings(polygons, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    start, end, owner = points[:-1][same], points[1:][same], owner[ring[:-1][same]]
    box = shapely.bounds(polygons).reshape(-1, 4)
    level = (width + 2 * margin, height)
    upright = (height + 2 * margin, width)
    answer = _runs(start, end, owner, box[:, 1], box[:, 3], level, spacing)
    return answer & _runs(
        start[:, ::-1], end[:, ::-1], owner, box[:, 0], box[:, 2], upright, spacing
    )


def _runs(
    start: Floats,
    end: Floats,
    owner: NDArray[np.intp],
    low: Floats,
    high: Floats,
    size: tuple[float, float],
    aim: float,
) -> Truths:
    """Which outlines have a run of level lines with stretches one above the other."""
    length, rise = size[0] - SLACK, size[1] - SLACK
    if length <= 0 or rise <= 0:
        return np.ones(len(low), dtype=np.bool_)
    crossing = min(max(math.ceil(rise / aim), _FEWEST), _MOST)
    spacing = rise / crossing
    lines = max(int(np.ceil((high - low) / spacing).max(initial=0)), crossing)
    left, right = _stretches(start, end, owner, low, spacing, (len(low), lines), length)
    windows = np.lib.stride_tricks.sliding_window_view
    inner_left = windows(left, crossing, axis=1).max(axis=2)
    inner_right = windows(right, crossing, axis=1).min(axis=2)
    return np.asarray((inner_right - inner_left >= length).any(axis=1))


def _stretches(
    start: Floats,
    end: Floats,
    owner: NDArray[np.intp],
    low: Floats,
    spacing: float,
    shape: tuple[int, int],
    length: float,
) -> tuple[Floats, Floats]:
    """Where the stretches of at least ``length`` on each line begin and end.

    Several on one line are taken as one from the first to the last, which can only accept.
    """
    lines = shape[1]
    below = np.minimum(start[:, 1], end[:, 1]) - low[owner]
    above = np.maximum(start[:, 1], end[:, 1]) - low[owner]
    # Line k lies at (k + ½) spacings; an edge is crossed where below <= line < above.
    first = np.ceil(below / spacing - 0.5).astype(np.intp)
    count = np.ceil(above / spacing - 0.5).astype(np.intp) - first
    edge = np.repeat(np.arange(len(owner)), count)
    line = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    y = (line + 0.5) * spacing + low[owner[edge]]
    along = (y - start[edge, 1]) / (end[edge, 1] - start[edge, 1])
    x = start[edge, 0] + along * (end[edge, 0] - start[edge, 0])
    row = owner[edge] * lines + line
    order = np.lexsort((x, row))
    begin, stop, at = x[order][::2], x[order][1::2], row[order][::2]
    long = stop - begin >= length
    left, right = np.full(shape[0] * lines, np.inf), np.full(shape[0] * lines, -np.inf)
    np.minimum.at(left, at[long], begin[long])
    np.maximum.at(right, at[long], stop[long])
    return left.reshape(shape), right.reshape(shape)
