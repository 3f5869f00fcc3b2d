"""A match confirmed: book and scrap held side by side in one photograph, under one light."""

from dataclasses import dataclass
from datetime import datetime

from bindery_stock.colour import Confirmation as Seen
from bindery_stock.shape import Ring


@dataclass(frozen=True, slots=True, kw_only=True)
class NewConfirmation:
    """What one photograph of book and scrap said of a match."""

    purpose: str
    """What the piece is held against: ``spine strip, vol. 4``."""
    light: str
    """In the binder's words: overcast window, reading lamp."""
    delta_e: float
    """ΔE00 between the two."""
    u: float
    """Its 95 % band."""
    method: str = ""
    """What the photograph was corrected by, in words."""
    photo: str | None = None
    """SHA-256 of the photograph."""
    book_patches: tuple[Ring, ...] = ()
    """Where the book was read, upright photo pixels."""
    piece_patches: tuple[Ring, ...] = ()
    """Where the piece was read."""

    @property
    def seen(self) -> Seen:
        """Light, ΔE00 and band alone, to be held against another light."""
        return Seen(self.light, self.delta_e, self.u)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptConfirmation(NewConfirmation):
    """A confirmation as the stockroom keeps it."""

    id: int
    code: str
    """The piece."""
    at: datetime
