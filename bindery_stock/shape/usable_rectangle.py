"""The largest rectangle that can be got out of a piece.

A net of lines gives the largest rectangle made of free cells; the net is then drawn ever finer
about its four sides. What comes out always lies inside. It may fall a little short of the largest
there is, so it may accept a part but never refuse one.
"""

from collections.abc import Callable, Sequence
from math import isfinite

import numpy as np

from bindery_stock.errors import ShapeError
from bindery_stock.shape.cells import Edges, Lines, free_cells, widest
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.inner_fit import rings_of
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import Placement, check_turns, placement_at

_LINES = 64  # of the first net, each way
_ROUGH_LINES = 48  # where a quick answer is wanted
_STARTS = 6  # rectangles of the first net that are drawn finer
_NEIGHBOURS = 7  # lines: starts closer than half of this are one
_ABOUT = 2  # lines of the net before, on either side of each side, within which it is drawn finer
_FINER = 5  # lines there, on either side
_REFINEMENTS = 4

Net = tuple[Lines, Lines]
Box = tuple[float, float, float, float]
Worth = Callable[[Lines, Lines], Lines]


def largest_rectangle(
    outline: Outline,
    turn: float = 0,
    *,
    proportion: float | None = None,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> Placement | None:
    """The largest rectangle inside ``outline`` at ``turn`` degrees, clear of ``flaws``.

    ``proportion`` is width over height, where it is given; else the area decides. ``None`` where
    nothing is left to use. Raises ``ShapeError`` for a proportion or margin that makes no sense.
    """
    check_turns((turn,))
    return largest_on(ground(outline, margin=margin, flaws=flaws), turn, proportion)


def largest_on(
    usable: Ground, turn: float = 0, proportion: float | None = None
) -> Placement | None:
    """As :func:`largest_rectangle`, on ground already prepared."""
    worth = _worth(proportion)
    edges, net = _edges_and_net(usable, turn, _LINES)
    if edges is None:
        return None
    starts = _best(edges, net, worth, _STARTS)
    if not starts:
        return None
    net, box = max(
        (_finer_best(edges, net, box, worth) for box in starts),
        key=lambda found: float(worth(*np.subtract(found[1][2:], found[1][:2]))),
    )
    for _ in range(_REFINEMENTS):
        net, box = _finer_best(edges, net, box, worth)
    return _placed(usable, box, turn, proportion)


def rough_area(usable: Ground) -> float:
    """Area in mm² of the largest rectangle of the first net alone: quick, never too much."""
    edges, net = _edges_and_net(usable, 0.0, _ROUGH_LINES)
    if edges is None:
        return 0.0
    boxes = _best(edges, net, _worth(None), 1)
    return max(((box[2] - box[0]) * (box[3] - box[1]) for box in boxes), default=0.0)


def rough_extent(usable: Ground, turn: float, *, width: float = 0.0, height: float = 0.0) -> float:
    """How high a rectangle of ``width`` can surely be had, or how wide one of ``height``, in mm."""
    edges, net = _edges_and_net(usable, turn, _ROUGH_LINES)
    if edges is None:
        return 0.0
    widths = widest(free_cells(edges, *net), net[0]).width
    heights = np.where(widths > 0.0, net[1][None, 1:] - net[1][:-1, None], 0.0)
    enough = np.where(widths >= width, heights, 0.0) if width else widths * (heights >= height)
    return float(enough.max())


def _edges_and_net(usable: Ground, turn: float, lines: int) -> tuple[Edges | None, Net]:
    rings = [ring for polygon in usable.polygons for ring in rings_of(polygon, turn)]
    if not rings:
        return None, (np.zeros(0), np.zeros(0))
    edges = Edges.of(rings)
    corners = np.concatenate(rings)
    return edges, (_net(corners[:, 0], edges, 0, lines), _net(corners[:, 1], edges, 1, lines))


def _finer_best(edges: Edges, net: Net, box: Box, worth: Worth) -> tuple[Net, Box]:
    """A net drawn finer about the sides of ``box``, and the best rectangle in it."""
    net = (_finer(net[0], box[0], box[2]), _finer(net[1], box[1], box[3]))
    return net, next(iter(_best(edges, net, worth, 1)), box)


def _worth(proportion: float | None) -> Worth:
    if proportion is None:
        return lambda width, height: width * height
    if not isfinite(proportion) or proportion <= 0.0:
        raise ShapeError(f"A proportion of {proportion} is none. Give width over height.")
    return lambda width, height: np.minimum(width / proportion, height)


def _net(values: Lines, edges: Edges, axis: int, lines: int) -> Lines:
    """Even lines, with the corners' own where they are few and those of straight edges always."""
    straight = edges.left[:, axis] == edges.right[:, axis]
    lengths = np.abs(edges.left - edges.right)[straight, 1 - axis]
    own = np.unique(values)
    if len(own) > lines:
        longest = np.argsort(-lengths, kind="stable")[: lines // 3]
        own = np.unique(edges.left[straight, axis][longest])
    even = np.linspace(values.min(), values.max(), max(lines - len(own), lines // 3) + 1)
    return np.unique(np.concatenate((own, even)))


def _best(edges: Edges, net: Net, worth: Worth, count: int) -> list[Box]:
    """The worthiest rectangles of free cells, each the best among its neighbours."""
    xs, ys = net
    found = widest(free_cells(edges, xs, ys), xs)
    heights = ys[None, 1:] - ys[:-1, None]
    value = np.where(found.width > 0.0, worth(found.width, heights), 0.0)
    if count > 1:
        from scipy.ndimage import maximum_filter  # noqa: PLC0415 - at first use

        value = np.where(value == maximum_filter(value, _NEIGHBOURS), value, 0.0)
    boxes: list[Box] = []
    for flat in np.argsort(-value, axis=None)[:count]:
        low, high = np.unravel_index(int(flat), value.shape)
        if value[low, high] <= 0.0:
            break
        right = float(xs[found.end[low, high] + 1])
        left = float(xs[np.argmin(np.abs(xs - (right - found.width[low, high])))])
        boxes.append((left, float(ys[low]), right, float(ys[high + 1])))
    return boxes


def _finer(lines: Lines, low: float, high: float) -> Lines:
    """Lines about the two sides, drawn finer between their neighbours, and a few between."""
    about: list[Lines] = [np.linspace(low, high, 2 * _FINER)]
    for side in (low, high):
        at = int(np.argmin(np.abs(lines - side)))
        before = lines[max(at - _ABOUT, 0)]
        after = lines[min(at + _ABOUT, len(lines) - 1)]
        about.append(np.linspace(before, side, _FINER + 1))
        about.append(np.linspace(side, after, _FINER + 1))
    return np.unique(np.concatenate(about))


def _placed(usable: Ground, box: Box, turn: float, proportion: float | None) -> Placement | None:
    left, low, right, high = box
    width, height = right - left, high - low
    if proportion is not None:
        width, height = min(width, height * proportion), min(height, width / proportion)
    for shrink in (0.0, 1e-6, 1e-3):
        w, h = width - 2.0 * shrink, height - 2.0 * shrink
        if w <= 0.0 or h <= 0.0:
            return None
        found = placement_at(left + shrink, low + shrink, w, h, turn, tight=True)
        if usable.proves(found.corners, EXACT):
            return found
    return None
