"""What is marked on a photograph at the photo table, in pixels of the upright photograph."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from bindery_stock.bench.colour_room.sitting import KeptTarget
from bindery_stock.colour import SINCE_2014, Reference
from bindery_stock.shape import FlawKind, Point, Ring
from bindery_stock.stock import FaceName, Lab
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind

Line = tuple[Point, Point]


class StepName(StrEnum):
    """The steps of shelving, in the order of the hand."""

    SCALE = "Scale"
    OUTLINE = "Outline"
    WEAVE = "Weave"
    COLOUR = "Colour"
    FLAWS = "Flaws"
    FACTS = "Facts"
    SHELVE = "Shelve"


@dataclass(frozen=True, slots=True)
class KnownLength:
    """A line along a ruler, and the length it shows."""

    line: Line
    mm: float | None = None
    """None until the length has been typed."""


@dataclass(frozen=True, slots=True)
class KnownRectangle:
    """The four corners of a sheet or of a mat's square, one after another round its edge."""

    corners: Ring
    width: float | None = None
    """From the first corner to the second, mm; None until it has been typed."""
    height: float | None = None


@dataclass(frozen=True, slots=True)
class PatchMark:
    """Where the colour of a face is read."""

    ring: Ring
    face: FaceName = FaceName.SHOWN
    meant: Lab | None = None
    """Where it holds two colours: the one to read, as the photograph has it."""


@dataclass(frozen=True, slots=True)
class TypedColour:
    """What an instrument said of a face, brought to CIELAB D50, 2°."""

    lab: Lab
    u: float
    """95 % band, ΔE00."""
    method: str
    face: FaceName = FaceName.SHOWN


@dataclass(frozen=True, slots=True)
class Grey:
    """A neutral reference in the photograph."""

    ring: Ring
    lightness: float | None
    """Its L*; None for white paper, which is only roughly known."""
    second: Ring = ()
    """The same again elsewhere in the photograph, which levels the light between the two."""


@dataclass(frozen=True, slots=True)
class Patches:
    """A target of 24 patches in the photograph."""

    corners: Ring
    """The centres of its four corner patches."""
    reference: Reference = SINCE_2014
    """What its patches are: an edition of the published values, or the binder's own."""


@dataclass(frozen=True, slots=True)
class FlawMark:
    """A flawed place."""

    ring: Ring
    kind: FlawKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """All that is marked on one photograph for one piece; it may still be unfinished."""

    scale: KnownLength | KnownRectangle | None = None
    outline: Ring = ()
    warp: Line | None = None
    """From tail to head; None takes the photograph's own up."""
    patches: tuple[PatchMark, ...] = ()
    reference: Grey | Patches | None = None
    """What known colour lies in the photograph."""
    sheet: Ring = ()
    """A plain sheet in the photograph that levels its light."""
    lent: KeptTarget | None = None
    """The target of the sitting whose correction is used; ``reference`` proves it may be."""
    typed: tuple[TypedColour, ...] = ()
    """Readings of an instrument, at most one a face; they stand in the place of patches."""
    flaws: tuple[FlawMark, ...] = ()
    without_colour: bool = False
    """True where the binder chose to shelve the piece without a reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known of a piece besides its photograph."""

    kind: Kind = Kind.CLOTH
    form: Form = Form.SCRAP
    pattern: str = ""
    backing: Backing = Backing.UNKNOWN
    fibre: Fibre = Fibre.UNKNOWN
    source: str = ""
    source_date: str = ""
    place: str = ""
    price: Decimal | None = None
    note: str = ""
    colour_family: str = ""
    """The colour it is where it is least faded, judged by eye; empty where nobody has judged."""

    def for_the_next(self) -> "Facts":
        """What is likely to hold for the next scrap: all but price, note and colour family."""
        return Facts(
            kind=self.kind,
            form=self.form,
            pattern=self.pattern,
            backing=self.backing,
            fibre=self.fibre,
            source=self.source,
            source_date=self.source_date,
            place=self.place,
        )


def crosses_itself(ring: Ring) -> bool:
    """Whether two sides of a closed ring cross or touch."""
    return len(ring) >= 3 and not shapely.is_simple(shapely.linearrings(ring))


def suggested_patches(
    marks: Marks, odd: Sequence[tuple[float, float, float, float]] = ()
) -> tuple[Ring, ...]:
    """Up to three square patches in the roomiest parts of the outline, apart from each other.

    One patch cannot see uneven dye or light. They keep away from the edge, so that fray and its
    shadow stay out, from the flaws marked so far and from places that look ``odd`` (boxes in
    pixels of the upright photograph, see ``colour.odd_places``), where that leaves room. None
    where there is no outline yet, it crosses itself or has no room.
    """
    if len(marks.outline) < 3 or crosses_itself(marks.outline):
        return ()
    free: BaseGeometry = shapely.Polygon(marks.outline)
    for flaw in marks.flaws:
        if not crosses_itself(flaw.ring):
            free = free.difference(shapely.Polygon(flaw.ring))
    even = free.difference(shapely.union_all([shapely.box(*place) for place in odd]))
    return patches_within(even) or patches_within(free)


def patches_within(free: BaseGeometry, most: int = 3) -> tuple[Ring, ...]:
    """Up to ``most`` square patches in the roomiest parts of cloth that is free to be read.

    The first in the roomiest place, each further one as far as may be from those before. All in
    pixels of the upright photograph. None where there is no room.
    """
    return tuple(
        ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
        for x, y, half in _spread_out(free, most)
    )


def _spread_out(free: BaseGeometry, most: int) -> list[tuple[float, float, float]]:
    """Middles and half sides of squares: the roomiest first, then those farthest from the rest."""
    if free.is_empty:
        return []
    left, top, right, bottom = free.bounds
    grid = np.stack(
        np.meshgrid(np.linspace(left, right, _GRID), np.linspace(top, bottom, _GRID)), axis=-1
    ).reshape(-1, 2)
    points = shapely.points(grid)
    room = np.where(shapely.contains(free, points), shapely.distance(points, free.boundary), 0.0)
    half = min(float(room.max()) * _HALF_SIDE, _MOST_HALF_SIDE)
    if half < _LEAST_HALF_SIDE:
        return []
    roomy = room >= 2 * half
    chosen = [int(room.argmax())]
    while len(chosen) < most:
        apart = np.min([np.hypot(*(grid - grid[i]).T) for i in chosen], axis=0)
        farthest = int(np.where(roomy, apart, 0.0).argmax())
        if apart[farthest] < 3 * half:
            break
        chosen.append(farthest)
    return [(float(grid[i, 0]), float(grid[i, 1]), half) for i in chosen]


_GRID = 40
"""Places looked at across and down."""
_HALF_SIDE = 0.15
"""Of the room there is at the roomiest place: the patches keep off edges and their shadow."""
_LEAST_HALF_SIDE, _MOST_HALF_SIDE = 4.0, 80.0
"""Pixels: a smaller square has fewer than the 50 pixels a colour needs, a larger says no more."""
