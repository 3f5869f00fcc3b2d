"""Steps of the ledger, and what a step changed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Self


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
    undo: Step | None = None
    """The step that undo would take back now."""
    redo: Step | None = None
    """The step that redo would do again now."""

    @property
    def nothing(self) -> bool:
        """Whether nothing was changed; ``step.name`` then says why, and there is no such step."""
        return self.step.number == 0

    @classmethod
    def none(cls, why: str, verb: Verb, at: datetime) -> Self:
        """Nothing was changed, and why, in a sentence."""
        return cls(Step(number=0, at=at, verb=verb, name=why, codes=()))
