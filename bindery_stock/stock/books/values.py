"""The plain values of the volumes on the bench: sets, repairs, parts and what was done to them.

All lengths are millimetres; a part's width lies across the spine and its height along it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from bindery_stock.colour import ReadBy
from bindery_stock.shape import Ring
from bindery_stock.stock.books.kept_shade import KeptShade
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.pieces.values import Colour, Lab
from bindery_stock.trade import LabResult, Survey, Zone
from bindery_stock.trade.care import NOTHING_AGREED, CarePlan
from bindery_stock.trade.description import NOT_DESCRIBED, Description
from bindery_stock.trade.vocabulary import Kind

Shared = float | bool | str


class RepairState(StrEnum):
    """Where a repair stands."""

    SURVEYED = "surveyed"
    ON_BENCH = "on the bench"
    DONE = "done"


class PartState(StrEnum):
    """Where a part stands, from being wanted to being in the book."""

    WANTED = "waiting"
    RESERVED = "reserved"
    CUT = "cut"
    FITTED = "fitted"
    NOTHING_SERVES = "nothing serves"
    LEFT_OUT = "left out"


class View(StrEnum):
    """What a photograph of a volume shows."""

    WHOLE = "the whole volume"
    SPINE = "spine"
    FRONT = "front board"
    BACK = "back board"
    INSIDE = "inside"
    DAMAGE = "damage"


class Stage(StrEnum):
    """When in the repair a photograph was taken."""

    BEFORE = "before"
    DURING = "during"
    AFTER = "after"


class BookSpot(StrEnum):
    """A place of a volume where new cloth is to match the old."""

    SPINE = "spine"
    JOINTS = "joints"
    BOARDS = "boards"
    CORNERS = "corners"
    LEAVES = "leaves"


@dataclass(frozen=True, slots=True)
class BookPhoto:
    """A photograph of a volume: what it shows, and when it was taken."""

    photo: Photo
    shows: View = View.WHOLE
    stage: Stage = Stage.BEFORE


@dataclass(frozen=True, slots=True)
class ColourSought:
    """The colour that new cloth is to match at one place of a volume."""

    spot: BookSpot
    colour: Colour


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBookSet:
    """Volumes in uniform binding."""

    title: str
    author: str = ""
    note: str = ""
    pattern: str = ""
    """Grain pattern of its cloth."""
    owner: str = ""
    colour_family: str = ""
    """Colour of the covering as a word of the rules; empty: not said, or not all alike."""
    dated: str = ""
    """When it was bound, as written."""
    description: Description = NOT_DESCRIBED
    """What its volumes have in common as copies, and of their binding."""
    shared: Mapping[str, Shared] = field(default_factory=dict)
    """Measurements and habits its volumes have in common, by the fields of ``trade.Survey``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookSet(NewBookSet):
    """A set as it is known."""

    id: int
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRepair:
    """One volume as it came to the bench."""

    name: str
    """What the binder calls it, no two alike: ``Hollin Vale vol. 4``."""
    survey: Survey
    title: str = ""
    author: str = ""
    owner: str = ""
    book_set: str | None = None
    """Code of its set."""
    volume: int | None = None
    """Its number in the set."""
    pattern: str = ""
    """Grain pattern of its cloth."""
    tolerance: float | None = None
    """The greatest ΔE00 that will do where cloth is seen, or nothing where the closest will."""
    hours_estimated: float | None = None
    """The binder's own estimate; nothing leaves it to the rules."""
    state: RepairState = RepairState.SURVEYED
    condition: str = ""
    """How it was found, in the binder's words."""
    colour_family: str = ""
    """Colour of the covering as a word of the rules, ticked by the binder; empty: not said."""
    dated: str = ""
    """When it was bound, as written: ``c. 1868``."""
    lab_results: tuple[LabResult, ...] = ()
    """What a laboratory found, or did not find, in the covering."""
    description: Description = NOT_DESCRIBED
    """Imprint, shelfmark, binding and former repairs."""
    care: CarePlan = NOTHING_AGREED
    """What was examined, weighed and agreed."""
    note: str = ""
    photos: tuple[BookPhoto, ...] = ()
    targets: tuple[ColourSought, ...] = ()

    def target(self, *spots: BookSpot) -> Colour | None:
        """The colour sought at the first of these places that was read, or nothing."""
        for spot in spots:
            for target in self.targets:
                if target.spot is spot:
                    return target.colour
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair(NewRepair):
    """A repair as it stands."""

    id: int
    code: str
    hours_spent: float
    """All hours of its treatment together."""
    begun: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPart:
    """One thing to cut for a repair; of four corner patches each is one."""

    role: str
    """``trade.Role``, as text."""
    name: str
    number: int = 1
    of: int = 1
    """The first of four is number 1 of 4."""
    layer: str = ""
    """Empty, or which layer of a part cut from two cloths: ``band`` or ``beneath``."""
    width: float
    height: float
    kind: Kind
    material: str = ""
    pattern: str = ""
    turns: tuple[float, ...]
    zones: tuple[Zone, ...]
    estimated: bool = False
    """Whether the back must be measured again before it is cut."""
    lab: Lab | None = None
    u: float | None = None
    read_by: ReadBy = ReadBy.STATED
    """What vouches for the colour sought."""
    tolerance: float | None = None
    width_sum: str = ""
    height_sum: str = ""
    sum_lines: tuple[str, ...] = ()
    """The sums that made the size, and a line for each allowance with its source."""
    adhesives: tuple[str, ...] = ()
    note: str = ""

    @property
    def key(self) -> tuple[str, str, int]:
        """What tells a part from the others of its repair."""
        return (self.role, self.layer, self.number)

    @property
    def words(self) -> str:
        """``corner patch 2 of 4``."""
        return f"{self.name} {self.number} of {self.of}" if self.of > 1 else self.name

    @property
    def shown(self) -> bool:
        """Whether any of it is seen on the finished book."""
        return any(zone[0] == "shown" for zone in self.zones)


