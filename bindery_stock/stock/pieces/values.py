"""The plain values of the pieces that go into the stockroom and come out of it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from bindery_stock.colour import ReadBy
from bindery_stock.shape import Flaw, Outline, Ring
from bindery_stock.stock.photos.values import Photo
from bindery_stock.trade import LabResult, Property
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind

Lab = tuple[float, float, float]


Matrix = tuple[float, float, float, float, float, float, float, float, float]
"""A 3 × 3 homography, row by row, from upright photo pixels to millimetres of the piece."""


class FaceName(StrEnum):
    """Which face of a cloth a colour was read from."""

    SHOWN = "shown"
    SHELTERED = "sheltered"
    REVERSE = "reverse"


class PieceState(StrEnum):
    """Where a piece stands in its life."""

    ON_SHELF = "on the shelf"
    CUT_UP = "cut up"
    DISCARDED = "discarded"


@dataclass(frozen=True, slots=True)
class PhotoMark:
    """How a photograph shows a piece: what was marked on it at the photo table."""

    photo: Photo
    to_mm: Matrix
    """Upright pixels to millimetres of the piece, y up the warp."""
    scale_note: str = ""
    """How the scale was set and how far to trust it."""


@dataclass(frozen=True, slots=True)
class Colour:
    """One colour reading of one face."""

    lab: Lab
    face: FaceName = FaceName.SHOWN
    spread: float = 0.0
    """Root mean square ΔE00 of the accepted pixels about the mean."""
    u: float | None = None
    """95 % uncertainty as ΔE00, where it is known."""
    method: str = "typed"
    """How it was obtained, in words."""
    photo: str | None = None
    """SHA-256 of the photograph it was read from."""
    patch: Ring = ()
    """The patch in upright photo pixels."""
    read_by: ReadBy = ReadBy.STATED
    """What vouches for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPiece:
    """Everything known of a piece when it is shelved."""

    kind: Kind
    outline: Outline
    form: Form = Form.SCRAP
    pattern: str = ""
    backing: Backing = Backing.UNKNOWN
    fibre: Fibre = Fibre.UNKNOWN
    flaws: tuple[Flaw, ...] = ()
    colours: tuple[Colour, ...] = ()
    marks: tuple[PhotoMark, ...] = ()
    source: str = ""
    """Where it came from, in the binder's words."""
    source_date: str = ""
    """The date of the source as written: ``1868``, ``c. 1850``, or empty."""
    place: str = ""
    note: str = ""
    price: Decimal | None = None
    parent: str | None = None
    """Code of the piece it was cut from."""
    colour_family: str = ""
    """The family of its colour judged by eye where it is least faded; empty where not judged."""
    properties: tuple[Property, ...] = ()
    """What was tested, stated or seen, oldest first."""
    lab_results: tuple[LabResult, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPiece(NewPiece):
    """A piece as it lies in the stockroom."""

    id: int
    code: str
    state: PieceState
    shelved_at: datetime
    reserved_for: str = ""
    """What it is reserved for, or empty."""
    fate: str = ""
    """What it was cut for, or why it was discarded; empty while it lies on the shelf."""

    @property
    def colour(self) -> Colour | None:
        """The reading of the shown face, else the first reading, else nothing."""
        for colour in self.colours:
            if colour.face is FaceName.SHOWN:
                return colour
        return self.colours[0] if self.colours else None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """One part as it is cut."""

    purpose: str
    """What it is cut for: ``spine strip, vol. 4``."""
    width: float
    height: float
    corners: Ring
    """The part as it lay in the piece, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """What is cut from a piece in one sitting, and what is left of the piece."""

    code: str
    """The piece that is cut."""
    purpose: str
    """What it was cut for: ``spine strip, vol. 4``."""
    width: float
    height: float
    corners: Ring
    """The part as it lay in the piece, mm."""
    offcuts: tuple[Outline, ...]
    """What goes back on the shelf."""
    discarded: tuple[Outline, ...] = ()
    """Slivers thrown away with the user's word."""
    also: tuple[CutPart, ...] = ()
    """Further parts cut from the piece in the same sitting."""

    @property
    def parts(self) -> tuple[CutPart, ...]:
        """Every part, in order."""
        first = CutPart(
            purpose=self.purpose, width=self.width, height=self.height, corners=self.corners
        )
        return (first, *self.also)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reservation:
    """A part of a piece spoken for."""

    id: int
    code: str
    """The piece it lies in."""
    purpose: str
    """What it is kept for: ``spine strip, vol. 4``."""
    width: float
    height: float
    corners: Ring = ()
    """The part as it is to lie in the piece, mm; empty where only the piece is chosen."""
    at: datetime


@dataclass(frozen=True, slots=True)
class Family:
    """What a piece was cut from, and what was cut from it."""

    ancestors: tuple[StockPiece, ...] = ()
    """The piece it was cut from, then the one that was cut from, and so on to the first."""
    children: tuple[StockPiece, ...] = ()


@dataclass(frozen=True, slots=True)
class WordsInUse:
    """The words of a stockroom that are offered where they are typed again, sorted."""

    places: tuple[str, ...] = ()
    patterns: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
