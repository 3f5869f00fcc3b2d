"""The kinds of thing a scenario is made of: pieces, happenings, volumes, tins."""

from dataclasses import dataclass, field

from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind
from sample_db.render import MAT, Light, Mark, Ring, Stuff


@dataclass(frozen=True, kw_only=True)
class Item:
    """A piece of the sample as it comes to the bench, and how it is photographed."""

    key: str
    """Our own name for it within the scenario."""
    kind: Kind
    stuff: Stuff
    ring: Ring
    """Its outline in mm, y up the warp."""
    holes: tuple[Ring, ...] = ()
    marks: tuple[Mark, ...] = ()
    form: Form = Form.SCRAP
    pattern: str = ""
    backing: Backing = Backing.UNKNOWN
    fibre: Fibre = Fibre.UNKNOWN
    source: str = ""
    source_date: str = ""
    place: str = ""
    note: str = ""
    price: str = ""
    frayed: float = 0.5
    turn: float = 0.0
    """How it lies on the mat, degrees counter-clockwise."""
    ground: str = MAT
    light: Light = field(default_factory=Light)
    swatch: bool = False
    """True for a roll too long to photograph: only a corner of it is shown."""
    coloured: bool = True
    """False where the ground shows through, so that no colour can be read."""
    turn_ins: float = 0.0
    """Width of the turn-ins, sheltered from light, at which a second reading is taken; mm."""
    sideways: bool = False
    """True where the camera stored the picture turned."""


@dataclass(frozen=True, kw_only=True)
class Cut:
    """A part cut from a piece. Its offcuts become known as ``key/1``, ``key/2`` …"""

    key: str
    purpose: str
    width: float
    height: float
    taken_back: bool = False
    """True where the cut was undone straight afterwards."""


@dataclass(frozen=True, kw_only=True)
class Reserve:
    """A part spoken for, placed in the piece."""

    key: str
    purpose: str
    width: float
    height: float


@dataclass(frozen=True, kw_only=True)
class Discard:
    """A piece thrown away, with the reason."""

    key: str
    reason: str


@dataclass(frozen=True, kw_only=True)
class Move:
    """Pieces put elsewhere."""

    keys: tuple[str, ...]
    place: str


@dataclass(frozen=True, kw_only=True)
class Correct:
    """Something about a piece put right."""

    key: str
    field: str
    value: str


Happening = Cut | Reserve | Discard | Move | Correct


@dataclass(frozen=True, kw_only=True)
class Tin:
    """A lot of adhesive, its dates counted in days before the day of the sample."""

    kind: str
    name: str
    supplier: str = ""
    bought: int | None = None
    opened: int | None = None
    made: int | None = None
    expires: int | None = None
    quantity: str = ""
    place: str = ""
    storage: str = "room"
    frozen_once: bool = False
    ph: float | None = None
    note: str = ""
    finished: bool = False


@dataclass(frozen=True, kw_only=True)
class Scenario:
    """Everything from which a sample stockroom is built."""

    items: tuple[Item, ...]
    happenings: tuple[Happening, ...] = ()
    tins: tuple[Tin, ...] = ()