@dataclass(frozen=True, slots=True, kw_only=True)
class BookPart(NewPart):
    """A part of a repair as it stands."""

    id: int
    repair: str
    """Code of the repair."""
    purpose: str
    """What a piece is kept and cut for: ``reback strip, Hollin Vale vol. 4``."""
    state: PartState
    piece: str = ""
    """Code of the piece it is reserved in, or was cut from."""
    corners: Ring = ()
    """How it is to lie in that piece, or lay in it when it was cut, mm."""
    shade: KeptShade | None = None
    """How far its cloth was from the colour sought when chosen, where both were measured."""

    @property
    def delta_e(self) -> float | None:
        """ΔE00 of that."""
        return None if self.shade is None else self.shade.delta_e


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPlacement:
    """A part laid in a piece: one choice of a plan."""

    part: int
    code: str
    corners: Ring
    shade: KeptShade | None = None
    """How far that cloth is from the colour sought, where both were measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTreatment:
    """One thing done to a volume, for the record of its treatment."""

    what: str
    """In the binder's words: ``Laid the new strip under the lifted cloth``."""
    undo: str = ""
    """How it can be undone: ``warm water, lifted from the joint``."""
    hours: float = 0.0
    part: int | None = None
    piece: str | None = None
    """Code of the piece it was cut from."""
    lot: str | None = None
    """Code of the adhesive lot."""
    amount: str = ""
    override: str = ""
    """The reason written where a ruling was against it."""
    on: date | None = None
    """The day it was done, where that is past; None for today."""
    wet: bool | None = None
    """Whether water, paste or a damp poultice came to it; None: as the lot is, else the words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment(NewTreatment):
    """One line of the treatment of a volume."""

    id: int
    repair: str
    at: datetime
