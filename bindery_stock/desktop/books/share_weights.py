"""What this machine remembers of how sharing out is weighed: the binder's prices, the last volumes.

The prices go for every set; the volumes to come for one set of one stock folder.
"""

import json
from dataclasses import dataclass

from bindery_stock.bench.books.share_prices import price_settings, priced
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.matching import Prices

_PRICES, _TO_COME = "books/share_prices", "books/volumes_to_come"


@dataclass(frozen=True, slots=True)
class ShareWeights:
    """How one sharing-out is weighed."""

    prices: Prices = Prices()  # noqa: RUF009 - frozen
    to_come: int = 0
    """Volumes of the set that are not surveyed yet."""
    spare: bool = False
    """Whether a spare strip is wanted, too."""


def kept_weights(session: Session, book_set: str | None) -> ShareWeights:
    """As they were kept last; prices that cannot be read are our own."""
    try:
        prices = priced(session.settings.text(_PRICES).split())
    except EntryError:  # the file was changed by hand
        prices = Prices()
    known = json.loads(session.settings.text(_TO_COME, "{}"))
    count, spare = known.get(_place(session, book_set), (0, False))
    return ShareWeights(prices, int(count), bool(spare))


def keep_weights(session: Session, book_set: str | None, weights: ShareWeights) -> None:
    """Remember them."""
    settings = session.settings
    settings.set_text(_PRICES, " ".join(price_settings(weights.prices)))
    known = json.loads(settings.text(_TO_COME, "{}"))
    known[_place(session, book_set)] = (weights.to_come, weights.spare)
    settings.set_text(_TO_COME, json.dumps(known))


def _place(session: Session, book_set: str | None) -> str:
    return f"{session.stockroom.folder} {book_set or ''}"
