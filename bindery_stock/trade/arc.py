"""The back of a book as a circular segment: how long it is round the curve.

Half the chord, the radius less the rise, and the radius make a right triangle, so
R = C²/(8 r) + r/2 and the angle at the centre is 4 atan(2 r / C) (elementary geometry).
"""

import math
from dataclasses import dataclass

from bindery_stock.errors import EntryError


@dataclass(frozen=True, slots=True)
class Arc:
    """A rounded or flat back.

    ``chord`` is the straight distance between the shoulders and ``rise`` the height of the back
    above it, both in mm. Raises ``EntryError`` where they make no back: a rise of more than half
    the chord is over-round.
    """

    chord: float
    rise: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what is no back."""
        if not (math.isfinite(self.chord) and self.chord > 0):
            raise EntryError("Spine width", "Spine width: must be more than zero.")
        if not (math.isfinite(self.rise) and self.rise >= 0):
            raise EntryError("Rise", "Rise: must be zero for a flat back, or more.")
        if self.rise > self.chord / 2:
            raise EntryError(
                "Rise",
                f"Rise: {self.rise:g} mm is more than half the spine width of {self.chord:g} mm; "
                "measure both again.",
            )

    @property
    def radius(self) -> float:
        """Radius in mm; infinite for a flat back."""
        if self.rise == 0:
            return math.inf
        return self.chord**2 / (8 * self.rise) + self.rise / 2

    @property
    def angle(self) -> float:
        """Angle at the centre in radians; 0 for a flat back, π for a half-round one."""
        return 4 * math.atan(2 * self.rise / self.chord)

    @property
    def length(self) -> float:
        """Length round the back in mm, joint to joint."""
        steepness = 2 * self.rise / self.chord
        if steepness == 0:
            return self.chord
        # Radius times angle, written so that a rise near nothing does not divide by it. The angle
        # goes over the steepness first: both may be so small that their products are rounded away.
        return self.chord * ((1 + steepness**2) * (math.atan(steepness) / steepness))

    def growth(self, thickness: float) -> float:
        """What ``thickness`` mm of linings on the outside add to the length."""
        return self.angle * thickness
