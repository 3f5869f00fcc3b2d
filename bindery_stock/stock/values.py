"""The plain values that go into the stockroom and come out of it.

All lengths are millimetres with y up the warp; photo points are pixels of the upright photograph,
x right and y down; colours are CIELAB (D50, 2° observer). Everything here is frozen: what the
stockroom hands out cannot change the stockroom.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from bindery_stock.shape import Flaw, Outline, Ring
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


class Verb(StrEnum):
    """What a step in the ledger did."""

    SHELVED = "shelved"
    CUT = "cut"
    RESERVED = "reserved"
    RELEASED = "released"
    CONFIRMED = "confirmed"
    USED = "used"
    CORRECTED = "corrected"
    MOVED = "moved"
    DISCARDED = "discarded"
    OPENED = "opened"
    TESTED = "tested"
    WANTED = "wanted"
    SURVEYED = "surveyed"
    PLANNED = "planned"
    FITTED = "fitted"
    TREATED = "treated"
    UNDONE = "undone"
    REDONE = "redone"


@dataclass(frozen=True, slots=True)
class Photo:
    """One original in the archive. ``sha256`` names the file; it is never rewritten."""

    sha256: str
    name: str
    """The file's name when it came in, shown to the user and never used as a path."""
    width: int
    height: int
    """Pixels of the upright photograph."""
    suffix: str
    """``.jpg``, ``.png``, ``.tif`` …"""


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
class Step:
    """One ledger group: what the binder did in one go."""

    number: int
    at: datetime
    verb: Verb
    name: str
    """``Cut spine strip 58 × 228 mm for vol. 4 from C-0042``."""
    codes: tuple[str, ...]
    """The pieces and lots it touched."""
    undoes: int | None = None
    """The step that this one took back or did again."""
    standing: bool = True
    """False once the step has been taken back."""


@dataclass(frozen=True, slots=True)
class Changes:
    """What a verb of the stockroom changed; every open window decides from it what to repaint."""

    step: Step
    touched: Mapping[str, frozenset[int]] = field(default_factory=dict)
    """Table name (``piece``, ``adhesive_lot`` …) to the ids added, changed or removed."""
    born: tuple[str, ...] = ()
    """Codes of the pieces, lots and wants that came into being, in order."""
    notice: str = ""
    """What the user should know beside it: that the clock went backwards, said once."""


@dataclass(frozen=True, slots=True)
class Soundness:
    """What a check of the whole stockroom found."""

    faults: tuple[str, ...]
    """One sentence for each thing that is wrong; none where all is well."""
    orphans: tuple[str, ...] = ()
    """Files in the photo archive that no photograph of the stockroom names. They do no harm."""
    pieces: int = 0
    photos: int = 0
    steps: int = 0
    """How much was looked at."""

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults
