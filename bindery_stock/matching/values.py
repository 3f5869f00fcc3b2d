"""What is matched: the part to cut and the pieces to cut it from, as plain frozen values.

Lengths are mm with y up the warp: a part's width lies across the warp, its height along it. Turns
are counter-clockwise degrees. Colours are CIELAB (D50, 2° observer); ``u`` is a 95 % uncertainty
in ΔE00.
"""

import math
from dataclasses import dataclass, field

from bindery_stock.colour import ColourMap, ReadBy, check_lab
from bindery_stock.errors import ColourError, ShapeError
from bindery_stock.shape import Flaw, Outline, Placement, Sight, Zone, sheet, triangle
from bindery_stock.trade.vocabulary import DIRECTIONAL_PATTERNS, Kind

Lab = tuple[float, float, float]

SHOWN_WEIGHT = 1.0
HIDDEN_WEIGHT = 1 / 30
"""How much a hidden lining counts beside a shown part, its shade and its going without alike: our
own choice, enough to settle between equals and never enough to take cloth from a shown part."""

ANOTHER_COLOUR = 20.0
"""ΔE00 beyond which cloth is another colour and serves no part that is seen, unless the binder
allows more: our own proposal. The formula was fitted to small differences, so this is a fence
against what is plainly not the shade, not a measure of how it looks."""


_HIDDEN_THROUGHOUT = (Zone(Sight.HIDDEN, 0.0, 0.0, 1e6, 1e6),)
"""Larger than any part, so that hidden parts of every size share one answer."""


@dataclass(frozen=True)
class Part:
    """One part to cut.

    Raises ``ShapeError`` for sizes, margins or turns that make no sense and ``ColourError`` for a
    colour, tolerance or uncertainty out of range.
    """

    width: float
    height: float
    lab: Lab | None
    """The colour sought, or nothing where colour does not matter."""
    turns: tuple[float, ...] = field(default=(0, 180), kw_only=True)
    margin: float = field(default=0.0, kw_only=True)
    """Least distance to every edge and flaw."""
    tolerance: float | None = field(default=None, kw_only=True)
    """The greatest ΔE00 that will do, or nothing where the closest will do: see ``farthest``."""
    shown: bool = field(default=True, kw_only=True)
    """A hidden part takes the poorest adequate cloth."""
    name: str = field(default="", kw_only=True)
    """What it is for: ``spine strip, vol. 4``."""
    zones: tuple[Zone, ...] = field(default=(), kw_only=True)
    """Which places of it are shown and which hidden; what no zone covers is shown."""
    kind: Kind | None = field(default=None, kw_only=True)
    """The material it must be cut from, or nothing where any will do."""
    pattern: str = field(default="", kw_only=True)
    """The grain pattern it must have, or empty where any will do."""
    u: float = field(default=0.0, kw_only=True)
    """How far the colour sought may be trusted."""
    read_by: ReadBy = field(default=ReadBy.STATED, kw_only=True)
    """How the colour sought became known."""
    free: float = field(default=0.0, kw_only=True)
    """It may be turned so many degrees either way from each of its turns; 180 is any way."""
    triangular: bool = field(default=False, kw_only=True)
    """True for a right-angled triangle whose legs are the width and the height."""
    plain: bool = field(default=False, kw_only=True)
    """True where it is cut from plain cotton: it never takes book cloth."""
    weight: float | None = field(default=None, kw_only=True)
    """How much it counts in sharing out, its shade and its going without: 0 gets nothing, and
    ``None`` means by whether it is shown."""
    volume: str = field(default="", kw_only=True)
    """The volume it is for, or empty where that does not matter: ``Hollin Vale vol. 4``."""
    spine: bool = field(default=False, kw_only=True)
    """True where it is what the shelf shows of its volume."""
    refused: frozenset[str] = field(default=frozenset(), kw_only=True)
    """Codes of pieces it must not be cut from, whatever their shape and colour."""

    def __post_init__(self) -> None:
        """Refuse what cannot be cut."""
        for name, value in (("width", self.width), ("height", self.height)):
            if not (math.isfinite(value) and value > 0):
                raise ShapeError(f"{self._who()}: the {name} is {value:g} mm; give more than zero.")
        if not (math.isfinite(self.margin) and self.margin >= 0):
            raise ShapeError(f"{self._who()}: the margin is {self.margin:g} mm; give zero or more.")
        object.__setattr__(self, "turns", tuple(float(turn) for turn in self.turns))
        if not self.turns or not all(math.isfinite(turn) for turn in self.turns):
            raise ShapeError(f"{self._who()}: give at least one turn in degrees, such as 0.")
        if not 0.0 <= self.free <= 180.0:
            raise ShapeError(f"{self._who()}: it may be turned by 0 to 180 degrees either way.")
        if self.lab is not None:
            object.__setattr__(self, "lab", check_lab(self.lab))
        for name, figure in (
            ("tolerance", self.tolerance),
            ("uncertainty", self.u),
            ("weight", self.weight),
        ):
            if figure is not None and not (math.isfinite(figure) and figure >= 0):
                raise ColourError(f"{self._who()}: the {name} is {figure:g}; give zero or more.")

    def _who(self) -> str:
        return self.name or "The part"

    @property
    def area(self) -> float:
        """Square millimetres."""
        return self.width * self.height * (0.5 if self.triangular else 1.0)

    @property
    def perimeter(self) -> float:
        """Length of its edge in mm."""
        third = math.hypot(self.width, self.height) if self.triangular else 0.0
        return self.width + self.height + (third or self.width + self.height)

    @property
    def narrowest(self) -> float:
        """The least room in mm that it takes across, whichever way it is turned."""
        if self.triangular:
            return self.width * self.height / math.hypot(self.width, self.height)
        return min(self.width, self.height)

    @property
    def outline(self) -> Outline:
        """Its shape at turn 0, its own corner at 0, 0."""
        make = triangle if self.triangular else sheet
        return make(self.width, self.height)

    @property
    def visibility(self) -> float:
        """How much it counts in sharing out."""
        if self.weight is not None:
            return self.weight
        return SHOWN_WEIGHT if self.shown else HIDDEN_WEIGHT

    @property
    def farthest(self) -> float:
        """The greatest ΔE00 at which a piece serves: what is allowed, or else what is no other
        colour where it is seen; a hidden part takes any shade.
        """
        if self.tolerance is not None:
            return self.tolerance
        return ANOTHER_COLOUR if self.shown else math.inf

    @property
    def sight(self) -> tuple[Zone, ...]:
        """Its zones for an exact fit: a hidden part without zones is hidden throughout."""
        return self.zones if self.zones or self.shown else _HIDDEN_THROUGHOUT

    def turns_in(self, pattern: str) -> tuple[float, ...]:
        """The turns it may take in cloth of this grain pattern, in their order.

        A pattern of lines looks wrong turned a quarter, even where the weave would allow it, so a
        shown part keeps only whole and half turns there. A triangle of even legs that lies a
        quarter turned from the first is one for the opposite corner, its legs still along the
        threads: it keeps the half turns of its own hand. May be empty.
        """
        if not self.shown or pattern not in DIRECTIONAL_PATTERNS:
            return self.turns
        even = self.triangular and self.width == self.height
        hand = self.turns[0] % 180 if even and self.turns[0] % 90 == 0 else 0.0
        return tuple(turn for turn in self.turns if turn % 180 == hand)


