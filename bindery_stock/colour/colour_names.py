"""A colour's name after the ISCC–NBS system, level 3: the name block whose middle is nearest.

The 267 names divide the Munsell solid into blocks; here the nearest of their centroids by ΔE00
stands for the block, so near a border the neighbour's name may appear. Names keep the spelling in
which they were published.

Source: K. L. Kelly, "Central Notations for the Revised ISCC-NBS Color-Name Blocks", J. Res. Natl.
Bur. Stand. 61(5), 1958, 427-431 (Munsell notations; number 11 read as 5R 4/15, chroma 1.5 being a
slip in a circulating copy). Converted with colour-science 0.4 from the Munsell renotation
(illuminant C) and adapted to D50 by Bradford; the four blacks below value 1 keep the a*, b* of
value 1.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.published import table
from bindery_stock.colour.space import Lab, check_lab

CENTROIDS: Final[tuple[tuple[str, Lab], ...]] = tuple(
    (name, check_lab(lab)) for name, lab in table("colour_names.csv", "L", "a", "b", rows=267)
)
"""Name and centroid, CIELAB D50, in the order of the published numbers 1 to 267."""

_LABS: Final = np.array([lab for _, lab in CENTROIDS])


def colour_name(lab: ArrayLike) -> str:
    """``dark reddish brown``: the nearest of the 267 names.

    Raises ``ColourError`` for a colour out of range.
    """
    return CENTROIDS[int(np.argmin(delta_e00(check_lab(lab), _LABS)))][0]
