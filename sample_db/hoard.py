"""The kinds of thing a scenario is made of: pieces, happenings, volumes, tins."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from bindery_stock.stock import Measure, Stage, View
from bindery_stock.trade import Evidence, Use
from bindery_stock.trade.care import NOTHING_AGREED, CarePlan
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind
from sample_db.render import MAT, Lab, Light, Mark, Photograph, Ring, Sitting, Stuff
from sample_db.volumes import SetVolume


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
    colour_family: str = ""
    """Its family judged by eye where it is least faded; empty where not judged."""
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


@dataclass(frozen=True, kw_only=True)
class Test:
    """Something established of a piece or a tin, so many days ago."""

    key: str
    name: str
    value: float | str | bool
    evidence: Evidence
    ago: int
    method: str = ""
    by: str = ""


@dataclass(frozen=True, kw_only=True)
class Laboratory:
    """What a laboratory found, or did not find, in a piece."""

    key: str
    substance: str
    found: bool
    ago: int
    laboratory: str
    method: str


@dataclass(frozen=True, kw_only=True)
class Take:
    """Something taken from a tin; a reason where it was barred and taken all the same."""

    key: str
    use: Use
    purpose: str
    amount: float | None = None
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class Finish:
    """A tin used up or thrown away."""

    key: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Want:
    """A line of the wanted list."""

    what: str
    purpose: str = ""
    width: float | None = None
    height: float | None = None
    lab: Lab | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Keep:
    """The least to keep at hand of a kind."""

    kind: str
    least: float
    unit: Measure


@dataclass(frozen=True, kw_only=True)
class Shoot:
    """A photograph of a volume of the set, taken while it is on the bench."""

    volume: int
    shows: View
    stage: Stage
    draw: Callable[[Sitting], Photograph]
    wide: bool = True
    """Whether the picture is twice as wide as high, as a back that lies on its side wants."""


@dataclass(frozen=True, kw_only=True)
class Work:
    """One thing done to a volume of the set, and how it can be undone."""

    volume: int
    what: str
    undo: str
    hours: float
    key: str = ""
    """The piece it was done with."""
    tin: str = ""
    amount: str = ""
    fits: tuple[str, ...] = ()
    """Names of the cut parts that are in the book with it."""
    reason: str = ""
    """Why it was done although a rule speaks against it."""


@dataclass(frozen=True, kw_only=True)
class Close:
    """A volume of the set done with; parts that were not wanted after all are left out."""

    volume: int
    note: str


Happening = (
    Cut
    | Reserve
    | Discard
    | Move
    | Correct
    | Test
    | Laboratory
    | Take
    | Finish
    | Want
    | Keep
    | Shoot
    | Work
    | Close
)


@dataclass(frozen=True, kw_only=True)
class Found:
    """How a volume of the set was found, in the binder's words and photographs."""

    owner: str
    condition: str
    hours_estimated: float
    shots: tuple[Shoot, ...] = ()
    shelfmark: str = ""
    former_repairs: str = ""
    care: CarePlan = NOTHING_AGREED


@dataclass(frozen=True, kw_only=True)
class Tin:
    """A lot of adhesive, its dates counted in days before the day of the sample."""

    key: str
    """Our own name for it within the scenario."""
    kind: str
    name: str
    supplier: str = ""
    bought: int | None = None
    opened: int | None = None
    made: int | None = None
    expires: int | None = None
    made_from: tuple[str, ...] = ()
    """Keys of the tins it was mixed from."""
    quantity: str = ""
    unit: Measure | None = None
    held: float | None = None
    left: float | None = None
    place: str = ""
    storage: str = "room"
    frozen_once: bool = False
    ph: float | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Scenario:
    """Everything from which a sample stockroom is built."""

    items: tuple[Item, ...]
    happenings: tuple[Happening, ...] = ()
    tins: tuple[Tin, ...] = ()
    volumes: tuple[SetVolume, ...] = ()
    """The set on the bench, surveyed before anything is done."""
    found: Mapping[int, Found] = field(default_factory=dict)
    """What was written and photographed of some of its volumes, by their numbers."""
    afterwards: tuple[Happening, ...] = ()
    """What was done after the tins were entered."""
