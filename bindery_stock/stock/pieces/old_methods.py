"""What vouches for readings kept before that was kept with them, told from the words then written.

Only the words that earlier versions of the program wrote are known; others were typed by hand.
"""

import math
import re

from bindery_stock.colour import ReadBy

_WRITTEN = (
    ("24-patch target", ReadBy.TARGET),
    ("one neutral patch", ReadBy.CARD),
    ("bare photograph", ReadBy.SEEN),
    ("white paper", ReadBy.SEEN),
    ("instrument reading", ReadBy.INSTRUMENT),
    ("typed in from an instrument", ReadBy.INSTRUMENT),
)
_SEVERAL_GREYS = re.compile(r"\d+ neutral patches")
_LENT = "from another photograph of the sitting"
_CARD_THEN, _CARD_NOW = 18.0, 14.0
"""ΔE00: the part of a band that was the grey card's, and what it deserves."""


def read_by_of(method: str) -> ReadBy:
    """What vouches for a reading of this method."""
    if method.startswith("24-patch target") and _LENT in method:
        return ReadBy.LENT
    if _SEVERAL_GREYS.match(method):
        return ReadBy.CARD
    return next((way for start, way in _WRITTEN if method.startswith(start)), ReadBy.STATED)


def deserved(read_by: ReadBy, u: float | None) -> float | None:
    """The band (ΔE00) that a reading kept with band ``u`` deserves: none where it was only seen,
    by a card the card's of today with the cloth's own; the others were wide enough and stay."""
    if read_by is ReadBy.SEEN or u is None:
        return None
    if read_by is not ReadBy.CARD:
        return u
    own = max(u**2 - _CARD_THEN**2, 0.0)
    return math.sqrt(own + _CARD_NOW**2)