@dataclass(frozen=True, slots=True)
class Face:
    """A further face of a piece, with its colour: under a turn-in, or the reverse."""

    name: str
    lab: Lab
    u: float | None = None
    read_by: ReadBy = ReadBy.STATED

    def __post_init__(self) -> None:
        """Refuse a colour out of range."""
        object.__setattr__(self, "lab", check_lab(self.lab))


SHOWN_FACE = "shown"


@dataclass(frozen=True)
class Piece:
    """One piece of stock, as matching sees it. Raises ``ColourError`` for a Lab out of range."""

    code: str
    outline: Outline
    lab: Lab | None
    """The colour of the shown face, or nothing where it has not been measured."""
    flaws: tuple[Flaw, ...] = field(default=(), kw_only=True)
    u: float | None = field(default=None, kw_only=True)
    """How far its colour may be trusted, or nothing where that is not known."""
    read_by: ReadBy = field(default=ReadBy.STATED, kw_only=True)
    """How the colour of its shown face became known."""
    family: str = field(default="", kw_only=True)
    """Its colour family; told from the colour of its shown face where it is not given."""
    kind: Kind | None = field(default=None, kw_only=True)
    pattern: str = field(default="", kw_only=True)
    plain: bool = field(default=False, kw_only=True)
    """Whether it is plain cotton, and no book cloth."""
    faces: tuple[Face, ...] = field(default=(), kw_only=True)
    """Its further faces; the best of all faces is matched, and named."""
    usable: Placement | None = field(default=None, kw_only=True)
    """Its largest free rectangle along the warp, where that is known."""
    colour_map: ColourMap | None = field(default=None, kw_only=True, compare=False)
    """The colour of its shown face place by place, where that is known."""

    def __post_init__(self) -> None:
        """Refuse a colour out of range."""
        if self.lab is not None:
            object.__setattr__(self, "lab", check_lab(self.lab))
