"""What stands on one label, and where.

The code is the largest thing on it. At the right, or below on an upright label, the same code
stands as a QR symbol. A caution is never left off: where a label is small, the place, the kind and
the colour give way first.
"""

import math
from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.records import qr
from bindery_stock.records.page import Box, Lab, Mark, Words, warp_arrow

_PAD_MM = 1.5
_GAP_MM = 1.0
_LEAST_ROW_MM = 2.3
_MOST_ROW_MM = 4.2
_LARGEST_ROW_MM = 6.5
"""The same on a label so large that it is read from further off."""
_ROWS_OF_LARGE = 9
_MOST_CODE_MM = 22.0
_LEAST_TEXT_MM = 14.0
_MOST_LINES = 4
_TYPE = 0.74
"""Share of a row's height that its type takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelFacts:
    """What a label says; what is empty is left out."""

    code: str
    what: str
    """``fine rib cloth``, ``wheat starch paste``."""
    size: str = ""
    """``58 × 228 mm``; of an adhesive, how much there is."""
    usable: str = ""
    """Of a piece, what can be had from it: ``44 × 235 mm in one piece, or 44 mm square``."""
    warp: bool = False
    """Whether an arrow shows that the height lies along the warp."""
    lab: Lab | None = None
    lab_words: str = ""
    place: str = ""
    until: str = ""
    """Of an adhesive: ``good to 29 Nov 2026``."""
    caution: str = ""
    """With its sign: ``△ Stop: arsenical green, likely by colour and date``."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A line of the label: what it is, its height in rows, and how soon it gives way."""

    name: str
    rows: float
    yields: int
    """0 never gives way; the greatest gives way first."""


def lay_out_face(
    facts: LabelFacts, corner: tuple[float, float], size: tuple[float, float]
) -> tuple[Mark, ...]:
    """The marks of one label whose upper left corner and size are given in mm.

    Raises ``EntryError`` where the label is too small for a code that can be read.
    """
    left, top = corner[0] + _PAD_MM, corner[1] + _PAD_MM
    width, height = size[0] - 2 * _PAD_MM, size[1] - 2 * _PAD_MM
    least = qr.least_side(facts.code)
    upright = size[1] > size[0] * 1.15
    along, across = (height, width) if upright else (width, height)
    side = max(least, min(across, _MOST_CODE_MM, along * 0.4))
    # The quiet zone may lie over the padding, which is as white.
    if across + 2 * _PAD_MM < least or along - side - _GAP_MM < _LEAST_TEXT_MM:
        raise EntryError(
            "Label",
            f"A label of {size[0]:g} × {size[1]:g} mm is too small for {facts.code}, its words "
            f"and a code of {least:.1f} mm. Choose a larger label.",
        )
    if upright:
        square = (left + (width - side) / 2, top + height - side)
        room = (width, height - side - _GAP_MM)
    else:
        square = (left + width - side, top + (height - side) / 2)
        room = (width - side - _GAP_MM, height)
    return (qr.symbol(facts.code, *square, side), *_words(facts, (left, top), room))


def _words(
    facts: LabelFacts, corner: tuple[float, float], room: tuple[float, float]
) -> tuple[Mark, ...]:
    rows = _kept(facts, room)
    most = min(_LARGEST_ROW_MM, max(_MOST_ROW_MM, room[1] / _ROWS_OF_LARGE))
    count = sum(row.rows for row in rows)
    unit = min(most, room[1] / count)
    x, y = corner[0], corner[1] + (room[1] - unit * count) / 2
    marks: list[Mark] = []
    for row in rows:
        marks.extend(_row(row, facts, (x, y), (room[0], unit * row.rows), unit))
        y += unit * row.rows
    return tuple(marks)


def _kept(facts: LabelFacts, room: tuple[float, float]) -> list[_Row]:
    """The rows there is room for."""
    width, height = room
    rows = [_Row("code", 1.7, 0)]
    if facts.caution:
        rows.append(_Row("caution", _lines(facts.caution, width) * 0.95, 0))
    rows.append(_Row("what", 1.0, 2))
    if facts.size:
        rows.append(_Row("size", 1.1, 1))
    if facts.usable:
        rows.append(_Row("usable", 1.0, 2))
    if facts.until:
        rows.append(_Row("until", 1.0, 1))
    if facts.lab is not None:
        rows.append(_Row("colour", 1.5, 3))
    if facts.place:
        rows.append(_Row("place", 1.0, 4))
    while sum(row.rows for row in rows) * _LEAST_ROW_MM > height and any(r.yields for r in rows):
        rows.remove(max(rows, key=lambda row: row.yields))
    return rows


def _lines(text: str, width: float) -> int:
    """How many lines bold type takes at the size it has on a well-filled label."""
    letter = 0.62 * _TYPE * (_LEAST_ROW_MM + _MOST_ROW_MM) / 2
    return min(_MOST_LINES, math.ceil(len(text) * letter / width))


def _row(
    row: _Row,
    facts: LabelFacts,
    corner: tuple[float, float],
    size: tuple[float, float],
    unit: float,
) -> tuple[Mark, ...]:
    (x, y), (width, height) = corner, size
    plain = unit * _TYPE
    if row.name == "code":
        text = Words(
            x=x, y=y, width=width, height=height, text=facts.code, size=height * _TYPE, bold=True
        )
        return (text,)
    if row.name == "size":
        return _size_row(facts, corner, size, plain)
    if row.name == "colour":
        return _colour_row(facts, corner, size, plain)
    if row.name == "caution":
        caution = Words(
            x=x, y=y, width=width, height=height, text=facts.caution, size=plain, least=1.4,
            bold=True, wrap=True,
        )  # fmt: skip
        return (caution,)
    told = {"what": facts.what, "usable": facts.usable, "until": facts.until, "place": facts.place}[
        row.name
    ]
    return (Words(x=x, y=y, width=width, height=height, text=told, size=plain),)


def _size_row(
    facts: LabelFacts, corner: tuple[float, float], size: tuple[float, float], plain: float
) -> tuple[Mark, ...]:
    (x, y), (width, height) = corner, size
    arrow = height * 0.86 if facts.warp else 0.0
    indent = arrow * 0.56 + 0.9 if facts.warp else 0.0
    words = Words(
        x=x + indent, y=y, width=width - indent, height=height, text=facts.size, size=plain
    )
    return (*(warp_arrow(x, y + height * 0.07, arrow) if facts.warp else ()), words)


def _colour_row(
    facts: LabelFacts, corner: tuple[float, float], size: tuple[float, float], plain: float
) -> tuple[Mark, ...]:
    (x, y), (width, height) = corner, size
    swatch = min(height * 1.6, width * 0.28)
    return (
        Box(x=x, y=y + height * 0.06, width=swatch, height=height * 0.88, fill=facts.lab),
        Words(
            x=x + swatch + 0.8,
            y=y,
            width=width - swatch - 0.8,
            height=height,
            text=facts.lab_words,
            size=plain * 0.9,
            least=1.2,  # figures must never be cut off
            wrap=True,
        ),
    )
