"""What one scrap more would buy: a part that waits, and with it perhaps a whole volume."""

import math
from collections.abc import Collection
from dataclasses import dataclass

from bindery_stock.colour import family
from bindery_stock.matching.plan import Plan
from bindery_stock.matching.prices import Prices
from bindery_stock.matching.values import Part

_HAIR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class OneMore:
    """A scrap to look for. Lengths in mm, its margin included."""

    width: float
    height: float
    part: Part
    finishes: str
    """The volume that nothing else is missing for, or empty."""
    worth: float
    """What it would take off the sum at most, in ΔE00 of a fully seen spine."""

    @property
    def sentence(self) -> str:
        """``A red rib piece of 60 × 250 mm would serve spine, vol. 12, and finish its volume.``

        Whole millimetres, never less than is needed.
        """
        part = self.part
        colour = family(part.lab) if part.lab else ""
        kind = "plain cotton" if part.plain else part.pattern or (part.kind or "")
        words = " ".join(word for word in (colour, kind, "piece") if word)
        article = "An" if words[0] in "aeiou" else "A"
        across, along = (math.ceil(length - _HAIR_MM) for length in (self.width, self.height))
        does = f"serve {part.name or 'one part'}"
        does += ", and finish its volume" if self.finishes else ""
        return f"{article} {words} of {across} × {along} mm would {does}."


def one_more(plan: Plan, prices: Prices, lacking: Collection[str] = ()) -> tuple[OneMore, ...]:
    """For each part that waits the scrap that would serve it; what is worth most comes first.

    ``lacking`` are volumes that lack more than the plan was asked for: no scrap finishes them.
    """
    waiting = [left.part for left in plan.unplaced if left.part.visibility > 0]
    out = [part.volume for part in waiting if part.shown and part.volume]
    found = []
    for part in waiting:
        last = part.shown and out.count(part.volume) == 1 and part.volume not in lacking
        worth = prices.left_out * part.visibility + (prices.volume if last else 0.0)
        around = 2 * part.margin
        size = (part.width + around, part.height + around)
        found.append(OneMore(*size, part, part.volume if last else "", worth))
    return tuple(sorted(found, key=lambda scrap: -scrap.worth))
