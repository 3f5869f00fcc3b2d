"""What stands on a printed page, in millimetres from its upper left corner, y downward.

Pure values: whatever paints them (a PDF, a printer, the preview) adds nothing and leaves nothing
out, so that what was laid out is what lies on the paper.
"""

from dataclasses import dataclass
from enum import StrEnum

Lab = tuple[float, float, float]
Spot = tuple[float, float]

CHECK_MM = 50.0
"""Length of the line by which a reader sees that nothing was scaled in printing."""
_CHECK_STROKE = 0.2


class Align(StrEnum):
    """How words stand in their box."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Text in a box: made smaller where it is too long, down to ``least``, then shortened."""

    x: float
    y: float
    width: float
    height: float
    text: str
    size: float
    """Height of the type (its em) in mm."""
    least: float = 1.8
    bold: bool = False
    align: Align = Align.LEFT
    wrap: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle: filled with a colour (CIELAB, D50/2°), edged with a line of this width, or both.

    A line of width 0 is not drawn.
    """

    x: float
    y: float
    width: float
    height: float
    fill: Lab | None = None
    line: float = 0.1
    corner: float = 0.0
    """Radius of the corners."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through these points; ``closed`` joins the last to the first."""

    points: tuple[Spot, ...]
    width: float = 0.2
    closed: bool = False
    dashed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Squares:
    """Black squares of one size, as a code made of modules has them: the upper left corners."""

    corners: tuple[Spot, ...]
    side: float


Mark = Words | Box | Stroke | Squares


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page and what stands on it, in the order of painting."""

    width: float
    height: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper."""

    name: str
    width: float
    height: float


A4 = Paper("A4", 210.0, 297.0)
"""ISO 216."""
LETTER = Paper("Letter", 215.9, 279.4)
"""ANSI/ASME Y14.1, size A: 8 1/2 × 11 in."""
PAPERS = (A4, LETTER)


def check_line(x: float, y: float, room: float) -> tuple[Mark, ...]:
    """A line of exactly 50 mm over its end marks, and what to do where it measures otherwise."""
    right, half = x + CHECK_MM, _CHECK_STROKE / 2
    return (
        Stroke(points=((x, y), (right, y)), width=_CHECK_STROKE),
        *(
            Stroke(points=((end, y - 1.0), (end, y + 1.0)), width=_CHECK_STROKE)
            for end in (x + half, right - half)
        ),
        Words(
            x=right + 2.0,
            y=y - 1.6,
            width=room - CHECK_MM - 2.0,
            height=3.2,
            text="50 mm. If it is not, print again at 100 %, without “fit to page”.",
            size=2.4,
        ),
    )


def warp_arrow(x: float, y: float, height: float) -> tuple[Mark, ...]:
    """An arrow upward in a box whose upper left corner is x, y: the warp lies along it."""
    barb = height * 0.28
    middle = x + barb
    return (
        Stroke(points=((middle, y + height), (middle, y)), width=0.25),
        Stroke(points=((x, y + barb), (middle, y), (x + 2 * barb, y + barb)), width=0.25),
    )
