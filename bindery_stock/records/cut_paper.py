"""The plan of a cut on paper: first a sketch with its measures, then the piece at full size.

At full size it is tiled over as many pages as it takes. Each page shows a strip of its neighbours,
has crosses that lie on the same place of both, and a line of exactly 50 mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from bindery_stock.records.page import (
    Align,
    Mark,
    Page,
    Paper,
    Stroke,
    Words,
    check_line,
    warp_arrow,
)
from bindery_stock.shape import Ring
from bindery_stock.stock import Cutting, Piece
from bindery_stock.units import LengthStyle

MARGIN_MM = 12.0
OVERLAP_MM = 10.0
"""So much of a page is seen again on the next."""
_FOOT_MM = 12.0
_HEAD_MM = 16.0
_CROSS_MM = 3.0
_CAUTION = "Mind the blade: cut away from the hand, against a safety rule, on the mat."


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the drawing in the millimetres of the piece."""

    points: Ring
    width: float
    closed: bool = True
    dashed: bool = False


def cut_pages(piece: Piece, cutting: Cutting, paper: Paper, lengths: LengthStyle) -> list[Page]:
    """A page with the sketch, then those at full size, row by row from the upper left."""
    drawing = _drawing(piece, cutting)
    return [
        _sketch(piece, cutting, drawing, paper, lengths),
        *_tiles(piece, drawing, cutting, paper, lengths),
    ]


def _drawing(piece: Piece, cutting: Cutting) -> list[_Line]:
    outline = piece.outline
    lines = [_Line(ring, 0.35) for ring in (outline.exterior, *outline.holes)]
    lines += [_Line(flaw.ring, 0.2, dashed=True) for flaw in piece.flaws]
    lines += [_Line(left.exterior, 0.12, dashed=True) for left in cutting.offcuts]
    lines += [_Line(part.corners, 0.5) for part in cutting.parts]
    return lines


def _title(piece: Piece, cutting: Cutting, lengths: LengthStyle) -> str:
    sizes = "; ".join(
        f"{part.purpose}, {lengths.pair(part.width, part.height)}" for part in cutting.parts
    )
    return f"Cut from {piece.code}: {sizes}"


def _sketch(
    piece: Piece, cutting: Cutting, drawing: Sequence[_Line], paper: Paper, lengths: LengthStyle
) -> Page:
    """The whole piece as large as the page allows, with measures written beside."""
    left, low, right, high = piece.outline.bounds
    room = (paper.width - 2 * MARGIN_MM - 24, paper.height - 2 * MARGIN_MM - _HEAD_MM - 80)
    scale = min(room[0] / (right - left), room[1] / (high - low), 1.0)
    x, y = MARGIN_MM + 20, MARGIN_MM + _HEAD_MM + 4

    def place(ring: Ring) -> tuple[tuple[float, float], ...]:
        return tuple((x + (px - left) * scale, y + (high - py) * scale) for px, py in ring)

    marks: list[Mark] = [_headline(_title(piece, cutting, lengths), paper)]
    marks += [
        Stroke(points=place(line.points), width=line.width, closed=line.closed, dashed=line.dashed)
        for line in drawing
    ]
    for number, part in enumerate(cutting.parts, start=1):
        (cx, cy) = place((_middle(part.corners),))[0]
        marks.append(_label(f"{number}", cx, cy))
    end = y + (high - low) * scale
    marks += warp_arrow(MARGIN_MM + 4, y, 14)
    marks.append(_text("warp", MARGIN_MM, y + 15, 16))
    marks.append(
        _text(lengths.show(right - left), x, end + 1.5, (right - left) * scale, centre=True)
    )
    marks.append(_text(lengths.show(high - low), MARGIN_MM - 2, (y + end) / 2, 20))
    told = [
        f"{number}  {part.purpose}: {lengths.pair(part.width, part.height)}; lower left corner "
        f"{_from_edges(part.corners, piece, lengths)}"
        for number, part in enumerate(cutting.parts, start=1)
    ]
    told += [
        f"Back on the shelf: {lengths.pair(one.width, one.height)} over all"
        for one in cutting.offcuts
    ]
    scale_words = "at full size" if scale == 1.0 else f"at {scale:.0%} of its size"
    told += [f"Drawn {scale_words}; the next pages are at full size.", _CAUTION]
    marks += [
        _text(words, MARGIN_MM, end + 9 + 5 * n, paper.width - 2 * MARGIN_MM)
        for n, words in enumerate(told)
    ]
    return Page(width=paper.width, height=paper.height, marks=tuple(marks))


