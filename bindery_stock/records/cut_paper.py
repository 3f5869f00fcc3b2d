"""The plan of a cut on paper: first a sketch with its measures, then the parts at full size.

At full size the parts, with the piece's edge about them, are tiled over as many pages as it takes.
Each page shows a strip of its neighbours, has crosses that lie on the same place of both, and a
line of exactly 50 mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from bindery_stock.records.page import (
    Align,
    Mark,
    Page,
    Paper,
    Spot,
    Stroke,
    Words,
    check_line,
    warp_arrow,
)
from bindery_stock.shape import Ring
from bindery_stock.stock import Cutting, StockPiece
from bindery_stock.units import LengthStyle

MARGIN_MM = 12.0
OVERLAP_MM = 10.0
"""So much of a page is seen again on the next."""
_FOOT_MM = 12.0
_HEAD_MM = 16.0
_CROSS_MM = 3.0
ABOUT_MM = 8.0
"""So much of the piece is drawn about the parts: a strip of octavo height keeps to one page."""
_LINE_MM = 5.0  # from one line below the sketch to the next
_LEAST_SKETCH_MM = 60.0  # tall, however much is written below
_LETTER_MM = 1.8  # wide, at the size of the measures
_SMALLEST_NAMED_MM = 4.0  # what is seen of a part or flaw must be this wide to be named there
_CAUTION = "Mind the blade: cut away from the hand, against a safety rule, on the mat."


@dataclass(frozen=True, slots=True)
class CutTold:
    """What the paper tells of a cut beside the parts and what goes back on the shelf."""

    way: str = ""
    """How far each cut is taken: ``In from the edge``."""
    cuts: tuple[str, ...] = ()
    """The cuts in their order, where they run from edge to edge."""
    trims: tuple[Ring, ...] = ()
    """Lines along which what is left would be trimmed square."""
    waste: str = ""
    """What is neither part nor goes back, in a sentence; empty where there is none."""


_NOTHING_MORE = CutTold()


@dataclass(frozen=True, slots=True)
class _DrawnLine:
    """A closed line of the drawing in the millimetres of the piece, and what it encloses."""

    points: Ring
    width: float
    dashed: bool = False
    name: str = ""
    size: str = ""
    """The measures of a part, as they are read."""


def cut_pages(
    piece: StockPiece,
    cutting: Cutting,
    paper: Paper,
    lengths: LengthStyle,
    told: CutTold = _NOTHING_MORE,
) -> list[Page]:
    """A page with the sketch, then those at full size, row by row from the upper left."""
    drawing = _drawing(piece, cutting, lengths)
    trims = [_DrawnLine(trim, 0.12, name="trim") for trim in told.trims]
    lines = _lines_told(piece, cutting, told, lengths)
    return [
        _sketch(piece, cutting, [*drawing, *trims], lines, paper, lengths),
        *_tiles(piece, [*drawing, *trims], cutting, paper, lengths),
    ]


def _drawing(piece: StockPiece, cutting: Cutting, lengths: LengthStyle) -> list[_DrawnLine]:
    outline = piece.outline
    lines = [_DrawnLine(ring, 0.35) for ring in (outline.exterior, *outline.holes)]
    lines += [_DrawnLine(flaw.ring, 0.2, dashed=True, name=str(flaw.kind)) for flaw in piece.flaws]
    lines += [_DrawnLine(left.exterior, 0.12, dashed=True) for left in cutting.offcuts]
    return lines + [
        _DrawnLine(part.corners, 0.5, name=f"{number}", size=lengths.pair(part.width, part.height))
        for number, part in enumerate(cutting.parts, start=1)
    ]


def _title(piece: StockPiece, cutting: Cutting, lengths: LengthStyle) -> str:
    sizes = "; ".join(
        f"{part.purpose}, {lengths.pair(part.width, part.height)}" for part in cutting.parts
    )
    return f"Cut from {piece.code}: {sizes}"


def _sketch(
    piece: StockPiece,
    cutting: Cutting,
    drawing: Sequence[_DrawnLine],
    told: Sequence[str],
    paper: Paper,
    lengths: LengthStyle,
) -> Page:
    """The whole piece as large as the page allows, with measures written beside."""
    left, low, right, high = piece.outline.bounds
    below = max(80.0, 15.0 + _LINE_MM * (len(told) + 2))
    tall = paper.height - 2 * MARGIN_MM - _HEAD_MM - below
    room = (paper.width - 2 * MARGIN_MM - 24, max(tall, _LEAST_SKETCH_MM))
    scale = min(room[0] / (right - left), room[1] / (high - low), 1.0)
    x, y = MARGIN_MM + 20, MARGIN_MM + _HEAD_MM + 4

    def place(ring: Ring) -> tuple[tuple[float, float], ...]:
        return tuple((x + (px - left) * scale, y + (high - py) * scale) for px, py in ring)

    marks: list[Mark] = [_headline(_title(piece, cutting, lengths), paper)]
    marks += [
        Stroke(points=place(line.points), width=line.width, closed=True, dashed=line.dashed)
        for line in drawing
    ]
    for line in drawing:
        marks += _names(line, Polygon(place(line.points)))
    end, far = y + (high - low) * scale, x + (right - left) * scale
    marks += warp_arrow(MARGIN_MM, y, 14)
    marks.append(_text("warp", MARGIN_MM, y + 15, 16))
    marks += _measure((x, end + 3), (far, end + 3))
    marks.append(_text(lengths.show(right - left), x, end + 3.5, far - x, align=Align.CENTRE))
    marks += _measure((x - 3, y), (x - 3, end))
    marks.append(_text(lengths.show(high - low), x - 21, (y + end) / 2 - 2, 17, align=Align.RIGHT))
    scale_words = "at full size" if scale == 1.0 else f"at {scale:.0%} of its size"
    drawn = f"Drawn {scale_words}; the next pages are at full size."
    marks += [
        _text(words, MARGIN_MM, end + 11 + _LINE_MM * n, paper.width - 2 * MARGIN_MM)
        for n, words in enumerate((*told, drawn, _CAUTION))
    ]
    return Page(width=paper.width, height=paper.height, marks=tuple(marks))


def _lines_told(
    piece: StockPiece, cutting: Cutting, told: CutTold, lengths: LengthStyle
) -> list[str]:
    """What is written below the sketch, a line each."""
    lines = [
        f"{number}  {part.purpose}: {lengths.pair(part.width, part.height)}; lower left corner "
        f"{_from_edges(part.corners, piece, lengths)}"
        for number, part in enumerate(cutting.parts, start=1)
    ]
    lines += [
        f"Back on the shelf: {lengths.pair(one.width, one.height)} over all"
        for one in cutting.offcuts
    ]
    lines += [f"The knife: {told.way[:1].lower()}{told.way[1:]}."] if told.way else []
    lines += told.cuts
    if told.trims:
        lines.append("The thin lines marked “trim”: what is left, trimmed square.")
    return [*lines, told.waste] if told.waste else lines


def _from_edges(corners: Ring, piece: StockPiece, lengths: LengthStyle) -> str:
    left, low, _, _ = piece.outline.bounds
    x, y = corners[0]
    return f"{lengths.show(x - left)} from the left, {lengths.show(y - low)} from the foot"


def _names(line: _DrawnLine, seen: BaseGeometry) -> Iterator[Mark]:
    """What a line encloses, written where there is room for it in what is ``seen``, on the page."""
    if not line.name or seen.buffer(-_SMALLEST_NAMED_MM / 2).is_empty:
        return
    middle = seen.centroid if seen.contains(seen.centroid) else seen.representative_point()
    if not line.size:
        yield _text(line.name, middle.x - 15, middle.y - 2, 30, align=Align.CENTRE)
        return
    yield _label(line.name, middle.x, middle.y)
    half = len(line.size) * _LETTER_MM / 2
    if seen.contains(box(middle.x - half, middle.y + 3, middle.x + half, middle.y + 7)):
        yield _text(line.size, middle.x - half, middle.y + 3, 2 * half, align=Align.CENTRE)


def _measure(start: Spot, end: Spot) -> Iterator[Mark]:
    """A line of measure between two spots, level or upright, with a stroke across each end."""
    level = start[1] == end[1]
    across = (0.0, 1.0) if level else (1.0, 0.0)
    yield Stroke(points=(start, end), width=0.15)
    for x, y in (start, end):
        ends = ((x - across[0], y - across[1]), (x + across[0], y + across[1]))
        yield Stroke(points=ends, width=0.15)


def _tiles(
    piece: StockPiece,
    drawing: Sequence[_DrawnLine],
    cutting: Cutting,
    paper: Paper,
    lengths: LengthStyle,
) -> Iterator[Page]:
    """The parts at full size, an overlap between neighbours; pages without a part are left out."""
    parts = shapely.union_all([Polygon(part.corners) for part in cutting.parts])
    about = box(*parts.bounds).buffer(ABOUT_MM, join_style="mitre")
    left, low, right, high = about.intersection(piece.outline.polygon.envelope).bounds
    wide = paper.width - 2 * MARGIN_MM
    tall = paper.height - 2 * MARGIN_MM - _HEAD_MM - _FOOT_MM
    columns = _count(right - left, wide)
    rows = _count(high - low, tall)
    corners = {
        f"{chr(65 + row % 26)}{column + 1}": (
            left + column * (wide - OVERLAP_MM),
            high - row * (tall - OVERLAP_MM),
        )
        for row in range(rows)
        for column in range(columns)
    }
    needed = {
        name: (x, y)
        for name, (x, y) in corners.items()
        if parts.intersects(box(x, y - tall, x + wide, y))
    }
    for name, corner in needed.items():
        words = f"{_title(piece, cutting, lengths)}   sheet {name} ({len(needed)} in all)"
        yield _tile(drawing, corner, (wide, tall), paper, words)


def _count(length: float, room: float) -> int:
    """How many pages a length takes, each showing an overlap again."""
    return max(1, math.ceil((length - OVERLAP_MM - 1e-9) / (room - OVERLAP_MM)))


def _tile(
    drawing: Sequence[_DrawnLine],
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
        whole = affine_transform(Polygon(line.points), to_page)
        marks.extend(
            Stroke(points=points, width=line.width, dashed=line.dashed)
            for points in _lines(whole.exterior.intersection(window))
        )
        marks.extend(_names(line, whole.intersection(window)))
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


def _text(text: str, x: float, y: float, width: float, *, align: Align = Align.LEFT) -> Mark:
    return Words(x=x, y=y, width=max(width, 16), height=4.5, text=text, size=3.0, align=align)
