"""A volume on the bench: its measurements, and the damage ticked in the trade's terms.

All lengths are millimetres. What was not measured is ``None`` and is worked out from what was, or
asked for.
"""

import math
from dataclasses import dataclass, fields
from enum import StrEnum

from bindery_stock.errors import EntryError


class Harm(StrEnum):
    """What is wrong with a book."""

    JOINTS_SPLIT = "joints split"
    SPINE_LOST = "spine cloth lost"
    HEAD_LOST = "spine cloth lost at head"
    TAIL_LOST = "spine cloth lost at tail"
    HOLE = "hole in the cloth"
    CORNERS_BARE = "bare corners"
    JOINT_CRACKED = "outer joint cracked"
    JOINT_TENDER = "outer joint tender"
    HINGE_CRACKED = "inner hinge cracked"
    HINGE_BROKEN = "inner hinge broken"
    MULL_FAILED = "mull failed"
    BLOCK_DETACHED = "text block detached"
    WRONG_GLUE = "old wrong glue on the spine"
    SECTIONS_LOOSE = "sections loose or proud"
    SEWING_BROKEN = "sewing broken"
    LEAF_TORN = "leaf torn"
    FOLD_SPLIT = "spine fold split"
    PASTEDOWN_LIFTED = "pastedown lifted"
    ENDPAPERS_LOST = "endpapers lost"
    ENDPAPER_LOST = "endpapers lost at one end"
    FLYLEAF_LOST = "flyleaf lost"
    BOARDS_LOST = "boards lost"
    CASE_LOST = "case lost"
    BOARD_DETACHED = "board detached"
    SPINE_DETACHED = "spine detached but present"
    SPINE_COCKED = "spine cocked"
    HOLLOW_LOST = "hollow lost"
    BLOCK_LOOSE = "text block loose, endpapers whole"
    CORNER_SOFT = "corner soft or split"
    EDGES_WORN = "board edges worn"
    CLOTH_LIFTED = "cloth lifted or blistered"
    HEADBAND_LOST = "headband lost"
    LEAF_LOOSE = "leaf or plate loose"
    OLD_TAPE = "old tape"


REBACKED = frozenset({Harm.JOINTS_SPLIT, Harm.SPINE_LOST, Harm.SPINE_DETACHED, Harm.BOARD_DETACHED})
"""Harm that takes a whole new strip down the spine."""
RELINED = frozenset({Harm.MULL_FAILED, Harm.BLOCK_DETACHED, Harm.WRONG_GLUE, Harm.SEWING_BROKEN})
"""Harm that takes new linings on the spine."""


class Reback(StrEnum):
    """How a spine is renewed."""

    INSIDE = "new cloth under the old"
    OUTSIDE = "new cloth over or against the old"
    REMOUNTED = "old spine remounted on new cloth"


class Hollow(StrEnum):
    """How the hollow is made."""

    NONE = "none"
    SIMPLE = "simple tube"
    THREE = "one on, two off"
    FOUR = "two on, two off"
    THREE_AND_HALF = "three and a half widths"


class Covering(StrEnum):
    """How a new case is covered."""

    FULL = "full cloth"
    QUARTER = "quarter cloth"


_NEEDS_EXTENT = {
    Harm.HEAD_LOST: "how much is lost along the spine",
    Harm.TAIL_LOST: "how much is lost along the spine",
    Harm.HOLE: "how high the hole is",
    Harm.CORNERS_BARE: "how far the corners are worn",
    Harm.LEAF_TORN: "how long the tear is",
    Harm.PASTEDOWN_LIFTED: "how high the lifted place is",
    Harm.EDGES_WORN: "how long the worn place is",
    Harm.OLD_TAPE: "how long the tape is",
}
_NEEDS_ACROSS = {
    Harm.HOLE: "how wide the hole is",
    Harm.PASTEDOWN_LIFTED: "how wide the lifted place is",
}


@dataclass(frozen=True, slots=True)
class Damage:
    """One tick: what is wrong, at how many places, and how far.

    ``extent`` lies along the spine and ``across`` at right angles to it, both in mm.
    """

    harm: Harm
    count: int = 1
    extent: float | None = None
    across: float | None = None

    def __post_init__(self) -> None:
        """Refuse a tick that says too little to cut by."""
        if self.count < 1:
            raise EntryError("Count", f"{self.harm.value}: the count must be 1 or more.")
        for value in (self.extent, self.across):
            if value is not None and not (math.isfinite(value) and value > 0):
                raise EntryError("Extent", f"{self.harm.value}: must be more than zero.")
        if self.harm in _NEEDS_EXTENT and self.extent is None:
            raise EntryError("Extent", f"{self.harm.value}: measure {_NEEDS_EXTENT[self.harm]}.")
        if self.harm in _NEEDS_ACROSS and self.across is None:
            raise EntryError("Across", f"{self.harm.value}: measure {_NEEDS_ACROSS[self.harm]}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """The measurements of one volume and what is wrong with it.

    Raises ``EntryError`` naming the measurement that cannot be.
    """

    spine_width: float
    """Chord: straight across the back between the shoulders."""
    joint: float | None = None
    """Shoulder to back edge of the board, one side; ``None`` takes the allowance."""
    rise: float = 0.0
    """Height of the back above its chord; 0 for a flat back."""
    arc: float | None = None
    """Measured round the back with a strip of paper."""
    over_linings: bool = False
    """Whether the back was measured with its new linings on."""
    board_height: float | None = None
    board_width: float | None = None
    board_thickness: float | None = None
    leaf_height: float | None = None
    leaf_width: float | None = None
    lift: float | None = None
    """How far the old cloth lifts from the board."""
    damage: tuple[Damage, ...] = ()
    old_spine: bool = True
    """Whether the old spine piece survives and is laid back."""
    reback: Reback = Reback.INSIDE
    hollow: Hollow = Hollow.THREE
    covering: Covering = Covering.FULL
    folio: bool = False
    brittle: bool = False
    like_volume: bool = False
    """The second or a later volume of a like batch."""

    def __post_init__(self) -> None:
        """Refuse measurements that cannot be."""
        for spec in fields(self):
            value = getattr(self, spec.name)
            if isinstance(value, bool) or not isinstance(value, int | float):
                continue
            least_zero = spec.name in {"rise", "joint"}
            if not math.isfinite(value) or value < 0 or (value == 0 and not least_zero):
                words = spec.name.replace("_", " ").capitalize()
                raise EntryError(words, f"{words}: {value:g} mm cannot be; measure it again.")
        if self.board_height is None and self.leaf_height is None:
            raise EntryError("Height", "Height: measure the boards, or the leaves.")

    def ticked(self, harm: Harm) -> tuple[Damage, ...]:
        """Every tick of that harm."""
        return tuple(damage for damage in self.damage if damage.harm is harm)

    @property
    def relined(self) -> bool:
        """Whether the repair puts new linings on the spine."""
        return any(damage.harm in RELINED for damage in self.damage)
