"""How much of a worn corner its patch covers.

A corner wears as a right-angled triangle, its legs along the edges of the board (common practice,
no source). Distances are mm, measured along the edges of the patch from its own outer corner.
"""

from math import sqrt


def covered_by_square(wear: float, turned: float, side: float, off_tip: float) -> float:
    """The share of the wear, 0 to 1, that a square patch covers once it is mitred.

    ``turned`` is what goes over each edge, and the mitre passes the tip of the board at a distance
    of ``off_tip``; below nothing it cuts into the wear.
    """
    short = min(max(wear - (side - turned), 0.0), wear)
    bare = 2.0 * short**2 - max(2.0 * short - wear, 0.0) ** 2
    return _share(wear, max(wear**2 - bare, 0.0) - _mitred(wear, off_tip))


def covered_by_triangle(wear: float, turned: float, leg: float, off_tip: float) -> float:
    """The share of the wear, 0 to 1, that a right-angled triangle covers once it is mitred.

    Its right angle lies out beyond the tip of the board; arguments as for the square.
    """
    reach = min(max(leg - 2.0 * turned, 0.0), wear)
    return _share(wear, reach**2 - _mitred(wear, off_tip))


def _mitred(wear: float, off_tip: float) -> float:
    """Twice the area of the wear that the mitre takes."""
    return min(max(-off_tip, 0.0) * sqrt(2.0), wear) ** 2


def _share(wear: float, doubled: float) -> float:
    return min(max(doubled, 0.0) / wear**2, 1.0)
