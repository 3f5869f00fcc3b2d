"""By what a colour became known, and what that lets one say of two colours."""

from enum import StrEnum


class ReadBy(StrEnum):
    """What vouches for a colour, best first; the words end a sentence."""

    INSTRUMENT = "by an instrument"
    TARGET = "by a target in the photograph"
    LENT = "by a target in another photograph of the sitting"
    CARD = "by a grey card"
    STATED = "as it was stated"
    """Typed, or taken in from a table: nothing is known of how it was read."""
    SEEN = "seen, not measured"
    """From a photograph without a reference. No band holds for it: own measurement, two
    photographs with the same spread of lights were off by 6 and by 33 in the mean."""

    @property
    def is_measured(self) -> bool:
        """Whether figures, an order and a ΔE00 may be given for it."""
        return self is not ReadBy.SEEN


_SHARE = 0.6
_MORE = {ReadBy.TARGET: 3.5, ReadBy.LENT: 5.5, ReadBy.CARD: 6.0}
"""ΔE00 beyond the best; see ``tie_limit``. LENT is TARGET with what a target lent adds within a
sitting (2.0)."""


def tie_limit(best: float, *read_by: ReadBy) -> float | None:
    """The greatest ΔE00 that cannot be told from the ``best``, of colours read by ``read_by``.

    The poorest of the ways counts. None where one of them was neither read by a target nor by a
    card: their bands decide then. Own measurement, the 5 photographs held back, 1,500 pools of a
    book and 3 to 12 cloths mixed of the target's patches: photographed by two cameras, the truly
    closest is within this limit in 92 to 97 of 100 pools.
    """
    if any(way not in _MORE for way in read_by):
        return None
    return best + max(_MORE[way] for way in read_by) + _SHARE * best
