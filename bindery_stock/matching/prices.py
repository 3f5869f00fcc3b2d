"""What a sharing-out counts, as prices in ΔE00 of a fully seen spine: our own choice."""

import math
from dataclasses import dataclass, fields

from bindery_stock.errors import EntryError

LEFT_OUT = 60.0
"""What leaving a fully visible part out costs, in ΔE00; one of which less is seen costs less. More
than any shade that a binder would still cut, so that serving a part comes before its shade."""

_WORDS = {
    "left_out": "a part left out",
    "volume": "a volume that is not finished",
    "lot": "a piece more for one volume",
    "cloth": "whole cloth lost",
    "jump": "a jump on the shelf",
}


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in ΔE00. Raises ``EntryError`` for one that is below nothing."""

    left_out: float = LEFT_OUT
    """For each part left out, times its visibility."""
    volume: float = 4.0
    """For each volume with a shown part left out."""
    lot: float = 0.5
    """For each piece that like-coloured shown parts of one volume are cut from."""
    cloth: float = 0.2
    """For each 10,000 mm² of a piece's largest usable rectangle lost."""
    jump: float = 0.25
    """For each ΔE00 between the cloth of two spines side by side on the shelf: this much shade is
    given up for it at most."""

    def __post_init__(self) -> None:
        """Refuse what is no price."""
        for field in fields(self):
            value = getattr(self, field.name)
            if not (math.isfinite(value) and value >= 0):
                raise EntryError(
                    "Prices", f"The price of {_WORDS[field.name]} is {value:g}. Give zero or more."
                )
