"""A target or a grey card found in a photograph by itself, and what is said of it.

A target whose fit agrees stands marked until it is left out; one that may be a target is asked
about; a grey card is only offered: much that is flat and grey is none.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.bench.colour_room.target_fit import TargetFit, judge
from bindery_stock.colour import FoundTarget, PhotoVerdict, Reference, find_neutral, find_target
from bindery_stock.errors import ColourError
from bindery_stock.shape import Ring

_ANSWERS = "Enter keeps it, Esc leaves it out; drag its corners to put it right."
_ASKED = "Is this the target? Enter marks it, Esc says that it is none."
_OFFERED = "This may be a grey card. K marks it as the card, Esc says that it is none."


@dataclass(frozen=True, slots=True)
class FoundReference:
    """What was found: a target or a card, in pixels of the upright photograph."""

    corners: Ring = ()
    """The centres of a target's corner patches, once round from patch 1; or nothing."""
    card: Ring = ()
    """Within a grey card; or nothing."""
    fit: TargetFit | None = None
    """How well the target corrects, where it was sure enough to be tried."""
    refused: str = ""
    """Why it could not be tried."""

    @property
    def stands(self) -> bool:
        """Whether it is taken until it is left out: its colours and its fit agree."""
        return self.fit is not None and self.fit.report.verdict is not PhotoVerdict.RETAKE

    def told(self, words: str) -> str:
        """What a step says, with what was found beside it; a card is offered at its place alone."""
        if self.card:
            return words
        return f"{words}. {'Target found by itself' if self.stands else 'Is there a target?'}"

    @property
    def keep(self) -> str:
        """The answer that takes it, with its key."""
        if self.card:
            return "It is the card  (K)"
        return "Keep it  (Enter)" if self.stands else "It is the target  (Enter)"

    @property
    def leave(self) -> str:
        """The answer that does not, with its key."""
        return "Leave it out  (Esc)" if self.stands else "It is none  (Esc)"

    @property
    def words(self) -> str:
        """What it is, and the keys that answer."""
        if self.card:
            return _OFFERED
        if self.fit is None:
            return f"{self.refused} {_ASKED}".strip()
        error = f"(left-out ΔE00 {self.fit.report.mean:.1f})"
        if self.stands:
            return f"Found a target; the fit agrees {error}. {_ANSWERS}"
        return f"The fit is poor {error}. {_ASKED}"


def look_for(
    photo: Path,
    reference: Reference,
    *,
    tried: Sequence[Ring] = (),
    card: bool,
    check: Callable[[], None],
) -> FoundReference | None:
    """Look for a target in a photograph and, with ``card``, for a grey card where there is none.

    ``tried`` are corners, once round from patch 1, that are looked at first: where the target lay
    in the photograph before. ``check`` is called often and ends the search by raising. None where
    nothing was found. Raises ``PhotoError`` where the file cannot be read.
    """
    places = [(a, b, d, c) for a, b, c, d in tried]
    found = find_target(photo, reference, tried=places, check=check)
    check()
    if found is not None:
        return _judged(photo, found, reference)
    neutral = find_neutral(photo) if card else None
    return FoundReference(card=tuple(neutral.polygon)) if neutral is not None else None


def _judged(photo: Path, found: FoundTarget, reference: Reference) -> FoundReference:
    first, sixth, nineteenth, last = found.target.corners
    corners = (first, sixth, last, nineteenth)
    if not found.sure:
        return FoundReference(corners)
    try:
        return FoundReference(corners, fit=judge(photo, corners, reference))
    except ColourError as error:
        return FoundReference(corners, refused=str(error))
