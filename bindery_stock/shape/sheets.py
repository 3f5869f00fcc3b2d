"""Sheets, boards and rolls: rectangles that shrink, and how many parts are left in them."""

from collections.abc import Sequence
from math import floor, isfinite

from bindery_stock.errors import ShapeError
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import ground
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import check_margin, check_size, check_turns

_ROUNDING = 1e-9
_MOST = 500
"""More parts than this are not counted out of an irregular piece."""


def is_sheet(outline: Outline) -> bool:
    """Whether the outline is a plain upright rectangle."""
    corners = set(outline.exterior)
    left, low, right, high = outline.bounds
    upright = {(left, low), (right, low), (right, high), (left, high)}
    return not outline.holes and corners == upright


def sheet(width: float, height: float) -> Outline:
    """The outline of a sheet, board or roll; the height runs along the warp or grain."""
    check_size(width, height)
    return Outline(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))


def cut_length(outline: Outline, length: float) -> Outline | None:
    """A roll or sheet with ``length`` mm taken off its upper end; ``None`` where it is used up.

    The rest stays one piece, where it lay. Raises ``ShapeError`` where the piece is no rectangle,
    or shorter than the length.
    """
    if not is_sheet(outline):
        raise ShapeError("Only a sheet or a roll can be cut to length. Place a part in it instead.")
    if not isfinite(length) or length <= 0.0:
        raise ShapeError(f"A length of {length} mm cannot be cut off. Give a length above nothing.")
    left = outline.height - length
    if left < -_ROUNDING:
        raise ShapeError(
            f"Only {outline.height:.0f} mm are left, so {length:.0f} mm cannot be cut off."
        )
    if left <= _ROUNDING:
        return None
    x, y, right, _high = outline.bounds
    return Outline(((x, y), (right, y), (right, y + left), (x, y + left)))


def how_many(
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    most: int = _MOST,
) -> int:
    """How many parts of ``width`` × ``height`` mm can be got out of ``outline``: at least so many.

    ``gap`` is the knife's width between parts. In a sheet they are laid in rows, in two blocks
    where a quarter turn is allowed; in an irregular piece one after the other, ``most`` of them.
    """
    check_size(width, height)
    check_turns(tuple(turns))
    check_margin(margin)
    check_margin(gap)
    if is_sheet(outline) and not flaws and all(turn % 90.0 == 0.0 for turn in turns):
        across, along = outline.width - 2.0 * margin + gap, outline.height - 2.0 * margin + gap
        size = (width + gap, height + gap)
        ways = [size if turn % 180.0 == 0.0 else size[::-1] for turn in turns]
        return max(_two_blocks((across, along), first, other) for first in ways for other in ways)
    usable = ground(outline, margin=margin, flaws=flaws)
    count = 0
    while count < most and (found := place_on(usable, width, height, turns)) is not None:
        usable = usable.without(found.polygon, gap)
        count += 1
    return count


def _two_blocks(
    room: tuple[float, float], first: tuple[float, float], other: tuple[float, float]
) -> int:
    """A block of the one beside or above a block of the other."""
    beside = max(
        n * _fits(room[1], first[1]) + _grid((room[0] - n * first[0], room[1]), other)
        for n in range(_fits(room[0], first[0]) + 1)
    )
    above = max(
        n * _fits(room[0], first[0]) + _grid((room[0], room[1] - n * first[1]), other)
        for n in range(_fits(room[1], first[1]) + 1)
    )
    return max(beside, above)


def _grid(room: tuple[float, float], size: tuple[float, float]) -> int:
    return _fits(room[0], size[0]) * _fits(room[1], size[1])


def _fits(room: float, length: float) -> int:
    return max(floor((room + 1e-6) / length), 0)
