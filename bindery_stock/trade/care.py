"""What is found out, weighed and agreed before a volume is treated, and asked of its owner after.

The contents are those that the American Institute for Conservation asks of an examination, a
proposal and a report (Commentaries to its *Guidelines for Practice*; published, read in excerpt).
"""

import math
from dataclasses import dataclass
from datetime import date

from bindery_stock.errors import EntryError
from bindery_stock.trade.damages import PlacedDamage

_MOST_HOURS = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CareOption:
    """One course that could be taken; leaving the volume as it is, is one too."""

    what: str
    """``Tighten the upper hinge and leave the rest``."""
    gain: str = ""
    """What speaks for it."""
    risk: str = ""
    """What may go wrong, and what is lost by it."""
    undo: str = ""
    """How far it can be undone."""
    hours: float | None = None
    """Working hours, drying left out; None where they were not estimated."""
    from_treatments: bool = False
    """Whether it was drawn up from the treatments chosen, and follows when others are."""

    def __post_init__(self) -> None:
        """Refuse an option without words, and hours that are none."""
        if not self.what.strip():
            raise EntryError("Options", "Options: say in a few words what would be done.")
        if self.hours is not None and not (
            math.isfinite(self.hours) and 0.0 <= self.hours <= _MOST_HOURS
        ):
            raise EntryError(
                "Options", f"Options: {self.hours:g} is no number of hours for “{self.what}”."
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentChoice:
    """What the binder chose for one damage."""

    treatment: str
    """A key of ``treatments.toml``."""
    proposed: str = ""
    """What was proposed on that day; empty where nothing was right."""
    reason: str = ""
    """Why another was chosen."""

    def __post_init__(self) -> None:
        """Refuse to go another way than was proposed without a reason."""
        if self.treatment != self.proposed and not self.reason.strip():
            raise EntryError("Reason", "Reason: say why another treatment is chosen.")


@dataclass(frozen=True, slots=True, kw_only=True)
class CarePlan:
    """Examination, options and agreement of one volume; empty where nothing was written."""

    examiner: str = ""
    examined_on: date | None = None
    aims: str = ""
    """What the treatment is for: what the volume is to bear, what of it is to stay."""
    options: tuple[CareOption, ...] = ()
    recommended: int | None = None
    """Which of the options is recommended, counted from 0."""
    recommendation: str = ""
    """Why that one."""
    risks: str = ""
    """Of the course recommended, as told to the owner."""
    aftercare: str = ""
    """How the volume is to be kept and handled afterwards."""
    consent: str = ""
    """Who consented, and how: ``E. Marsh, by letter``; spoken consent is noted as such."""
    consented_on: date | None = None
    damages: tuple[PlacedDamage, ...] = ()
    """Each with place and extent; empty where only the survey's ticks tell of damage."""
    choices: tuple[TreatmentChoice, ...] = ()
    """One for each damage, in their order; empty until the binder has chosen."""

    def __post_init__(self) -> None:
        """Refuse a recommendation of what is not among the options, and a choice for nothing."""
        if self.choices and len(self.choices) != len(self.damages):
            raise EntryError("Treatment", "Treatments: choose one for each damage.")
        if self.recommended is not None and not 0 <= self.recommended < len(self.options):
            raise EntryError("Recommended", "Recommended: choose one of the options.")

    @property
    def course(self) -> CareOption | None:
        """The option recommended, or None."""
        return None if self.recommended is None else self.options[self.recommended]

    @property
    def told(self) -> bool:
        """Whether anything was written."""
        return self != NOTHING_AGREED


NOTHING_AGREED = CarePlan()