def _from_edges(corners: Ring, piece: Piece, lengths: LengthStyle) -> str:
    left, low, _, _ = piece.outline.bounds
    x, y = corners[0]
    return f"{lengths.show(x - left)} from the left, {lengths.show(y - low)} from the foot"


def _middle(corners: Ring) -> tuple[float, float]:
    centre = Polygon(corners).centroid
    return (centre.x, centre.y)


def _tiles(
    piece: Piece, drawing: Sequence[_Line], cutting: Cutting, paper: Paper, lengths: LengthStyle
) -> Iterator[Page]:
    """The piece at full size, an overlap between neighbours."""
    left, _, right, high = piece.outline.bounds
    low = piece.outline.bounds[1]
    wide = paper.width - 2 * MARGIN_MM
    tall = paper.height - 2 * MARGIN_MM - _HEAD_MM - _FOOT_MM
    columns = _count(right - left, wide)
    rows = _count(high - low, tall)
    for row in range(rows):
        for column in range(columns):
            corner = (left + column * (wide - OVERLAP_MM), high - row * (tall - OVERLAP_MM))
            name = f"{chr(65 + row % 26)}{column + 1}"
            words = f"{_title(piece, cutting, lengths)}   sheet {name} of {rows * columns}"
            yield _tile(drawing, corner, (wide, tall), paper, words)


def _count(length: float, room: float) -> int:
    """How many pages a length takes, each showing an overlap again."""
    return max(1, math.ceil((length - OVERLAP_MM - 1e-9) / (room - OVERLAP_MM)))


def _tile(
    drawing: Sequence[_Line],
    corner: tuple[float, float],
    size: tuple[float, float],
    paper: Paper,
    words: str,
) -> Page:
    x, y = MARGIN_MM, MARGIN_MM + _HEAD_MM
    to_page = (1, 0, 0, -1, x - corner[0], y + corner[1])
    window = box(x, y, x + size[0], y + size[1])
    marks: list[Mark] = [_headline(words, paper)]
    for line in drawing:
        ring = (*line.points, line.points[0]) if line.closed else line.points
        seen = affine_transform(LineString(ring), to_page).intersection(window)
        marks.extend(
            Stroke(points=points, width=line.width, dashed=line.dashed) for points in _lines(seen)
        )
    marks.extend(_crosses(x, y, size))
    marks += warp_arrow(paper.width - MARGIN_MM - 6, MARGIN_MM + 1, 12)
    marks += check_line(MARGIN_MM, paper.height - MARGIN_MM - 3, paper.width - 2 * MARGIN_MM)
    return Page(width=paper.width, height=paper.height, marks=tuple(marks))


def _lines(shape: BaseGeometry) -> Iterator[tuple[tuple[float, float], ...]]:
    if isinstance(shape, LineString):
        if not shape.is_empty:
            yield tuple((px, py) for px, py in shape.coords)
        return
    for inner in getattr(shape, "geoms", ()):
        yield from _lines(inner)


def _crosses(x: float, y: float, size: tuple[float, float]) -> Iterator[Mark]:
    """Crosses in the middle of the overlap: those of two neighbours lie on the same place."""
    half = OVERLAP_MM / 2
    for cx in (x + half, x + size[0] - half):
        for cy in (y + half, y + size[1] - half):
            yield Stroke(points=((cx - _CROSS_MM, cy), (cx + _CROSS_MM, cy)), width=0.15)
            yield Stroke(points=((cx, cy - _CROSS_MM), (cx, cy + _CROSS_MM)), width=0.15)


def _headline(words: str, paper: Paper) -> Mark:
    return Words(
        x=MARGIN_MM, y=MARGIN_MM, width=paper.width - 2 * MARGIN_MM - 10, height=_HEAD_MM - 3,
        text=words, size=3.8, least=2.2, bold=True, wrap=True,
    )  # fmt: skip


def _label(text: str, x: float, y: float) -> Mark:
    return Words(
        x=x - 5, y=y - 3, width=10, height=6, text=text, size=5, bold=True, align=Align.CENTRE
    )


def _text(text: str, x: float, y: float, width: float, *, centre: bool = False) -> Mark:
    return Words(
        x=x, y=y, width=max(width, 16), height=4.5, text=text, size=3.0,
        align=Align.CENTRE if centre else Align.LEFT,
    )  # fmt: skip
