"""The plain values of adhesives: lots, what was taken from them, what is wanted or running low.

Dates are calendar dates at the bench. Sizes are millimetres, colours CIELAB (D50, 2° observer).
"""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from bindery_stock.trade import Property, Use


class Measure(StrEnum):
    """In what a quantity is counted."""

    GRAM = "g"
    MILLILITRE = "ml"
    SHARE = "share"
    """Of the whole tin, 0 to 1: ``about a third``."""
    AREA = "cm²"
    """Of cloth, paper, board … lying on the shelf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewAdhesiveLot:
    """One tin, jar or batch of adhesive."""

    kind: str
    """Key of the adhesive class, as in the rules: ``wheat-starch-paste``."""
    name: str
    """What the label says."""
    supplier: str = ""
    reference: str = ""
    """The supplier's batch or order number."""
    bought: date | None = None
    received: date | None = None
    opened: date | None = None
    made: date | None = None
    """Day cooked, mixed or diluted."""
    expires: date | None = None
    """The supplier's own date, where there is one."""
    made_from: tuple[str, ...] = ()
    """Codes of the lots it was mixed or diluted from."""
    quantity: str = ""
    """How much there is, in words, where it was not measured."""
    unit: Measure | None = None
    """In what ``held`` and ``left`` are counted."""
    held: float | None = None
    """How much there was at first."""
    left: float | None = None
    """How much is left."""
    place: str = ""
    storage: str = "room"
    """``room``, ``fridge`` or ``shed``."""
    frozen_once: bool = False
    ph: float | None = None
    properties: tuple[Property, ...] = ()
    """What was tested, stated or seen, oldest first."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdhesiveLot(NewAdhesiveLot):
    """A lot as it stands on the shelf."""

    id: int
    code: str
    finished: bool = False
    fate: str = ""
    """Why it is finished; empty while it stands on the shelf."""
    mixed_from: tuple["AdhesiveLot", ...] = ()
    """The lots of ``made_from`` as they stand now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLotUse:
    """Something to be taken from a lot."""

    use: Use
    purpose: str
    """What it is taken for: ``spine lining, vol. 4``."""
    amount: float | None = None
    """How much, in the lot's unit; None where it is not measured."""
    laid_on: str = ""
    """Code of the piece it is laid on, or of the one its part was cut from; or empty."""
    verdict: str = ""
    """What the rules say of this use on this day."""
    override_reason: str = ""
    """Why it is used although the rules speak against it; empty where they do not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotUse(NewLotUse):
    """Something taken from a lot."""

    id: int
    code: str
    """The lot it was taken from."""
    unit: Measure | None
    at: datetime


_SHARES = ((0.0, "none"), (0.25, "a quarter"), (1 / 3, "a third"), (0.5, "half"))
_MORE_SHARES = ((2 / 3, "two thirds"), (0.75, "three quarters"), (1.0, "all"))


def amount_words(amount: float, unit: Measure) -> str:
    """``120 g``, ``about a third``: a share is told by the fraction it is nearest to."""
    if unit is not Measure.SHARE:
        return f"{amount:,.0f} {unit}" if amount >= 10 else f"{amount:.3g} {unit}"
    share, words = min((*_SHARES, *_MORE_SHARES), key=lambda known: abs(known[0] - amount))
    return words if share in (0.0, 1.0) and share == amount else f"about {words}"
